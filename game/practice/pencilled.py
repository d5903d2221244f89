"""What the pencil writes on the page for a verdict: pure, so that page, result and pictures agree."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from game.judging.expected import ExpectedNote
from game.judging.letters import NamedNote
from game.judging.verdicts import EventKind, NoteVerdict, TakeEvent, Verdict
from game.music.keys import Key, spelled
from game.music.meter import Meter
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import Pitch
from game.music.score import Bar, Note, Reading
from game.music.written import HeadId, WrittenNote
from game.neck.tuning import Place
from game.practice.finished_take import FinishedTake


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedHead:
    """The pitch that was really played, as a small notehead where it would stand. `show_sign` when its accidental must
    be written, because the signature does not give it or the written note stands on the same line.
    """

    pitch: Pitch
    show_sign: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceMark:
    """A circled string number and a fret under the note. `home` when it tells the home rather than what was played."""

    place: Place
    home: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NameMark:
    """A name under the note, `row` lines down. `struck` when it was wrong and is crossed out."""

    text: str
    struck: bool = False
    row: int = 0


@dataclass(frozen=True, slots=True)
class MissedMark:
    """A mark at a note that was missed."""


@dataclass(frozen=True, slots=True)
class OffTimeMark:
    """A small arrow under a note that came early or late: for after the take, for in it it would only disturb."""

    early: bool


@dataclass(frozen=True, slots=True)
class SaidWrongMark:
    """A small cross at a note that its player said was wrong."""


@dataclass(frozen=True, slots=True)
class UnsureMark:
    """A small question mark at a note for which something was heard that could not be told: neither right nor wrong."""


@dataclass(frozen=True, slots=True)
class PaceMark:
    """A word under the note from which the player ran ahead of the click, or fell behind it."""

    text: str


@dataclass(frozen=True, slots=True)
class CountMark:
    """The count of a note, below all other marks: the beat, "&" half-way through it, "e" and "a" at its quarters."""

    text: str


Mark = PlayedHead | PlaceMark | NameMark | MissedMark | OffTimeMark | SaidWrongMark | UnsureMark | PaceMark | CountMark


@dataclass(frozen=True, slots=True)
class PlacedMark:
    """A mark at a printed notehead."""

    head: HeadId
    mark: Mark


def marks_of(note: ExpectedNote, verdict: NoteVerdict, *, key: Key, reading: Reading) -> tuple[PlacedMark, ...]:
    """The marks for one judged note. `key` spells what was played, `reading` puts it on the page."""
    mark = _mark_of(note, verdict, key, reading)
    return () if mark is None else (PlacedMark(note.note.heads[0], mark),)


def _mark_of(note: ExpectedNote, verdict: NoteVerdict, key: Key, reading: Reading) -> Mark | None:
    first = verdict.first
    if first is None or verdict.verdict is Verdict.UNSURE:
        return _without_answer(verdict.verdict)
    match verdict.verdict:
        case Verdict.WRONG_PITCH:
            return _played_head(note.note.pitch, first.sounding + 12 * reading.octaves_down, key)
        case Verdict.EARLY | Verdict.LATE:
            return OffTimeMark(early=verdict.verdict is Verdict.EARLY)
        case Verdict.OTHER_PLACE if first.place is not None:
            return PlaceMark(place=first.place)
    if first.place is None and note.home is not None:
        return PlaceMark(place=note.home.place, home=True)
    return None


def _without_answer(word: Verdict) -> Mark | None:
    """The mark of a note that no answer is known for: it was missed, what was heard could not be told, or its player
    said that it was wrong.
    """
    if word is Verdict.MISSED:
        return MissedMark()
    if word is Verdict.UNSURE:
        return UnsureMark()
    return SaidWrongMark() if word is Verdict.WRONG_PITCH else None


def played_pitch(written: Pitch, midi: int, key: Key) -> Pitch:
    """What was played, as page and words spell it: as the key has it or with its plain letter, and another pitch that
    is foreign to the key on the line of the written note where only the alteration differs.
    """
    pitch, alter = spelled(midi, key), written.alter + midi - written.midi
    if pitch.alter not in (0, key.alter_of(pitch.step)) and -1 <= alter <= 1:
        return Pitch(written.step, alter, written.octave)
    return pitch


def _played_head(written: Pitch, midi: int, key: Key) -> PlayedHead:
    pitch = played_pitch(written, midi, key)
    same_line = pitch.staff_step == written.staff_step
    return PlayedHead(pitch=pitch, show_sign=same_line or pitch.alter != key.alter_of(pitch.step))


def marks_of_take(take: FinishedTake) -> tuple[PlacedMark, ...]:
    """All marks of a take that is over."""
    bars = take.passage.bars
    return tuple(
        mark
        for note, verdict in zip(take.expected, take.judgement.verdicts, strict=True)
        for mark in marks_of(note, verdict, key=bars[note.note.heads[0].bar].key, reading=take.passage.reading)
    )


def pace_marks(
    notes: Iterable[ExpectedNote], events: Iterable[TakeEvent], words: Mapping[EventKind, str]
) -> tuple[PlacedMark, ...]:
    """A word of `words` under each note at which the player left the click, one at most under a note."""
    heads = {note.n: note.note.heads[0] for note in notes}
    left = {event.n: words[event.kind] for event in events if event.kind in words}
    return tuple(PlacedMark(heads[n], PaceMark(text)) for n, text in left.items() if n in heads)


def name_marks(notes: Sequence[WrittenNote], named: Iterable[NamedNote], names: NoteNames) -> tuple[PlacedMark, ...]:
    """The names under a line of music: the right one, and under it, crossed out, a wrong one that came first."""
    by_n = {note.n: note for note in notes}
    marks = []
    for item in named:
        if item.verdict is Verdict.UNREAD:
            continue
        note = by_n[item.n]
        head, right = note.heads[0], spelling_of(note.pitch)
        marks.append(PlacedMark(head, NameMark(text=name_in(right, names))))
        if item.given and item.given[0] != right:
            marks.append(PlacedMark(head, NameMark(text=name_in(item.given[0], names), struck=True, row=1)))
    return tuple(marks)


def count_marks(bars: Sequence[Bar]) -> tuple[PlacedMark, ...]:
    """The counts under the notes: the number of the beat, "&" half-way through it, "e" and "a" at its quarters, and
    nothing finer; in compound metres the felt beats and their thirds (trade).
    """
    marks = []
    for bar_index, bar in enumerate(bars):
        first_beat = bar.length - bar.meter.bar_length if bar.pickup else Fraction(0)
        for event_index, event in enumerate(bar.events):
            if isinstance(event, Note) and not event.grace and not event.tied_from_previous:
                word = _count(event.onset - first_beat, bar.meter)
                if word:
                    marks.append(PlacedMark(HeadId(bar_index, event_index), CountMark(word)))
    return tuple(marks)


def _count(at: Fraction, meter: Meter) -> str:
    beat, rest = divmod(at / meter.beat_length, 1)
    if rest == 0:
        return str(int(beat) + 1)
    words = {Fraction(1, 3): "&", Fraction(2, 3): "a"} if meter.compound else _PARTS
    return words.get(rest, "")


_PARTS = {Fraction(1, 2): "&", Fraction(1, 4): "e", Fraction(3, 4): "a"}
