"""The bars of a take put together again from the notes asked, which is all a log keeps of the music.

Pitches, onsets, lengths and metres are those of the log. How a length was divided into tied heads, which signature a
letter has that does not occur, and how long the last bar is, the log does not say: of what may be, the bars are taken
whose passage key is the one logged; where none has it, the plainest stand.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise, product
from math import lcm

from game.judging.expected import ExpectedNote
from game.music.barring import BarFrame, LineNote, bars_of
from game.music.keys import MAX_FIFTHS, Key
from game.music.passage import Passage, whole_tune
from game.music.score import Reading, Score
from game.music.written import WrittenNote, written_notes
from game.practice_log.rows.log_records import Asked, Bars
from game.practice_log.rows.passage_key import passage_key

MOST_BARS, MOST_NOTES = 200, 1_000
"""More are not put on a page of a report. Ours."""

_LONGEST, _FINEST = 2, 20_000
"""A bar is no longer than so many of its metre's, and a quarter note is divided into no more parts. Ours: what is
beyond comes out of a broken file, and would be engraved for ever.
"""

_FIFTHS = sorted(range(-MAX_FIFTHS, MAX_FIFTHS + 1), key=abs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rebuilt:
    """A passage, its notes as they were asked, and whether its content is surely that of the page (by passage key)."""

    passage: Passage
    expected: tuple[ExpectedNote, ...]
    sure: bool


def rebuilt(asked: Asked, bars: Bars, reading: Reading) -> Rebuilt | None:
    """The passage of a take; None where the notes asked do not fill bars, or are too many for a page."""
    notes = [expected.note for expected in asked.notes]
    if not 0 < len(notes) <= MOST_NOTES or not 0 < len(asked.spans) <= MOST_BARS or not _on_a_grid(asked):
        return None
    numbers, keys = _numbers(notes, len(asked.spans)), _keys(notes, len(asked.spans))
    plainest: Rebuilt | None = None
    for last_length, key, middle_shown in product(_last_lengths(asked), keys, (False, True)):
        frames = _frames(asked, last_length, key)
        if frames is None:
            continue
        made = _filled(frames, numbers, asked.notes, bars.title, reading, middle_shown=middle_shown)
        if made is None:
            continue
        if passage_key(made.passage) == bars.passage_key:
            return replace(made, sure=True)
        plainest = plainest or made
    return plainest


def _on_a_grid(asked: Asked) -> bool:
    """Whether all times are multiples of a part of a quarter note that can be printed."""
    times = [*(time for one in asked.notes for time in (one.note.onset, one.note.length))]
    parts = 1
    for time in (*times, *(span.start for span in asked.spans)):
        parts = lcm(parts, time.denominator)
        if parts > _FINEST:
            return False
    return True


def _filled(
    frames: Sequence[BarFrame],
    numbers: Sequence[str],
    expected: Sequence[ExpectedNote],
    title: str,
    reading: Reading,
    *,
    middle_shown: bool,
) -> Rebuilt | None:
    """Frames filled with the notes; None where other notes come out than were asked."""
    lines = [LineNote(onset=one.note.onset, length=one.note.length, pitch=one.note.pitch) for one in expected]
    bars = bars_of(frames, lines, middle_shown=middle_shown)
    filled = tuple(replace(bar, number=number) for bar, number in zip(bars, numbers, strict=False))
    written = written_notes(filled, reading)
    wanted = [(one.note.onset, one.note.length, one.note.pitch, one.note.sounding) for one in expected]
    if [(note.onset, note.length, note.pitch, note.sounding) for note in written] != wanted:
        return None
    passage = whole_tune(Score(title=title, reading=reading, bars=filled))
    asked = tuple(replace(one, note=note) for one, note in zip(expected, written, strict=True))
    return Rebuilt(passage=passage, expected=asked, sure=False)


def _frames(asked: Asked, last_length: Fraction, keys: Sequence[int]) -> list[BarFrame] | None:
    """Empty bars from the spans. A first span that begins before 0 is that of a pickup bar."""
    first, *rest = asked.spans
    starts = [Fraction(0), *(span.start for span in rest)]
    lengths = [after - here for here, after in pairwise(starts)] + [last_length]
    if any(
        not 0 < length <= _LONGEST * span.meter.bar_length for length, span in zip(lengths, asked.spans, strict=True)
    ):
        return None
    return [
        BarFrame(start, length, span.meter, Key(fifths), pickup=index == 0 and first.start < 0)
        for index, (start, length, span, fifths) in enumerate(zip(starts, lengths, asked.spans, keys, strict=True))
    ]


def _last_lengths(asked: Asked) -> tuple[Fraction, ...]:
    """How long the last bar may be: whole, or as long as its notes, which is how a tune with a pickup ends."""
    last, note = asked.spans[-1], asked.notes[-1].note
    start = max(last.start, Fraction(0))
    whole = last.start + last.meter.bar_length - start
    to_last_note = note.onset + note.length - start
    return (whole, to_last_note) if 0 < to_last_note < whole else (whole,)


def _numbers(notes: Sequence[WrittenNote], count: int) -> tuple[str, ...]:
    """The printed number of each bar; a bar of rests follows the one before it."""
    told = {note.heads[0].bar: note.bar for note in notes}
    numbers: list[str] = []
    for index in range(count):
        before = numbers[-1] if numbers else ""
        numbers.append(told.get(index, str(int(before) + 1) if before.isdecimal() else ""))
    return tuple(numbers)


def _keys(notes: Sequence[WrittenNote], count: int) -> Iterator[tuple[int, ...]]:
    """Signatures, bar by bar, that do to each letter what was logged, in sharps (flats negative), the plainest first.

    Where one signature serves for all bars, all that may be are given; else the plainest for each run of bars.
    """
    fitting = [[fifths for fifths in _FIFTHS if _fits(fifths, notes, index)] for index in range(count)]
    everywhere = [fifths for fifths in _FIFTHS if all(fifths in some for some in fitting)]
    if everywhere:
        yield from ((fifths,) * count for fifths in everywhere)
        return
    keys: list[int] = []
    run: list[int] = []
    begun = 0
    for index, some in enumerate(fitting):
        both = [fifths for fifths in run if fifths in some]
        if not both:
            keys += [run[0]] * (index - begun) if run else []
            begun, both = index, some or [0]
        run = both
    yield (*keys, *[run[0]] * (count - begun))


def _fits(fifths: int, notes: Sequence[WrittenNote], bar: int) -> bool:
    key = Key(fifths)
    return all(key.alter_of(note.pitch.step) == note.signature for note in notes if note.heads[0].bar == bar)
