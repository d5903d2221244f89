"""Clicks as strikes of a stream: each at its own absolute sample, whatever came before.

Click k of an even row stands at round((lead + k * 60 / bpm) * rate), loops included: pass j of a looped passage
begins at lead + j * loop. All of it is reckoned in exact fractions, so the spacing is off by 0 samples for ever.
"""

import heapq
import wave
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

import numpy as np

from game.audio.beats import Click, ClickKind, ClickRow
from game.audio.blocks import Block, Strike, Wave, blocks_of
from game.errors import AudioError
from game.music.clicking import ClickSound
from game.paths import shipped

LEAD_IN_S = Fraction(1, 4)
"""Silence before the first click: time for the card to settle and for the player to look up."""

ClickSounds = Mapping[ClickKind, Wave]


_FILES = {ClickSound.WOODEN: "{kind}.wav", ClickSound.BRIGHT: "bright_{kind}.wav"}


def click_sounds(rate: int, sound: ClickSound = ClickSound.WOODEN) -> ClickSounds:
    """The shipped sounds at the output's rate. Raises `AudioError` when one cannot be read."""
    return {kind: _loaded(_FILES[sound].format(kind=kind.value), rate) for kind in ClickKind}


def _loaded(name: str, rate: int) -> Wave:
    path = shipped("sounds", name)
    try:
        with wave.open(str(path), "rb") as file:
            if (file.getnchannels(), file.getsampwidth()) != (1, 2):
                raise AudioError("audio.sound_not_mono_16_bit", file=path)
            own_rate = file.getframerate()
            row: Wave = np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.int16)
    except (OSError, EOFError, wave.Error) as error:
        raise AudioError("audio.sound_unreadable", file=path, fault=error) from error
    if own_rate == rate:
        return row
    at = np.arange(len(row) * rate // own_rate) * (own_rate / rate)
    resampled: Wave = np.rint(np.interp(at, np.arange(len(row)), row)).astype(np.int16)
    return resampled


def onset_0_s(row: ClickRow) -> Fraction:
    """Where onset 0 lies in the stream: after the lead-in and the count-in."""
    return LEAD_IN_S + row.exact_s(-row.start_quarters)


def click_samples(row: ClickRow, rate: int, *, looping: bool = False) -> Iterator[tuple[int, Click]]:
    """Every click with its sample in the stream, counted from 0; without end when the passage loops."""
    for click in (*row.count_in, *row.music):
        yield sample_of(row, click.onset_quarters, rate), click
    passes = 0
    while looping and (row.music or row.leading_back):
        for click in row.leading_back:
            yield sample_of(row, passes * row.loop_quarters + click.onset_quarters, rate), click
        passes += 1
        for click in row.music:
            yield sample_of(row, passes * row.loop_quarters + click.onset_quarters, rate), click


def click_blocks(
    row: ClickRow, sounds: ClickSounds, rate: int, *, looping: bool = False, beside: Iterable[Strike] = ()
) -> Iterator[Block]:
    """The blocks of a take, lead-in and count-in first. `beside` are strikes of other layers, in order."""
    strikes = (
        Strike(sample=sample, wave=sounds[click.kind]) for sample, click in click_samples(row, rate, looping=looping)
    )
    end_s = onset_0_s(row) + row.exact_s(row.end_quarters)
    together = heapq.merge(strikes, beside, key=lambda strike: strike.sample)
    return blocks_of(together, rate=rate, end_sample=round(end_s * rate))


def sample_of(row: ClickRow, quarters: Fraction, rate: int) -> int:
    """The sample of the stream at which a place in score time is heard."""
    return round((onset_0_s(row) + row.exact_s(quarters)) * rate)
