"""Devices are found, lost and found again, and their messages are handed over once a frame."""

import threading

import pytest

from game.clock import HandClock
from game.instrument.ports.device_changes import DeviceFound, DeviceLost, DeviceRefused, DeviceWired, SystemChanged
from game.instrument.ports.find_driver import FoundDriver
from game.instrument.ports.midi_inputs import MidiInputs
from game.message import verbatim
from game.text.catalogue import tell
from tests.instrument.ports.bench_driver import GUITAR, KEYS, BenchDriver, inputs_on

ON, OFF = [0x90, 64, 80], [0x80, 64, 0]


def test_messages_are_stamped_when_they_come_and_handed_over_once():
    driver, clock = BenchDriver(GUITAR), HandClock(5.0)
    inputs = inputs_on(driver, clock)
    driver.play(GUITAR, ON)
    clock.advance(0.25)
    driver.play(GUITAR, OFF, 0.25)
    first, second = inputs.drain()
    assert (first.at_s, first.message, first.source) == (5.0, bytes(ON), "Guitar MIDI 1")
    assert second.at_s == 5.25
    assert inputs.drain() == ()


def test_a_late_callback_is_put_right_by_the_drivers_time_even_across_clock_messages():
    driver, clock = BenchDriver(GUITAR), HandClock(1.0)
    inputs = inputs_on(driver, clock)
    driver.play(GUITAR, ON)
    clock.advance(0.1)
    driver.play(GUITAR, [0xF8], 0.1)
    clock.advance(0.112)
    driver.play(GUITAR, OFF, 0.1)
    stamps = [stamped.at_s for stamped in inputs.drain()]
    assert stamps == [pytest.approx(1.0), pytest.approx(1.2, abs=1e-4)]


def test_clock_sensing_and_system_exclusive_are_left_out():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    for message in ([0xF8], [0xFE], [0xF0, 0x41, 0xF7], [], ON):
        driver.play(GUITAR, message)
    assert [stamped.message for stamped in inputs.drain()] == [bytes(ON)]


def test_a_device_is_found_lost_and_found_again_on_a_new_port():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    assert inputs.changes() == (DeviceFound("Guitar MIDI 1"),)
    driver.names.clear()
    inputs.scan()
    assert inputs.changes() == (DeviceLost("Guitar MIDI 1", was_playing=False),)
    assert inputs.devices == ()
    driver.names.append("Guitar:Guitar MIDI 1 32:0")
    inputs.scan()
    assert inputs.changes() == (DeviceFound("Guitar MIDI 1"),)
    driver.play("Guitar:Guitar MIDI 1 32:0", ON)
    assert [stamped.source for stamped in inputs.drain()] == ["Guitar MIDI 1"]
    assert driver.opened[GUITAR][0].closed


def test_losing_the_device_that_plays_is_told_from_losing_another():
    driver = BenchDriver(GUITAR, KEYS)
    inputs = inputs_on(driver)
    driver.play(GUITAR, ON)
    inputs.drain()
    inputs.changes()
    driver.names.clear()
    inputs.scan()
    assert set(inputs.changes()) == {
        DeviceLost("Guitar MIDI 1", was_playing=True),
        DeviceLost("Keys MIDI 1", was_playing=False),
    }


def test_a_device_that_comes_while_another_plays_is_opened_in_the_next_silence():
    """Opening one in JACK was seen to cost the others up to 18 notes in 110 ms."""
    driver, clock = BenchDriver(GUITAR), HandClock()
    inputs = inputs_on(driver, clock)
    driver.play(GUITAR, ON)
    inputs.drain()
    driver.names.append(KEYS)
    clock.advance(1.9)
    inputs.scan()
    assert inputs.devices == ("Guitar MIDI 1",)
    clock.advance(0.2)
    inputs.scan()
    assert inputs.devices == ("Guitar MIDI 1", "Keys MIDI 1")


def test_the_device_that_played_last_is_opened_at_once_when_it_comes_back():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    driver.play(GUITAR, ON)
    inputs.drain()
    driver.names.clear()
    inputs.scan()
    driver.names.append(GUITAR)
    inputs.scan()
    assert inputs.devices == ("Guitar MIDI 1",)


def test_in_jack_hardware_is_opened_and_a_program_wires_itself():
    driver = BenchDriver("system:midi_capture_1", "sender:guitar")
    driver.api = "jack"
    inputs = inputs_on(driver)
    assert inputs.devices == ("system:midi_capture_1", "sender:guitar")
    assert "sender:guitar" not in driver.opened
    driver.play("Homefret", ON)
    inputs.drain()
    inputs.changes()
    driver.names.pop()
    inputs.scan()
    assert inputs.changes() == (DeviceLost("sender:guitar", was_playing=True),)


