"""`homefret devices` hears a guitar that is played into it by another program, through a real MIDI system.

What it tells line by line is read as it comes; what it answers in JSON comes when it is told to end, so that there the
guitar plays on for a while after the notes that are looked at.
"""

import json
import signal
import statistics
import subprocess
import sys

import msgspec
import pytest

from game.instrument.decoding.dirt import NO_LIMITS
from game.neck.tuning import STANDARD, Place
from game.paths import user_settings
from game.player.settings import Settings
from game.player.settings_file import save
from game.text.catalogue import say
from tests.sampling import how_many
from tests.system.devices_watch import devices_watch
from tests.system.jack import jack_that_restarts
from tests.system.pickup import Pickup, Sent, pickup, plucked
from tests.system.waiting import AT_MOST_S

pytestmark = pytest.mark.system

NECK = [Place(string, fret) for fret in range(23) for string in range(1, 7)]
GUITAR = "pickup:guitar"
PLAYS_ON_S = 1.0


@pytest.fixture
def jack_unfiltered(jack):
    """Everything counts as it came: what is dirt is a matter of milliseconds, which a busy computer does not keep."""
    save(msgspec.structs.replace(Settings(), limits=NO_LIMITS), user_settings())
    return jack


def plays_on(guitar: Pickup, sent: list[Sent]) -> list[float]:
    """Play a list, and on after it; when each message of the list was handed over."""
    last_s = sent[-1][0]
    after = plucked(NECK[:1] * 10, every_s=PLAYS_ON_S / 10, from_s=last_s + 0.1)
    return guitar.play([*sent, *after])[: len(sent)]


def places_of(answer):
    return [Place(note["string"], note["fret"]) for note in answer["notes"]]


def test_a_thousand_notes_of_a_six_channel_guitar_all_arrive_with_string_and_fret(jack_unfiltered):
    """By default as many as two necks have places."""
    played = (NECK * 8)[: how_many(1000, by_default=2 * len(NECK))]
    with devices_watch(jack_unfiltered, "--json") as watch, pickup(jack_unfiltered, "--to", "Homefret") as guitar:
        plays_on(guitar, plucked(played, every_s=0.006))
        answer = watch.answered()
    assert places_of(answer)[: len(played)] == played
    heard = [note["sounding"] for note in answer["notes"]][: len(played)]
    assert heard == [STANDARD.sounding(place) for place in played]


def test_stamps_keep_the_time_between_notes(jack_unfiltered):
    """Reference: when the sender handed each over. Half the notes within a JACK period of 2.7 ms and its scheduling."""
    sent = plucked(NECK[:30], every_s=0.05)
    with devices_watch(jack_unfiltered, "--json") as watch, pickup(jack_unfiltered, "--to", "Homefret") as guitar:
        handed_over_s = plays_on(guitar, sent)
        answer = watch.answered()
    times_ms = [note["time_ms"] for note in answer["notes"]][:30]
    under_way_ms = [at_ms - 1000 * at_s for at_ms, at_s in zip(times_ms, handed_over_s[::2], strict=True)]
    usual_ms = statistics.median(under_way_ms)
    off_ms = sorted(abs(one - usual_ms) for one in under_way_ms)
    assert off_ms[15] < 10


def test_a_pickup_that_is_killed_and_comes_back_is_lost_found_and_heard_again(jack_unfiltered):
    with devices_watch(jack_unfiltered, "--device", "pickup") as watch:
        for half in (NECK[:6], NECK[6:12]):
            with pickup(jack_unfiltered, "--offer", "--name", "pickup") as guitar:
                watch.wait_for_device("found", GUITAR)
                guitar.play(plucked(half, every_s=0.05))
                assert watch.wait_for_places(6) == half
                guitar.process.kill()
            watch.wait_for_device("lost", GUITAR)
        watch.ended()


def test_a_pickup_wired_to_our_port_that_is_also_listened_to_is_heard_once(jack_unfiltered):
    with (
        devices_watch(jack_unfiltered, "--device", "pickup") as watch,
        pickup(jack_unfiltered, "--to", "Homefret") as guitar,
    ):
        watch.wait_for_device("found", GUITAR)
        guitar.play(plucked(NECK[:30], every_s=0.03))
        assert watch.wait_for_places(30) == NECK[:30]
        assert "string" not in watch.ended()


def test_a_pickup_that_is_killed_while_wired_to_our_port_is_lost_and_its_successor_heard(jack_unfiltered):
    with devices_watch(jack_unfiltered) as watch:
        for half in (NECK[:12], NECK[12:24]):
            with pickup(jack_unfiltered, "--to", "Homefret") as guitar:
                watch.wait_for_device("found", GUITAR)
                guitar.play(plucked(half, every_s=0.03))
                assert watch.wait_for_places(12) == half
                guitar.process.kill()
            watch.wait_for_device("lost", GUITAR)
        watch.ended()


def test_what_came_and_went_is_told_in_json_too(jack_unfiltered):
    with devices_watch(jack_unfiltered, "--json") as watch, pickup(jack_unfiltered, "--to", "Homefret") as guitar:
        plays_on(guitar, plucked(NECK[:12], every_s=0.03))
        answer = watch.answered()
    assert [(change["change"], change["device"]) for change in answer["changes"]] == [("found", GUITAR)]
    assert places_of(answer)[:12] == NECK[:12]


def test_running_clock_and_sensing_between_the_notes_change_nothing(jack_unfiltered):
    sent = plucked(NECK[:20], every_s=0.04)
    clock = [(0.02 * n + 0.001, [0xF8]) for n in range(40)] + [(0.25 * n, [0xFE]) for n in range(4)]
    exclusive = [(0.1, [0xF0, 0x7E, 0x7F, 0x06, 0x01, 0xF7])]
    with devices_watch(jack_unfiltered) as watch, pickup(jack_unfiltered, "--to", "Homefret") as guitar:
        guitar.play(sorted(sent + clock + exclusive))
        assert watch.wait_for_places(20) == NECK[:20]
        assert "string" not in watch.ended()


def test_for_people_each_note_is_a_line_as_it_comes_and_ctrl_c_ends_in_order(jack):
    with devices_watch(jack) as watch, pickup(jack, "--to", "Homefret") as guitar:
        guitar.play(plucked([Place(5, 7)], every_s=0.1))
        assert "string 5 fret  7  MIDI  52  channel  5  velocity  90" in watch.wait_for("string 5")
        watch.ended(signal.SIGINT)


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


def test_after_jack_was_killed_and_started_anew_the_port_is_there_again_it_is_said_and_notes_are_heard(
    tmp_path,
):
    """The program asks the server every few seconds while nobody plays."""
    with jack_that_restarts(tmp_path) as (environment, restart):
        words = {**environment, "XDG_CONFIG_HOME": str(tmp_path)}
        with devices_watch(words, "--base-channel", "1") as watch:
            restart()
            watch.wait_for(say("driver.system_back_offered", system="JACK"))
            with pickup(words, "--to", "Homefret") as guitar:
                guitar.play(plucked(NECK[:6], every_s=0.4))
                assert watch.wait_for_places(6) == NECK[:6]
            watch.process.send_signal(signal.SIGTERM)
            assert watch.process.wait(AT_MOST_S) == 0
