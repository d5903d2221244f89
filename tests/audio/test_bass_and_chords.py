"""The sounds of bass and chords, by their samples."""

from dataclasses import replace
from fractions import Fraction
from itertools import islice, pairwise

import numpy as np
import numpy.typing as npt
import pytest

from game.audio.accompaniment import AccompanimentNote
from game.audio.bass_and_chords import SOFT, AccompanimentSounds, accompaniment_strikes, looped_notes
from game.audio.blocks import blocks_of, render
from game.audio.patterns import BandPart
from game.audio.played_line import PlayedAccompaniment, PlayedLine, SoundedNote, line_blocks
from game.audio.pluck import PluckedStrings
from game.music.accompanying import Manner
from game.music.pitch import frequency_hz
from game.music.score import Reading
from game.music.written import written_notes
from tests.audio.lead_sheets import accompanied, sheet

RATE = 44100
CHORUS = [
    sheet("E4 q, F4 q, A4 q, C5 q", "Dm7 0"),
    sheet("B4 h, G4 q, D5 q", "G7 0"),
    sheet("E5 e, D5 e, C5 h, G4 q", "Cmaj7 0"),
    sheet("A4 w", "A7b9 0"),
    sheet("F4 q, A4 q, C5 q, A4 q", "Dm7 0"),
    sheet("G4 q, B4 q, D5 h", "G13 0"),
    sheet("C5 q, E5 q, G4 h", "C6 0, Am7 2"),
    sheet("C5 w", "C6 0"),
]


def heard(manner: Manner) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """The written line, and bass and chords, each alone, at one volume."""
    bpm = Fraction(112)
    line = PlayedLine(
        notes=tuple(
            SoundedNote(onset_s=float(note.onset * 60 / bpm), sounding=note.sounding)
            for note in written_notes(CHORUS, Reading.CONCERT)
        )
    )
    band = PlayedAccompaniment(notes=accompanied(*CHORUS, manner=manner), quarter_bpm=bpm)
    beside = band.strikes(AccompanimentSounds(RATE))
    blocks = list(line_blocks([line], PluckedStrings(RATE), beside=beside))
    stop = round(32 * 60 / 112 * RATE)
    line_alone, band_alone = (
        np.concatenate([render(block, rate=RATE, layer=layer) for block in blocks]).astype(float)[:stop, 0]
        for layer in (0, 1)
    )
    return line_alone, band_alone


@pytest.mark.parametrize("manner", [Manner.TWO_BEAT, Manner.FOUR_BEAT, Manner.BOSSA])
def test_bass_and_chords_are_about_twelve_decibels_below_the_written_line(manner):
    line, band = heard(manner)
    below = 10 * np.log10((band**2).mean() / (line**2).mean())
    assert -14 < below < -10
    assert abs(band.mean()) < 0.002 * np.abs(band).max(), "no constant part"


@pytest.mark.parametrize("sounding", [28, 33, 41])
def test_a_bass_note_is_in_tune_and_heard_from_a_small_loudspeaker_too(sounding):
    """Some of it lies above 150 Hz, which small loudspeakers still give back."""
    wave = AccompanimentSounds(RATE).wave(BandPart.BASS, (sounding,)).astype(float)
    spectrum = np.abs(np.fft.rfft(wave * np.hanning(len(wave)), 1 << 20)) ** 2
    bin_hz = RATE / (1 << 20)
    near = frequency_hz(sounding)
    low, high = int(0.97 * near / bin_hz), int(1.03 * near / bin_hz)
    found = (low + int(spectrum[low:high].argmax())) * bin_hz
    assert abs(1200 * np.log2(found / near)) < 2
    assert spectrum[int(150 / bin_hz) :].sum() > 0.1 * spectrum.sum()


