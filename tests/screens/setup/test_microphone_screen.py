"""A microphone is set up by playing: each step goes on by what it hears."""

import pygame
import pytest

from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.message import message
from game.neck.tuning import STANDARD
from game.player.device_settings import MicrophoneSettings
from game.screens.routes import ToMicrophone, ToMicrophones
from game.screens.setup.microphone_screen import MOST_CHANNELS
from tests.screens.drawn_text import DrawnText
from tests.screens.fake_microphone import FakeMicrophone

NAME = "an interface"


@pytest.fixture
def microphone(table):
    return FakeMicrophone(table)


@pytest.fixture
def screen(table, microphone):
    table.settle(microphone=NAME)
    microphone.audible(table)
    table.go(ToMicrophone(NAME))
    return table.screen


def wait(table, seconds):
    table.wait(seconds, frame_s=0.05)


def kept(table):
    return table.context.settings.microphones[NAME]


def be_quiet(table, microphone, *, rms_db=-60.0, hum_db=-90.0):
    microphone.sounds(rms_db=rms_db, hum_db=hum_db)
    wait(table, 3.2)


def play_well(table, microphone):
    wait(table, 1.6)
    microphone.sounds(rms_db=-20, peak_db=-12)
    wait(table, 3.2)


def ring_all(table, microphone, *, cents=(0, 0, 0, 0, 0, 0)):
    wait(table, 1.6)
    for string in (6, 1, 3, 2, 5, 4):
        microphone.rings(STANDARD.open_strings[string - 1] + cents[string - 1] / 100)
        wait(table, 0.6)
    microphone.rings(None)


def pluck(table, string):
    """The open string, by the sound of it."""
    note = PlayedNote(
        started_s=table.clock.now_s(), sounding=STANDARD.open_strings[string - 1], place=None, source=NAME
    )
    table.app.note_started(NoteStarted(note=note, channel=1))
    wait(table, 0.1)


def until(table, condition, *, most_s=20.0):
    for _ in range(round(most_s / 0.1)):
        if condition():
            return
        pygame.time.wait(1)
        table.wait(0.1, frame_s=0.1)
    raise AssertionError("it never came about")


def up_to_the_delay(table, microphone):
    be_quiet(table, microphone)
    play_well(table, microphone)
    ring_all(table, microphone)
    wait(table, 4.0)
    assert table.screen.step is table.screen.delay


def test_a_whole_set_up_needs_neither_mouse_nor_key_and_less_than_a_minute(table, screen, microphone):
    began_s = table.clock.now_s()
    up_to_the_delay(table, microphone)
    wait(table, 0.6)
    pluck(table, 6)
    microphone.hears_back(table, 0.0437)
    until(table, lambda: screen.over)
    assert table.clock.now_s() - began_s < 60
    found = kept(table)
    assert (found.set_up, found.headphones, found.channel) == (True, False, 1)
    assert found.delay_ms == pytest.approx(43.7, abs=0.2)
    assert found.floor_db == pytest.approx(-52.0)
    wait(table, 1.0)
    pluck(table, 6)
    assert table.screen_name == "TodayScreen"


def test_a_whole_set_up_goes_by_keys_alone_and_changes_nothing_that_was_not_measured(table, screen):
    table.settle(microphones={NAME: MicrophoneSettings(delay_ms=12.0)})
    for _ in range(3):
        assert table.context.window.corner is not None
        table.key(pygame.K_RETURN)
    table.key(pygame.K_UP)
    table.key(pygame.K_RETURN)
    assert screen.over
    assert kept(table) == MicrophoneSettings(delay_ms=12.0, set_up=True)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"


def test_a_sound_while_it_should_be_quiet_begins_the_quiet_anew(table, screen, microphone):
    microphone.sounds(rms_db=-60)
    wait(table, 2.0)
    microphone.sounds(rms_db=-20)
    wait(table, 0.2)
    microphone.sounds(rms_db=-60)
    wait(table, 1.5)
    assert screen.quiet.found is None
    assert screen.step.words.startswith("There was a sound.")
    wait(table, 1.0)
    assert screen.quiet.found.rms_db == -60


def test_mains_hum_is_told_with_how_much_it_is(table, screen, microphone):
    be_quiet(table, microphone, rms_db=-50, hum_db=-51)
    assert screen.step.advice.startswith("79% of the noise is mains hum")


