"""A draft as a Score: bars, spellings, ties, signs. Pure.

Pitches that have no place in time yet stand one to a beat after those that have.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate

from game.music.barring import BarFrame, LineNote, bars_of
from game.music.chords import ChordSymbol
from game.music.pitch import MAX_ALTER, SEMITONES_OF_STEP, STEPS, Pitch
from game.music.score import Bar, BarLine, BarMarks, Note, Rest, Score
from game.music.written import HeadId
from game.tunes.entering.draft import Draft, bar_line_from
from game.tunes.midi.spelled_line import spelled_line


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftPage:
    """A draft as it is printed: `heads` are the noteheads of each pitch, the first and those tied to it."""

    score: Score
    heads: tuple[tuple[HeadId, ...], ...]

    def pitch_at(self, head: HeadId) -> int | None:
        """The pitch a notehead stands for, None for one that is not there."""
        return next((index for index, heads in enumerate(self.heads) if head in heads), None)


def draft_page(draft: Draft) -> DraftPage:
    """The page of a draft with at least one pitch; bars are numbered as printed, the pickup bar with 0."""
    notes = _line(draft)
    bars = list(bars_of(_frames(draft, notes), notes))
    bars = [_with_chords(bar, _chords_in(draft, start, bar)) for start, bar in _placed(draft, bars)]
    bars = [replace(bar, marks=_marks(draft, index, len(bars))) for index, bar in enumerate(bars)]
    score = Score(
        title=draft.title, composer=draft.composer, reading=draft.reading, bars=tuple(bars), swung=draft.swung
    )
    return DraftPage(score=score, heads=_heads(bars, len(draft.pitches)))


def spellings(draft: Draft) -> tuple[Pitch, ...]:
    """The pitches as they stand on the page."""
    up = 12 * (draft.octaves + draft.reading.octaves_down)
    written = [pitch.sounding + up for pitch in draft.pitches]
    line = spelled_line(written, [draft.key] * len(written))
    return tuple(
        other_spelling(plain) if pitch.respelled else plain for pitch, plain in zip(draft.pitches, line, strict=True)
    )


def other_spelling(pitch: Pitch) -> Pitch:
    """The same key of a piano by another letter, with the fewest signs; itself where there is no other."""
    options = []
    for step in STEPS:
        for alter in range(-MAX_ALTER, MAX_ALTER + 1):
            octave, rest = divmod(pitch.midi - alter - SEMITONES_OF_STEP[step], 12)
            if rest == 0 and step != pitch.step:
                options.append(Pitch(step, alter, octave - 1))
    return min(options, key=lambda other: (abs(other.alter), other), default=pitch)


def _line(draft: Draft) -> list[LineNote]:
    pitches = spellings(draft)
    line = [
        LineNote(
            onset=draft.onsets[index].at, length=draft.end_of(index) - draft.onsets[index].at, pitch=pitches[index]
        )
        for index in range(draft.timed)
    ]
    beat, at = draft.meter.beat_length, open_from(draft)
    for index, pitch in enumerate(pitches[draft.timed :]):
        line.append(LineNote(onset=at + index * beat, length=beat, pitch=pitch))
    return line


def open_from(draft: Draft) -> Fraction:
    """From where on there is no rhythm yet."""
    return draft.settled if draft.onsets else draft.start


def _frames(draft: Draft, notes: Sequence[LineNote]) -> list[BarFrame]:
    """Bars to the end of the music."""
    end = bar_line_from(draft, max((note.onset + note.length for note in notes), default=Fraction(0)))
    length = draft.meter.bar_length
    starts = [length * bar for bar in range(int(max(end, length) / length))]
    frames = [BarFrame(start, length, draft.meter, draft.key) for start in starts]
    if draft.begins_early:
        frames.insert(0, BarFrame(draft.start, draft.pickup, draft.meter, draft.key, pickup=True))
    return frames


def _placed(draft: Draft, bars: Sequence[Bar]) -> list[tuple[Fraction, Bar]]:
    starts = accumulate((bar.length for bar in bars), initial=draft.start if draft.begins_early else Fraction(0))
    return list(zip(starts, bars, strict=False))


def _chords_in(draft: Draft, start: Fraction, bar: Bar) -> tuple[ChordSymbol, ...]:
    inside = (chord for chord in draft.chords if start <= chord.onset < start + bar.length)
    return tuple(replace(chord, onset=chord.onset - start) for chord in inside)


def _with_chords(bar: Bar, chords: tuple[ChordSymbol, ...]) -> Bar:
    return replace(bar, chords=chords)


def _marks(draft: Draft, index: int, count: int) -> BarMarks:
    """The signs of a bar; those of its neighbours say where its bracket starts and stops."""
    first = -1 if draft.begins_early else 0
    bar = first + index
    here, before, after = draft.signs_of(bar), draft.signs_of(bar - 1), draft.signs_of(bar + 1)
    stops = bool(here.ending) and (index + 1 == count or after.ending != here.ending)
    # Who writes a first ending means that one goes back from it.
    back = here.repeat_end or (here.ending == 1 and stops)
    return BarMarks(
        repeat_start=here.repeat_start,
        repeat_end=2 if back else 0,
        endings=(here.ending,) if here.ending else (),
        ending_starts=bool(here.ending) and before.ending != here.ending,
        ending_stops=stops,
        bar_line=BarLine.FINAL if draft.complete and index + 1 == count and not back else None,
    )


def _heads(bars: Sequence[Bar], count: int) -> tuple[tuple[HeadId, ...], ...]:
    heads: list[list[HeadId]] = []
    for index, bar in enumerate(bars):
        for position, event in enumerate(bar.events):
            if isinstance(event, Rest):
                continue
            if isinstance(event, Note) and not (event.tied_from_previous and heads):
                heads.append([])
            heads[-1].append(HeadId(index, position))
    assert len(heads) == count, "every pitch has its noteheads"
    return tuple(map(tuple, heads))
