"""All sound of the game behind one door."""

import numpy as np
import pygame
import pytest
from pygame import mixer

from game.audio.bass_and_chords import AccompanimentSounds, accompaniment_strikes
from game.audio.beats import ClickSettings, clicks_of
from game.audio.blocks import render
from game.audio.clicks import click_blocks, click_sounds, sample_of
from game.audio.output import CHANNELS, SoundOutput, SoundStatus, gain
from game.audio.played_line import PlayedLine, SoundedNote
from game.audio.pluck import PluckedStrings
from game.audio.sound import Sound, open_sound, silence
from game.clock import HandClock
from game.music.accompanying import Manner
from game.music.clicking import ClickSound
from game.music.volumes import Volumes
from game.player.settings import Settings
from game.text.catalogue import say
from tests.audio.lead_sheets import accompanied, sheet
from tests.made import bar

RATE = 44100
USUAL = Settings().volumes


def test_the_advice_on_listening_states_the_recommendation():
    """80 dB for 40 hours a week, 3 dB halve the time, children 75 dB (WHO-ITU H.870)."""
    assert all(fact in say("care.listening") for fact in ("80 dB", "40 hours", "3 dB", "75 dB"))


@pytest.mark.parametrize("status", SoundStatus)
def test_of_every_state_in_which_something_is_wrong_there_is_a_sentence_for_the_page(status):
    sound = Sound(SoundOutput(status=status), USUAL)
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


def test_click_guitar_and_accompaniment_are_as_loud_as_each_is_set():
    """Volumes are squared; the click at its loudest has 0.6 of full scale, the others 0.8."""
    sound = Sound(SoundOutput(), USUAL)
    sound.set_volumes(Volumes(click=0.5, guitar=1.0, accompaniment=0.25))
    assert sound.metronome.click_sound is ClickSound.WOODEN
    gains = [player._gains for player in (sound.metronome._player, sound.strings._player)]
    assert gains == [pytest.approx([0.6 * 0.25, 0.8 * 0.0625], abs=0.002), pytest.approx([0.8, 0.05], abs=0.002)]


def test_nothing_clips_when_all_are_at_their_loudest_and_sound_together():
    """Accents, bass and chords, and a fast run of plucked notes whose last six ring on, as six channels let them."""
    sound = Sound(SoundOutput(), Volumes(click=1.0, guitar=1.0, accompaniment=1.0))
    clicks, band = (layer.astype(float) for layer in accompanied_take(manner=Manner.BOSSA))
    run = np.zeros(len(clicks) + 3 * RATE)
    strings = PluckedStrings(RATE)
    starts = [round((0.25 + beat * 60 / 173 / 3) * RATE) for beat in range(3 * 32)]
    for index, start in enumerate(starts):
        wave = strings.wave(52 + 4 * index % 21).astype(float)
        stop = starts[index + 6] - start if index + 6 < len(starts) else len(wave)
        run[start : start + min(len(wave), stop)] += gain(80 / 127) * wave[:stop]
    click_gain, band_gain = sound.metronome._player._gains
    mixed = click_gain * clicks + band_gain * band + sound.strings._player._gains[0] * run[: len(clicks)]
    assert np.abs(clicks).max() > 26000
    assert 0.5 * 32767 < np.abs(mixed).max() < 32767


def accompanied_take(manner: Manner) -> tuple[np.ndarray, np.ndarray]:
    """Clicks alone, and bass and chords alone, as they are mixed, at full volume."""
    bars = [sheet("E5 q, D5 q, C5 q, B4 q", text) for text in ("Dm7 0", "G7 0", "Cmaj7 0", "A7b9 0") * 2]
    row = clicks_of(bars, ClickSettings(tempo_bpm=173, count_in_bars=0))
    sounds, band = click_sounds(RATE), AccompanimentSounds(RATE)
    notes = accompanied(*bars, manner=manner)
    strikes = accompaniment_strikes(notes, band, lambda at: sample_of(row, at, RATE))
    blocks = list(click_blocks(row, sounds, RATE, beside=strikes))
    clicks, chords = (np.concatenate([render(one, rate=RATE, layer=layer) for one in blocks])[:, 0] for layer in (0, 1))
    return clicks, chords


def test_a_note_no_string_of_ours_reaches_is_silent_and_no_fault(audible: SoundOutput):
    mixer.set_num_channels(CHANNELS)
    Sound(audible, USUAL).pluck(12)
    assert not mixer.get_busy()
    Sound(audible, USUAL).pluck(60)
    assert mixer.get_busy()


def test_opened_again_after_a_device_came_it_keeps_the_volumes_as_they_are(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    sound = open_sound(USUAL)
    sound.set_volumes(Volumes(click=0.3, guitar=0.2, accompaniment=0.1, click_sound=ClickSound.BRIGHT))
    try:
        again = sound.opened_again()
        assert again is not sound
        assert again.volumes == Volumes(click=0.3, guitar=0.2, accompaniment=0.1, click_sound=ClickSound.BRIGHT)
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
        open_sound(USUAL, anew=True)
        assert pygame.event.get(pygame.AUDIODEVICEADDED) == []
    finally:
        mixer.quit()


def test_a_capo_raises_strings_and_what_accompanies_them_from_the_next_sound_on():
    sound = Sound(SoundOutput(), USUAL)
    sound.set_volumes(Settings(capo=2).volumes)
    assert (sound.strings._strings.raised, sound.strings._band.raised, sound.metronome._band.raised) == (2, 2, 2)
    sound.set_volumes(USUAL)
    assert (sound.strings._strings.raised, sound.strings._band.raised, sound.metronome._band.raised) == (0, 0, 0)