def test_soft_and_loud_playing_are_told_and_go_on_to_nothing(table, screen, microphone):
    be_quiet(table, microphone)
    wait(table, 2.0)
    microphone.sounds(rms_db=-46, peak_db=-40)
    wait(table, 4.0)
    assert screen.step.words.startswith("Too soft")
    microphone.sounds(rms_db=-4, peak_db=-0.1)
    wait(table, 4.0)
    assert screen.step.words.startswith("Too loud")
    assert screen.step is screen.level


def test_where_nothing_comes_in_another_channel_is_tried(table, screen, microphone):
    be_quiet(table, microphone)
    wait(table, 8.0)
    assert screen.step.words.startswith("Nothing comes in on channel 1.")
    table.key(pygame.K_RIGHT)
    assert kept(table).channel == 2
    assert screen.step.words.startswith("Play anything")
    table.key(pygame.K_LEFT)
    table.key(pygame.K_LEFT)
    assert kept(table).channel == MOST_CHANNELS


def test_an_input_with_one_channel_offers_no_other(table, screen, microphone):
    microphone.channels = 1
    be_quiet(table, microphone)
    wait(table, 8.0)
    assert screen.step.words.startswith("Nothing comes in. Is the guitar's volume up")
    table.key(pygame.K_RIGHT)
    assert kept(table).channel == 1
    assert pygame.K_RIGHT not in {press.key for hint in table.context.window.told_keys for press in hint.presses}


def test_strings_out_of_tune_are_told_and_block_nobody(table, screen, microphone):
    be_quiet(table, microphone)
    play_well(table, microphone)
    ring_all(table, microphone, cents=(0, -3, 5, 0, -20, 31))
    assert screen.strings.outcome == "two to be tuned"
    assert screen.step.advice == "Strings to be tuned, now or later: 5, 6."
    wait(table, 5.0)
    assert screen.step is screen.delay


def test_a_note_that_rang_before_the_question_is_no_answer(table, screen, microphone):
    up_to_the_delay(table, microphone)
    early = PlayedNote(started_s=table.clock.now_s() - 4.0, sounding=40, place=None, source=NAME)
    table.app.note_started(NoteStarted(note=early, channel=1))
    assert screen.delay.choices
    assert not screen.delay.moving


def test_what_another_instrument_plays_answers_nothing(table, screen, microphone):
    up_to_the_delay(table, microphone)
    wait(table, 1.0)
    table.play(40, False)
    assert screen.delay.choices


def test_backspace_begins_again_and_esc_leads_back_in_silence(table, screen, microphone):
    up_to_the_delay(table, microphone)
    table.key(pygame.K_RETURN)
    assert screen.delay.moving
    table.key(pygame.K_BACKSPACE)
    assert screen.step is screen.quiet
    assert not table.context.devices.sound.measuring.playing
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


@pytest.mark.usefixtures("screen")
def test_what_is_wrong_with_the_input_is_said_in_place_of_the_step(table, microphone, monkeypatch):
    microphone.trouble = message("mics.no_input")
    drawn = DrawnText(monkeypatch)
    table.app.draw()
    assert any(line.startswith("No audio input was found") for line in drawn.whole)
    microphone.trouble = None
    microphone.level = None
    drawn = DrawnText(monkeypatch)
    table.app.draw()
    assert "The input is being opened." in drawn.whole


def test_an_input_that_goes_away_and_comes_back_in_between_loses_nothing(table, screen, microphone):
    be_quiet(table, microphone)
    wait(table, 2.0)
    microphone.level = None
    wait(table, 3.0)
    assert screen.step is screen.level
    play_well(table, microphone)
    assert screen.level.done


def test_a_click_takes_what_is_asked(table, screen):
    for _ in range(3):
        table.key(pygame.K_RETURN)
    table.click(table.screen._choice_boxes[1].center)
    assert screen.delay._headphones
    assert [choice.word for choice in screen.delay.choices] == ["held", "plucked", "leave"]


def test_from_the_first_sheet_it_leads_back_there(table, microphone):
    table.go(ToMicrophones(first=True))
    microphone.answer(table)
    table.key(pygame.K_RETURN)
    for _ in range(4):
        table.key(pygame.K_RETURN)
    assert table.screen.over
    table.key(pygame.K_RETURN)
    assert table.screen_name == "FirstStartScreen"