def test_in_jack_a_program_is_opened_when_it_is_asked_for_by_name():
    driver = BenchDriver("sender:guitar")
    driver.api = "jack"
    inputs_on(driver, wanted="sender")
    assert len(driver.opened["sender:guitar"]) == 1


def test_a_program_is_not_here_before_something_came_from_it_by_our_port():
    driver = BenchDriver("sender:guitar")
    driver.api = "jack"
    inputs = inputs_on(driver)
    assert inputs.changes() == (DeviceFound("sender:guitar", wires_itself=True),)
    assert "no instrument is plugged in" in tell(inputs.status)
    for _ in range(2):
        driver.play("Homefret", [0xFE])
        inputs.drain()
    assert inputs.changes() == (DeviceWired("sender:guitar"),)
    assert tell(inputs.status) == "MIDI by hand; listening to sender:guitar"


def test_a_program_that_comes_back_is_to_be_wired_again():
    driver = BenchDriver("sender:guitar")
    driver.api = "jack"
    inputs = inputs_on(driver)
    for _ in range(2):
        driver.play("Homefret", ON)
        inputs.drain()
        driver.names.clear()
        inputs.scan()
        driver.names.append("sender:guitar")
        inputs.scan()
    assert [change for change in inputs.changes() if isinstance(change, DeviceWired)] == [
        DeviceWired("sender:guitar")
    ] * 2


def test_of_two_programs_nobody_can_tell_which_is_wired():
    driver = BenchDriver("sender:guitar", "other:keys")
    driver.api = "jack"
    inputs = inputs_on(driver)
    inputs.changes()
    driver.play("Homefret", ON)
    assert len(inputs.drain()) == 1
    assert inputs.changes() == ()


def test_a_program_asked_for_by_name_that_refuses_can_be_wired_all_the_same():
    driver = BenchDriver("sender:guitar")
    driver.api = "jack"
    driver.busy.add("sender:guitar")
    inputs = inputs_on(driver, wanted="sender")
    assert inputs.changes() == (DeviceRefused("sender:guitar", verbatim("in use"), can_be_wired=True),)


def test_our_own_port_that_is_refused_at_the_start_is_asked_for_again_and_both_are_told_once():
    driver, clock = BenchDriver(), HandClock()
    driver.busy.add("Homefret")
    inputs = inputs_on(driver, clock)
    for _ in range(3):
        clock.advance(4)
        inputs.scan()
    told = [tell(change.told) for change in inputs.changes()]
    assert told == ["ALSA refuses the port Homefret, to which programs are wired (in use): it is asked again"]
    assert not inputs.offers_port
    driver.busy.clear()
    clock.advance(4)
    inputs.scan()
    assert [tell(change.told) for change in inputs.changes()] == [
        "ALSA now offers the port Homefret: wire programs to it"
    ]
    driver.play("Homefret", ON)
    assert [stamped.source for stamped in inputs.drain()] == ["port Homefret"]


def test_a_returned_device_of_the_same_port_name_is_opened_afresh():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    driver.names.clear()
    inputs.scan()
    driver.names.append(GUITAR)
    inputs.scan()
    assert len(driver.opened[GUITAR]) == 2


def test_of_several_devices_whichever_plays_is_heard():
    driver, clock = BenchDriver(GUITAR, KEYS), HandClock()
    inputs = inputs_on(driver, clock)
    driver.play(GUITAR, ON)
    driver.play(KEYS, ON)
    assert [stamped.source for stamped in inputs.drain()] == ["Guitar MIDI 1"]
    clock.advance(3)
    driver.play(KEYS, ON)
    assert [stamped.source for stamped in inputs.drain()] == ["Keys MIDI 1"]


def test_active_sensing_does_not_make_a_device_the_one_that_plays():
    driver = BenchDriver(GUITAR, KEYS)
    inputs = inputs_on(driver)
    driver.play(KEYS, [0xFE])
    driver.play(GUITAR, ON)
    assert [stamped.source for stamped in inputs.drain()] == ["Guitar MIDI 1"]


def test_a_chosen_device_is_the_only_one_opened_and_can_be_changed():
    driver = BenchDriver(GUITAR, KEYS)
    inputs = inputs_on(driver, wanted="keys")
    assert inputs.devices == ("Keys MIDI 1",)
    inputs.choose("guitar")
    inputs.scan()
    assert inputs.devices == ("Guitar MIDI 1",)


