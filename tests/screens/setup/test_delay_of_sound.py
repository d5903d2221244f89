"""The delay of a guitar that is heard: by clicks that come back, by plucks, or left."""

import pygame
import pytest

from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.player.device_settings import MOST_SOUND_DELAY_MS, MicrophoneSettings
from game.screens.routes import ToMicrophone
from game.screens.setup.delay_of_sound import SHARES
from game.screens.setup.delay_words import DelayStage
from tests.screens.fake_microphone import FakeMicrophone

NAME = "an interface"


@pytest.fixture
def microphone(table):
    return FakeMicrophone(table)


@pytest.fixture
def delay(table, microphone):
    """The step, and what is asked there."""
    microphone.sounds(rms_db=-60)
    microphone.audible(table)
    table.settle(microphone=NAME, microphones={NAME: MicrophoneSettings(delay_ms=20.0)})
    table.go(ToMicrophone(NAME))
    for _ in range(3):
        table.key(pygame.K_RETURN)
    assert [choice.string for choice in table.screen.delay.choices] == [6, 5, 4]
    return table.screen.delay


def until(table, condition, *, most_s=60.0):
    for _ in range(round(most_s / 0.1)):
        if condition():
            return
        pygame.time.wait(1)
        table.wait(0.1, frame_s=0.1)
    raise AssertionError("it never came about")


def kept(table):
    return table.context.settings.microphones[NAME]


def test_clicks_that_come_back_tell_the_delay_whatever_was_kept_before(table, delay, microphone):
    table.key(pygame.K_RETURN)
    assert microphone.asked_to_record_s == [pytest.approx(4.94, abs=0.1)]
    microphone.hears_back(table, 0.1234)
    until(table, lambda: delay.done)
    assert kept(table).delay_ms == pytest.approx(123.4, abs=0.2)
    assert delay.words == "Notes came 123 ms late, measured to within 0.0 ms; that is taken out from now on."


def test_what_comes_back_before_it_was_due_is_no_delay(table, delay, microphone):
    """The output may take less than is counted for it; nothing can be told before it was played."""
    table.key(pygame.K_RETURN)
    microphone.hears_back(table, -0.008)
    until(table, lambda: delay.done)
    assert kept(table).delay_ms == 0


def test_clicks_begin_softly_and_get_louder_only_where_they_are_not_heard(table, delay, microphone, monkeypatch):
    shares = []
    start = table.context.devices.sound.start_measuring
    monkeypatch.setattr(
        table.context.devices.sound,
        "start_measuring",
        lambda *args, share: shares.append(share) or start(*args, share=share),
    )
    table.key(pygame.K_RETURN)
    for number in range(1, len(SHARES)):
        microphone.hears_back(table, 0.05, gain=0.0)
        until(table, lambda number=number: len(shares) > number)
        assert delay.words == "They were too soft: once more, a little louder."
    microphone.hears_back(table, 0.05, gain=0.0)
    until(table, lambda: delay.stage is DelayStage.REFUSED)
    assert tuple(shares) == SHARES
    assert delay.words.startswith("The microphone did not hear the clicks")
    assert kept(table).delay_ms == 20.0


def test_a_delay_that_wavers_twice_changes_nothing_and_says_by_how_much(table, delay, microphone):
    wavering = [0.007 * (number % 2) for number in range(12)]
    table.key(pygame.K_RETURN)
    microphone.hears_back(table, 0.05, offsets_s=wavering)
    until(table, lambda: len(microphone.asked_to_record_s) == 2)
    assert delay.words == "They did not come back evenly: once more."
    microphone.hears_back(table, 0.05, offsets_s=wavering)
    until(table, lambda: delay.stage is DelayStage.REFUSED)
    assert delay.words.startswith("The clicks came back up to 7 ms apart, so nothing is changed")
    assert [choice.word for choice in delay.choices] == ["again", "otherwise", "leave"]
    table.key(pygame.K_RETURN)
    microphone.hears_back(table, 0.05)
    until(table, lambda: delay.done)
    assert kept(table).delay_ms == pytest.approx(50, abs=0.2)


def test_a_recording_that_never_comes_is_given_up(table, delay):
    table.key(pygame.K_RETURN)
    until(table, lambda: delay.stage is DelayStage.REFUSED)
    assert delay.words.startswith("The recording ended too soon")


def test_plucks_along_with_the_click_are_counted_on_top_of_what_is_taken_out_already(table, delay):
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert delay.stage is DelayStage.ASKS_HEADPHONES
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    number = 0
    while delay.stage is DelayStage.PLUCKS:
        due_s = delay._began_s + 0.75 * number
        table.clock.advance(max(0.001, due_s + 0.05 - table.clock.now_s()))
        note = PlayedNote(started_s=due_s + 0.033 + 0.004 * (number % 3 - 1), sounding=40, place=None, source=NAME)
        table.app.note_started(NoteStarted(note=note, channel=1))
        table.wait(0.4, frame_s=0.1)
        number += 1
        assert number < 40
    assert delay.done
    assert kept(table) == MicrophoneSettings(delay_ms=pytest.approx(53.0, abs=1.0), headphones=True, set_up=True)
    assert "your own lean included" in delay.words


def test_plucks_that_do_not_go_with_the_click_change_nothing(table, delay):
    for key in (pygame.K_DOWN, pygame.K_RETURN, pygame.K_DOWN, pygame.K_RETURN):
        table.key(key)
    until(table, lambda: delay.stage is not DelayStage.PLUCKS)
    assert delay.stage is DelayStage.REFUSED
    assert "nothing is changed" in delay.words
    assert kept(table).delay_ms == 20.0
    assert not kept(table).set_up


def test_where_nothing_sounds_it_can_only_be_left(table, delay):
    table.context.devices.sound.device_lost()
    table.context.devices.sound.metronome._player._status = table.context.devices.sound.measuring._output.status
    assert [choice.word for choice in delay.choices] == ["leave"]
    table.wait(0.1)
    table.key(pygame.K_RETURN)
    assert delay.done
    assert kept(table).delay_ms == 20.0


@pytest.mark.usefixtures("delay")
def test_leaving_it_leaves_the_headphones_too(table):
    table.settle(microphones={NAME: MicrophoneSettings(delay_ms=31.0, headphones=True)})
    table.key(pygame.K_BACKSPACE)
    for _ in range(3):
        table.key(pygame.K_RETURN)
    table.key(pygame.K_UP)
    table.key(pygame.K_RETURN)
    assert kept(table) == MicrophoneSettings(delay_ms=31.0, headphones=True, set_up=True)


def test_no_delay_is_kept_that_the_settings_would_refuse(table, delay, microphone):
    table.key(pygame.K_RETURN)
    microphone.hears_back(table, 0.599)
    until(table, lambda: delay.done or delay.stage is DelayStage.REFUSED)
    assert kept(table).delay_ms <= MOST_SOUND_DELAY_MS