def test_a_chord_has_its_three_notes_from_one_sample_on_begins_softly_and_dies_away():
    wave = AccompanimentSounds(RATE).wave(BandPart.CHORD, (53, 57, 60)).astype(float)
    spectrum = np.abs(np.fft.rfft(wave * np.hanning(len(wave)), 1 << 19))
    bin_hz = RATE / (1 << 19)
    peaks = [spectrum[int(hz / bin_hz) - 20 : int(hz / bin_hz) + 20].max() for hz in map(frequency_hz, (53, 57, 60))]
    between = spectrum[int(frequency_hz(55) / bin_hz)]
    assert min(peaks) > 10 * between
    loudness = [float(np.sqrt((wave[at : at + 4410] ** 2).mean())) for at in range(2205, len(wave) - 4410, 8820)]
    assert loudness == sorted(loudness, reverse=True)
    assert loudness[-1] < loudness[0] / 4
    assert np.abs(np.diff(wave)).max() < 0.25 * np.abs(wave).max(), "no crack"
    assert (wave[0], wave[-1]) == (0, 0)


def test_where_blocks_join_and_notes_are_damped_nothing_cracks():
    """No step from sample to sample is larger than within the sounds themselves."""
    sounds = AccompanimentSounds(RATE)
    band = PlayedAccompaniment(notes=accompanied(*CHORUS), quarter_bpm=Fraction(112))
    within = max(int(np.abs(np.diff(sounds.wave(one.part, one.soundings).astype(int))).max()) for one in band.notes)
    blocks = list(line_blocks([], PluckedStrings(RATE), beside=band.strikes(sounds)))
    assert len(blocks) > 5
    stream = np.concatenate([render(block, rate=RATE, layer=1) for block in blocks])[:, 0].astype(int)
    assert np.abs(np.diff(stream)).max() <= 2.5 * within


def test_a_block_that_is_put_off_or_shortened_glides_into_its_place():
    """As when a card's clock drifts: what rings over the joint goes on without a crack."""
    sounds = AccompanimentSounds(RATE)
    band = PlayedAccompaniment(notes=accompanied(*CHORUS), quarter_bpm=Fraction(112))
    blocks = list(blocks_of(band.strikes(sounds), rate=RATE))
    for before, after in pairwise(blocks[:6]):
        first = render(before, rate=RATE, layer=1)[:, 0].astype(int)
        usual = np.abs(np.diff(first)).max()
        for put_off in (176, -176):
            then = render(after, rate=RATE, start=after.start - put_off, layer=1)[:, 0].astype(int)
            assert len(then) == after.stop - after.start + put_off
            joined = np.concatenate([first[-500:], then[:1500]])
            assert np.abs(np.diff(joined)).max() <= usual
            assert np.array_equal(then[900:], render(after, rate=RATE, layer=1)[900 - put_off :, 0])


def test_strikes_stand_where_they_are_told_and_loops_go_on_for_ever():
    note = AccompanimentNote(onset_quarters=Fraction(1), stop_quarters=Fraction(2), part=BandPart.BASS, soundings=(33,))
    again = list(islice(looped_notes((note,), Fraction(7, 2)), 3))
    assert [one.onset_quarters for one in again] == [1, Fraction(9, 2), 8]
    strikes = list(accompaniment_strikes(again, AccompanimentSounds(RATE), lambda at: int(1000 * at)))
    assert [(one.sample, one.damped_sample, one.layer) for one in strikes] == [
        (1000, 2000, 1),
        (4500, 5500, 1),
        (8000, 9000, 1),
    ]
    assert list(looped_notes((), Fraction(4))) == []


def test_a_chord_that_reaches_over_the_melody_is_softer():
    note = AccompanimentNote(
        onset_quarters=Fraction(0), stop_quarters=Fraction(1), part=BandPart.CHORD, soundings=(52, 55, 60)
    )
    usual, soft = accompaniment_strikes([note, replace(note, soft=True)], AccompanimentSounds(RATE), round)
    assert (usual.left, usual.right) == (1.0, 1.0)
    assert soft.left == soft.right == SOFT < 1
    assert (soft.wave == usual.wave).all()


@pytest.mark.parametrize(("part", "soundings"), [(BandPart.BASS, (33,)), (BandPart.CHORD, (52, 55, 59))])
def test_behind_a_capo_bass_and_chords_sound_so_much_higher(part, soundings):
    sounds, higher = AccompanimentSounds(RATE), AccompanimentSounds(RATE)
    sounds.raised = 2
    assert np.array_equal(sounds.wave(part, soundings), higher.wave(part, tuple(one + 2 for one in soundings)))
