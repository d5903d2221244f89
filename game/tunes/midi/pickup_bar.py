"""Where the bars of a played line begin: silence before the first note, and pickups no sign tells of. Pure."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from game.message import Message, message
from game.music.barring import BarFrame

# Bar lines are moved only when many notes are tied over them, and hardly any elsewhere (ours).
_LEAST_CROSSED = 3
_MOST_LEFT = Fraction(1, 4)


def without_leading_silence(
    bar_frames: Sequence[BarFrame], first_onset: Fraction
) -> tuple[list[BarFrame], Fraction, list[Message]]:
    """The bars from the one in which the music begins, how much earlier everything is now, and what to say of it.

    A bar that is silent for its first half or longer is a pickup bar, as long as what sounds in it.
    """
    frames = list(bar_frames)
    empty = sum(frame.start + frame.length <= first_onset for frame in frames)
    empty = min(empty, len(frames) - 1)
    said = [message("midi.empty_bars", count=empty)] if empty else []
    frames = frames[empty:]
    shift = frames[0].start
    silence = first_onset - shift
    if len(frames) > 1 and 2 * silence >= frames[0].length:
        frames[0] = replace(frames[0], start=first_onset, length=frames[0].length - silence, pickup=True)
        shift = first_onset
    return [replace(frame, start=frame.start - shift) for frame in frames], shift, said


def with_bar_lines_moved(
    bar_frames: list[BarFrame], onsets: Sequence[Fraction], ends: Sequence[Fraction]
) -> list[BarFrame]:
    """The same bars, or, where notes are tied over nearly all bar lines, bars after a pickup that avoids it."""
    first = bar_frames[0]
    length, beat = first.length, first.meter.beat_length
    if any(frame.meter != first.meter or frame.length != length for frame in bar_frames) or len(bar_frames) < 3:
        return bar_frames
    crossed = _crossed(onsets, ends, Fraction(0), length)
    starts = [beat * step for step in range(1, int(length / beat))]
    if crossed < _LEAST_CROSSED or not starts:
        return bar_frames
    best = min(starts, key=lambda start: _crossed(onsets, ends, start, length))
    if _crossed(onsets, ends, best, length) > _MOST_LEFT * crossed:
        return bar_frames
    pickup = replace(first, length=best, pickup=True)
    later = [replace(frame, start=frame.start + best) for frame in bar_frames]
    return [pickup, *(frame for frame in later if frame.start < ends[-1])]


def _crossed(onsets: Sequence[Fraction], ends: Sequence[Fraction], start: Fraction, length: Fraction) -> int:
    """How many notes sound on over a bar line, with bar lines at `start` and every `length` from there."""
    return sum(
        (onset - start) // length != -((start - end) // length) - 1 for onset, end in zip(onsets, ends, strict=True)
    )
