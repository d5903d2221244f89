"""All sound of the game behind one door."""

import pygame
import pytest
from pygame import mixer

from game.audio.beats import ClickSettings, clicks_of
from game.audio.output import CHANNELS, SoundOutput, SoundStatus
from game.audio.played_line import PlayedLine, SoundedNote
from game.audio.sound import Sound, open_sound, silence
from game.clock import HandClock
from game.text.catalogue import say
from tests.made import bar


def test_the_advice_on_listening_states_the_recommendation():
    """80 dB for 40 hours a week, 3 dB halve the time, children 75 dB (WHO-ITU H.870)."""
    assert all(fact in say("care.listening") for fact in ("80 dB", "40 hours", "3 dB", "75 dB"))


@pytest.mark.parametrize("status", SoundStatus)
def test_of_every_state_in_which_something_is_wrong_there_is_a_sentence_for_the_page(status):
    sound = Sound(SoundOutput(status=status), 0.6)
    assert sound.sounds is (status is SoundStatus.SOUNDING)
    assert sound.sounds or say(f"sound.{sound.status.value}").endswith(".")


def test_without_a_device_all_of_it_works_in_silence_without_waiting():
    sound, clock = silence(), HandClock(3.0)
    sound.metronome.prepare(clicks_of([bar("G4 w")], ClickSettings(tempo_bpm=60)))
    assert sound.start_clicks(clock) == 3.0 + 0.25 + 4.0
    sound.make_ready([60])
    sound.pluck(60)
    sound.play([PlayedLine(notes=(SoundedNote(onset_s=0.0, sounding=60),))], clock)
    sound.tick(3.1)
    sound.device_lost()
    sound.stop()
    assert clock.now_s() == 3.0
    assert sound.status is SoundStatus.NO_DEVICE


def test_one_volume_is_for_clicks_and_strings():
    sound = Sound(SoundOutput(), 0.6)
    sound.set_volume(0.25)
    assert (sound.metronome.volume, sound.strings.volume) == (0.25, 0.25)


def test_a_note_no_string_of_ours_reaches_is_silent_and_no_fault(audible: SoundOutput):
    mixer.set_num_channels(CHANNELS)
    Sound(audible, 0.6).pluck(12)
    assert not mixer.get_busy()
    Sound(audible, 0.6).pluck(60)
    assert mixer.get_busy()


def test_opened_again_after_a_device_came_it_keeps_the_volume_as_it_is(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    sound = open_sound(0.6)
    sound.set_volume(0.3)
    try:
        again = sound.opened_again()
        assert again is not sound
        assert again.metronome.volume == 0.3
        assert again.status is SoundStatus.SILENT_DRIVER
    finally:
        mixer.quit()


def test_a_device_that_opening_finds_has_not_come(monkeypatch: pytest.MonkeyPatch):
    """SDL announces it all the same; one that came would be opened again."""
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    pygame.display.init()
    pygame.event.clear()
    mixer.quit()
    try:
        mixer.init()
        assert pygame.event.get(pygame.AUDIODEVICEADDED), "SDL announces nothing any more"
        open_sound(0.6, anew=True)
        assert pygame.event.get(pygame.AUDIODEVICEADDED) == []
    finally:
        mixer.quit()
