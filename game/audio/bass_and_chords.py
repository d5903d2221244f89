"""The sounds of the accompaniment: a plucked bass and a soft chord of up to three notes. numpy alone.

Both are the string of `pluck`, duller; a chord is one wave, so that its notes begin together.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import count
from typing import Any

import numpy as np
import numpy.typing as npt

from game.audio.accompaniment import AccompanimentNote
from game.audio.blocks import Strike, Wave
from game.audio.patterns import BandPart
from game.audio.pluck import Timbre, plucked

ACCOMPANIMENT_LAYER = 1
"""Of the streams that it sounds in, beside the click or the guitar."""

BASS_STRING = Timbre(plucked_at=1 / 7, brightness_hz=1200.0, ringing_s=3.0, ringing_at_hz=55.0, attack_s=0.004)
CHORD_STRING = Timbre(plucked_at=1 / 4, brightness_hz=1400.0, ringing_s=1.6, ringing_at_hz=165.0, attack_s=0.012)
"""Round rather than bright: to be heard under a guitar and not instead of it (ours)."""

_BASS_LENGTH_S, _CHORD_LENGTH_S = 2.5, 1.2

BASS_SHARE, CHORD_SHARE = 0.08, 0.048
"""Of the guitar string's own wave. In sixty lead sheets bass and chords were 12.5 dB below the written line on average,
and 10 to 15 dB (measured).
"""


SOFT = 0.6
"""What is left of a chord that reaches over the melody, which the ear would follow else: 4 to 5 dB less (ours)."""


class AccompanimentSounds:
    """Bass notes and chords at one rate, each rendered once. They sound so many semitones higher as they are
    `raised`.
    """

    def __init__(self, rate: int) -> None:
        self.rate = rate
        self.raised = 0
        self._waves: dict[tuple[BandPart, tuple[int, ...]], Wave] = {}
        self._strings: dict[int, Wave] = {}

    def wave(self, part: BandPart, soundings: tuple[int, ...]) -> Wave:
        """What a part sounds like at these MIDI numbers. Raises `AudioError` where that lies outside 21 to 108."""
        raised = tuple(sounding + self.raised for sounding in soundings)
        if (part, raised) not in self._waves:
            self._waves[part, raised] = self._rendered(part, raised)
        return self._waves[part, raised]

    def make_ready(self, notes: Iterable[AccompanimentNote]) -> None:
        """Render what they need beforehand, a few milliseconds each, so that nothing is rendered in a take."""
        for note in notes:
            self.wave(note.part, note.soundings)

    def _rendered(self, part: BandPart, soundings: tuple[int, ...]) -> Wave:
        if part is BandPart.BASS:
            bass = plucked(soundings[0], self.rate, length_s=_BASS_LENGTH_S, timbre=BASS_STRING)
            return _quieter(bass, BASS_SHARE)
        return _quieter(np.sum([self._string(note).astype(np.float32) for note in soundings], axis=0), CHORD_SHARE)

    def _string(self, sounding: int) -> Wave:
        """One note of a chord, kept for the next chord that has it."""
        if sounding not in self._strings:
            self._strings[sounding] = plucked(sounding, self.rate, length_s=_CHORD_LENGTH_S, timbre=CHORD_STRING)
        return self._strings[sounding]


def _quieter(wave: npt.NDArray[Any], share: float) -> Wave:
    quiet: Wave = np.rint(wave * share).astype(np.int16)
    return quiet


def looped_notes(notes: Sequence[AccompanimentNote], loop_quarters: Fraction) -> Iterator[AccompanimentNote]:
    """The notes again and again, without end, each time so much later."""
    for passes in count() if notes else ():
        for note in notes:
            later = passes * loop_quarters
            yield replace(note, onset_quarters=note.onset_quarters + later, stop_quarters=note.stop_quarters + later)


def accompaniment_strikes(
    notes: Iterable[AccompanimentNote], sounds: AccompanimentSounds, sample_at: Callable[[Fraction], int]
) -> Iterator[Strike]:
    """The strikes of an accompaniment in order; `sample_at` says where in the stream a place in quarter notes lies."""
    for note in notes:
        yield Strike(
            sample=sample_at(note.onset_quarters),
            wave=sounds.wave(note.part, note.soundings),
            left=SOFT if note.soft else 1.0,
            right=SOFT if note.soft else 1.0,
            damped_sample=sample_at(note.stop_quarters),
            layer=ACCOMPANIMENT_LAYER,
        )
