"""`homefret devices` hears a guitar that is played into it by another program, through a real MIDI system."""

import json
import signal
import subprocess
import sys
import time
from contextlib import contextmanager

import pytest

from game.neck.tuning import STANDARD, Place
from tests.system.jack import end, jack_server
from tests.system.pickup import pickup, plucked

pytestmark = pytest.mark.system

NECK = [Place(string, fret) for fret in range(23) for string in range(1, 7)]


@pytest.fixture(scope="module")
def jack(tmp_path_factory):
    """The environment of a JACK server of our own."""
    with jack_server(tmp_path_factory.mktemp("jack")) as environment:
        yield environment


@contextmanager
def devices_watch(environment, *words):
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "devices", "--watch", *words],
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    try:
        yield process
    finally:
        end(process)


def ended(process, number=signal.SIGTERM):
    """Tell a process to end; what it wrote to standard output, and its exit status with standard error."""
    process.send_signal(number)
    out, err = process.communicate(timeout=20)
    return out, (process.returncode, err)


def places_of(answer):
    return [Place(note["string"], note["fret"]) for note in answer["notes"]]


def test_a_thousand_notes_of_a_six_channel_guitar_all_arrive_with_string_and_fret(jack):
    played = (NECK * 8)[:1000]
    with devices_watch(jack, "--json") as watch, pickup(jack, "--to", "Homefret") as guitar:
        guitar.play(plucked(played, every_s=0.006))
        time.sleep(0.3)
        out, ending = ended(watch)
    assert ending == (0, "")
    answer = json.loads(out)
    assert len(answer["notes"]) == 1000
    assert places_of(answer) == played
    assert [note["sounding"] for note in answer["notes"]] == [STANDARD.sounding(place) for place in played]


def test_stamps_keep_the_time_between_notes(jack):
    """Reference: the sender's own clock. Half the notes within a JACK period of 2.7 ms and its scheduling."""
    with devices_watch(jack, "--json") as watch, pickup(jack, "--to", "Homefret") as guitar:
        guitar.play(plucked(NECK[:40], every_s=0.05))
        time.sleep(0.3)
        out, _ = ended(watch)
    times_ms = [note["time_ms"] for note in json.loads(out)["notes"]]
    off_ms = sorted(abs(at_ms - times_ms[0] - 50 * number) for number, at_ms in enumerate(times_ms))
    assert off_ms[20] < 10


def test_a_pickup_that_is_killed_and_comes_back_is_lost_found_and_heard_again(jack):
    with devices_watch(jack, "--json", "--device", "pickup") as watch:
        with pickup(jack, "--offer", "--name", "pickup") as guitar:
            time.sleep(1.5)
            guitar.play(plucked(NECK[:6], every_s=0.05))
            guitar.process.kill()
        time.sleep(1.5)
        with pickup(jack, "--offer", "--name", "pickup") as guitar:
            time.sleep(1.5)
            guitar.play(plucked(NECK[6:12], every_s=0.05))
            time.sleep(0.3)
        out, ending = ended(watch)
    assert ending == (0, "")
    answer = json.loads(out)
    assert places_of(answer) == NECK[:12]
    changes = [(change["change"], change["device"]) for change in answer["changes"]]
    assert changes[:3] == [("found", "pickup:guitar"), ("lost", "pickup:guitar"), ("found", "pickup:guitar")]


def test_a_pickup_wired_to_our_port_that_is_also_listened_to_is_heard_once(jack):
    with (
        devices_watch(jack, "--json", "--device", "pickup") as watch,
        pickup(jack, "--to", "Homefret") as guitar,
    ):
        time.sleep(1.5)
        guitar.play(plucked(NECK[:30], every_s=0.03))
        time.sleep(0.3)
        out, _ = ended(watch)
    answer = json.loads(out)
    assert ("found", "pickup:guitar") in [(change["change"], change["device"]) for change in answer["changes"]]
    assert places_of(answer) == NECK[:30]


def test_a_pickup_that_is_killed_while_wired_to_our_port_is_lost_and_its_successor_heard(jack):
    with devices_watch(jack, "--json") as watch:
        for half in (NECK[:12], NECK[12:24]):
            with pickup(jack, "--to", "Homefret") as guitar:
                guitar.play(plucked(half, every_s=0.1))
                guitar.process.kill()
            time.sleep(1.5)
        out, ending = ended(watch)
    assert ending == (0, "")
    answer = json.loads(out)
    assert places_of(answer) == NECK[:24]
    assert [change["change"] for change in answer["changes"]] == ["found", "lost"] * 2


def test_running_clock_and_sensing_between_the_notes_change_nothing(jack):
    sent = plucked(NECK[:20], every_s=0.04)
    clock = [(0.02 * n + 0.001, [0xF8]) for n in range(40)] + [(0.25 * n, [0xFE]) for n in range(4)]
    exclusive = [(0.1, [0xF0, 0x7E, 0x7F, 0x06, 0x01, 0xF7])]
    with devices_watch(jack, "--json") as watch, pickup(jack, "--to", "Homefret") as guitar:
        guitar.play(sorted(sent + clock + exclusive))
        time.sleep(0.3)
        out, _ = ended(watch)
    assert places_of(json.loads(out)) == NECK[:20]


def test_for_people_each_note_is_a_line_as_it_comes_and_ctrl_c_ends_in_order(jack):
    with devices_watch(jack) as watch, pickup(jack, "--to", "Homefret") as guitar:
        guitar.play(plucked([Place(5, 7)], every_s=0.1))
        while "string 5" not in (line := watch.stdout.readline()):
            assert line, watch.stderr.read()
        assert "string 5 fret  7  MIDI  52  channel  5  velocity  90" in line
        _, ending = ended(watch, signal.SIGINT)
    assert ending == (0, "")


def test_the_listing_names_a_device_that_offers_a_port(jack):
    with pickup(jack, "--offer", "--name", "pickup"):
        ran = subprocess.run(
            [sys.executable, "-m", "game", "devices", "--json"],
            env=jack,
            capture_output=True,
            text=True,
            check=True,
        )
    assert ran.stderr == ""
    answer = json.loads(ran.stdout)
    assert answer["api"] == "jack"
    assert {"port": "pickup:guitar", "device": "pickup:guitar", "instrument": True} in answer["ports"]
