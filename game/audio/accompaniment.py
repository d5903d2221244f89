"""Bass and chords from the chord symbols of a passage: what is struck when, and at which pitches. Pure.

Score time is in quarter notes from onset 0, where the bars begin, as with the clicks; a stroke falls where the same
note of the melody would, swung as the take is.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest

from game.audio.chord_spans import ChordSpan, chord_spans
from game.audio.click_bars import ClickBar, placed_bars
from game.audio.patterns import BandPart, bar_pattern, manner_of
from game.audio.swung_places import SwungPlaces
from game.judging.swing import STRAIGHT
from game.music.accompanying import Manner
from game.music.bass_notes import bass_note, bass_note_near
from game.music.chord_tones import ChordTones
from game.music.chords import ChordSymbol
from game.music.score import Bar, Reading
from game.music.voicing import ChordPlace, voiced
from game.music.written import WrittenNote, written_notes

_WALKS_FROM = 3
"""Over fewer beats of a chord the bass has root and fifth (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AccompanimentNote:
    """One bass note, or the notes of a chord (`soundings`, MIDI numbers), from `onset_quarters` until damped at
    `stop_quarters`. `soft` where any lies over the melody.
    """

    onset_quarters: Fraction
    stop_quarters: Fraction
    part: BandPart
    soundings: tuple[int, ...]
    soft: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stroke:
    """A stroke as printed, in the bar and the chord that it belongs to (indices)."""

    at: Fraction
    stop: Fraction
    part: BandPart
    bar: int
    span: int


def accompaniment_of(
    bars: Sequence[Bar],
    reading: Reading,
    *,
    quarter_bpm: Fraction,
    manner: Manner = Manner.BY_TUNE,
    swing: float = STRAIGHT,
    before: ChordSymbol | None = None,
) -> tuple[AccompanimentNote, ...]:
    """Bass and chords of written-out bars in order of onset, none where no chord is in force.

    `before` is the chord in force where the bars begin. `swing` is long:short. Chords are below the lowest note of the
    melody that sounds with them; around it or above, and soft, where it is too low for that.
    """
    spans = chord_spans(bars, before=before)
    if not spans:
        return ()
    manner = manner_of(manner, quarter_bpm=quarter_bpm, swung=swing != STRAIGHT)
    placed, melody = placed_bars(bars), written_notes(bars, reading)
    strokes = _strokes(placed, spans, manner)
    basses = [stroke for stroke in strokes if stroke.part is BandPart.BASS]
    chords = [stroke for stroke in strokes if stroke.part is BandPart.CHORD]
    notes = _bass_line(basses, spans, placed, manner)
    places = _places(chords, spans, basses, notes, melody)
    pitched = [
        *((stroke, (note,), False) for stroke, note in zip(basses, notes, strict=True)),
        *(
            (stroke, voicing, place.is_over_melody(voicing))
            for stroke, place, voicing in zip(chords, places, voiced(places), strict=True)
        ),
    ]
    late = SwungPlaces(placed, [*(note.onset for note in melody), *(stroke.at for stroke in strokes)], swing)
    heard = [_sounded(stroke, soundings, late, soft=soft) for stroke, soundings, soft in pitched if soundings]
    return tuple(sorted(heard, key=lambda note: (note.onset_quarters, note.part.value)))


def _sounded(stroke: _Stroke, soundings: tuple[int, ...], late: SwungPlaces, *, soft: bool) -> AccompanimentNote:
    """As it sounds. One at the end of a bar that stops within its beat has no room to come late."""
    onset, stop = late.of(stroke.at), late.of(stroke.stop)
    return AccompanimentNote(
        onset_quarters=onset if onset < stop else stroke.at,
        stop_quarters=stop,
        part=stroke.part,
        soundings=soundings,
        soft=soft,
    )


def _strokes(placed: Sequence[ClickBar], spans: Sequence[ChordSpan], manner: Manner) -> list[_Stroke]:
    """All strokes in order. A chord that no stroke of the pattern falls in is struck where it begins, and its bass
    wherever it begins.
    """
    strokes = list(_of_pattern(placed, spans, manner))
    struck = {(stroke.at, stroke.part) for stroke in strokes}
    with_chord = {stroke.span for stroke in strokes if stroke.part is BandPart.CHORD}
    starts = [bar.start for bar in placed]
    for index, span in enumerate(spans):
        bar = bisect_right(starts, span.start) - 1
        beat = placed[bar].meter.beat_length
        if (span.start, BandPart.BASS) not in struck:
            strokes.append(_Stroke(at=span.start, stop=span.stop, part=BandPart.BASS, bar=bar, span=index))
        if index not in with_chord and span.tones.telling:
            stop = min(span.stop, span.start + beat)
            strokes.append(_Stroke(at=span.start, stop=stop, part=BandPart.CHORD, bar=bar, span=index))
    return list(_damped(sorted(strokes, key=lambda stroke: stroke.at)))


def _of_pattern(placed: Sequence[ClickBar], spans: Sequence[ChordSpan], manner: Manner) -> Iterator[_Stroke]:
    """The pattern of each bar, again and again where a bar is longer than its metre, where a chord is in force."""
    starts = [span.start for span in spans]
    for number, bar in enumerate(placed):
        round_start = bar.first_beat
        while round_start < bar.stop:
            for stroke in bar_pattern(bar.meter, manner):
                at = round_start + stroke.at
                index = bisect_right(starts, at) - 1
                if bar.start <= at < bar.stop and index >= 0 and at < spans[index].stop:
                    stop = min(at + stroke.length, spans[index].stop)
                    yield _Stroke(at=at, stop=stop, part=stroke.part, bar=number, span=index)
            round_start += bar.meter.bar_length


def _damped(strokes: Sequence[_Stroke]) -> Iterator[_Stroke]:
    """Each stroke no longer than until the next of its part; a bass rings on until then, within its chord."""
    for part in BandPart:
        row = [stroke for stroke in strokes if stroke.part is part]
        ends = [after.at for after in row[1:]]
        for stroke, end in zip_longest(row, ends):
            yield stroke if end is None else replace(stroke, stop=min(stroke.stop, end))


def _bass_line(
    basses: Sequence[_Stroke], spans: Sequence[ChordSpan], placed: Sequence[ClickBar], manner: Manner
) -> list[int]:
    """The pitch of each bass stroke: root and fifth in turn, from the root where a chord begins, or a bar whose metre
    gives the bass more than one; walking over root, third and fifth. A bass that is written stays.
    """
    together = Counter((stroke.bar, stroke.span) for stroke in basses)
    notes: list[int] = []
    turn = 0
    for at, stroke in enumerate(basses):
        before = basses[at - 1] if at else stroke
        new_bar = before.bar != stroke.bar and _has_several(placed[stroke.bar], manner)
        turn = 0 if at == 0 or before.span != stroke.span or new_bar else turn + 1
        walking = manner is Manner.FOUR_BEAT and together[stroke.bar, stroke.span] >= _WALKS_FROM
        notes.append(_bass_pitch(spans[stroke.span].tones, turn, walking=walking))
    return notes


def _has_several(bar: ClickBar, manner: Manner) -> bool:
    return sum(stroke.part is BandPart.BASS for stroke in bar_pattern(bar.meter, manner)) > 1


def _bass_pitch(tones: ChordTones, turn: int, *, walking: bool) -> int:
    low = bass_note(tones.bass)
    if tones.over_bass:
        return low
    row = (tones.root, tones.third, tones.fifth, tones.third) if walking else (tones.root, tones.fifth)
    return bass_note_near(row[turn % len(row)], low)


def _places(
    chords: Sequence[_Stroke],
    spans: Sequence[ChordSpan],
    basses: Sequence[_Stroke],
    bass_notes: Sequence[int],
    melody: Sequence[WrittenNote],
) -> list[ChordPlace]:
    """Every chord stroke over the bass and beside the melody that sound with it."""
    starts = [stroke.at for stroke in basses]
    heard = [_melody_with(melody, stroke) for stroke in chords]
    return [
        ChordPlace(
            telling=spans[stroke.span].tones.telling,
            bass=bass_notes[bisect_right(starts, stroke.at) - 1],
            melody=min(with_it, default=None),
            highest=max(with_it, default=None),
        )
        for stroke, with_it in zip(chords, heard, strict=True)
    ]


def _melody_with(melody: Sequence[WrittenNote], stroke: _Stroke) -> list[int]:
    """The notes of the melody that sound at any moment of a stroke."""
    stop = bisect_right(melody, stroke.stop, key=lambda note: note.onset)
    first = bisect_right(melody, stroke.at, key=lambda note: note.onset + note.length)
    return [note.sounding for note in melody[first:stop] if note.onset < stroke.stop]