def test_a_device_another_program_has_is_reported_once_and_tried_again():
    driver = BenchDriver(GUITAR)
    driver.busy.add(GUITAR)
    inputs = inputs_on(driver)
    inputs.scan()
    assert inputs.changes() == (DeviceRefused("Guitar MIDI 1", verbatim("in use")),)
    driver.busy.clear()
    inputs.scan()
    assert inputs.changes() == (DeviceFound("Guitar MIDI 1"),)


def test_two_devices_of_one_name_are_told_apart():
    driver = BenchDriver("Guitar:Guitar 24:0", "Guitar:Guitar 28:0")
    assert inputs_on(driver).devices == ("Guitar", "Guitar #2")


def test_the_loop_of_the_system_is_not_opened():
    assert inputs_on(BenchDriver("Midi Through:Midi Through Port-0 14:0")).devices == ()


def test_a_program_wired_to_our_own_port_is_heard():
    driver = BenchDriver()
    inputs = inputs_on(driver)
    driver.play("Homefret", ON)
    assert [stamped.source for stamped in inputs.drain()] == ["port Homefret"]


def test_a_system_that_goes_away_loses_its_devices_and_nothing_else():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    driver.gone = True
    inputs.scan()
    assert inputs.changes() == (DeviceFound("Guitar MIDI 1"), DeviceLost("Guitar MIDI 1"))


def test_without_any_midi_system_everything_is_empty_and_said():
    inputs = MidiInputs(FoundDriver(None, verbatim("no MIDI system answers")), HandClock().now_s)
    inputs.scan()
    assert (inputs.drain(), inputs.changes(), inputs.devices) == ((), (), ())
    assert tell(inputs.status) == "no MIDI system answers"
    inputs.close()


def test_the_status_says_what_to_do_without_a_device_and_names_it_with_one():
    driver = BenchDriver()
    inputs = inputs_on(driver)
    assert "no instrument is plugged in: plug it in at any time, or wire a program" in tell(inputs.status)
    driver.names.append(GUITAR)
    inputs.scan()
    assert tell(inputs.status) == "MIDI by hand; listening to Guitar MIDI 1"
    inputs.choose("organ")
    inputs.scan()
    assert "'organ' is not there" in tell(inputs.status)


def test_closing_closes_every_port_and_a_later_scan_does_nothing():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    inputs.close()
    inputs.scan()
    assert all(port.closed for ports in driver.opened.values() for port in ports)


def test_nothing_is_lost_between_a_playing_thread_and_a_draining_one():
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    player = threading.Thread(target=lambda: [driver.play(GUITAR, [0x90, n % 128, 1]) for n in range(20_000)])
    player.start()
    heard = []
    while player.is_alive():
        heard += inputs.drain()
    player.join()
    heard += inputs.drain()
    assert [stamped.message[1] for stamped in heard] == [n % 128 for n in range(20_000)]


def test_a_system_started_anew_is_noticed_in_a_silence_its_port_offered_again_and_both_are_told():
    first, clock = BenchDriver(GUITAR), HandClock()
    again, back = BenchDriver(GUITAR), []

    def open_again():
        if not back:
            raise OSError("no server")
        return again

    inputs = MidiInputs(FoundDriver(first, verbatim("MIDI by hand"), open_again), clock.now_s)
    inputs.scan()
    inputs.changes()
    first.gone = True
    clock.advance(4)
    inputs.scan()
    told = [tell(change.told) for change in inputs.changes() if isinstance(change, SystemChanged)]
    assert told == ["ALSA went away, and the instruments with it: they come back with it"]
    assert not inputs.offers_port
    ports = [port for opened in first.opened.values() for port in opened]
    assert [(port.abandoned, port.closed) for port in ports] == [(True, False)] * 2
    back.append(True)
    inputs.scan()
    lines = [tell(change.told) for change in inputs.changes() if isinstance(change, SystemChanged)]
    assert lines == ["ALSA is back, and the port Homefret is offered again: wire programs to it once more"]
    assert inputs.devices == ("Guitar MIDI 1",)
    again.play("Homefret", ON)
    assert [stamped.source for stamped in inputs.drain()] == ["port Homefret"]


def test_what_is_there_is_published_whole_and_never_changed():
    """A frame that reads it while another thread scans sees it as it was before or after."""
    driver = BenchDriver(GUITAR)
    inputs = inputs_on(driver)
    before = inputs.devices
    seen = [inputs._present]
    driver.names.append(KEYS)
    inputs.scan()
    assert before == tuple(there.name for there in seen[0])
    assert inputs.devices == ("Guitar MIDI 1", "Keys MIDI 1")
