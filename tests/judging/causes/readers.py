"""Simulated readers with habits, for telling causes: what each did is known. They read the page with its true key.

They know nothing of how causes are told: a fault is drawn, played on the map, and kept with its name. Octaves, slips
off the neck and faults that give the written pitch after all are drawn again.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.verdicts import Cause, NoteVerdict, Verdict
from game.music.accidentals import AlteredBy
from game.music.keys import Key
from game.music.passage import Passage
from game.music.pitch import SEMITONES_OF_STEP, STEPS
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

FAULTS = (
    Cause.SLIP,
    Cause.NEIGHBOUR,
    Cause.LEDGER,
    Cause.THIRD,
    Cause.SIGNATURE,
    Cause.ACCIDENTAL,
    Cause.OCTAVE,
)
_LEDGER_LINES = (28, 40)
_HELD = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadTake:
    """A take and what was done: the fault by the index of its note, and the verdicts before causes are told."""

    expected: tuple[ExpectedNote, ...]
    verdicts: tuple[NoteVerdict, ...]
    faults: dict[int, Cause]


@dataclass(frozen=True, slots=True)
class Page:
    """A passage on a map; `keys` and `forced` (what accidentals before it do to each line of the bar) by note."""

    expected: tuple[ExpectedNote, ...]
    neck_map: NeckMap
    keys: tuple[Key, ...]
    forced: tuple[dict[int, int], ...]


def page_of(passage: Passage, neck_map: NeckMap) -> Page:
    """What a reader has in front of them."""
    notes = passage.notes
    bars = passage.bars
    forced: list[dict[int, int]] = []
    bar = -1
    signs: dict[int, int] = {}
    for note in notes:
        if note.heads[0].bar != bar:
            bar, signs = note.heads[0].bar, {}
        forced.append(dict(signs))
        if note.shown.sign is not None:
            signs[note.pitch.staff_step] = note.shown.sign
    keys = tuple(bars[note.heads[0].bar].key for note in notes)
    return Page(expected_notes(notes, neck_map), neck_map, keys, tuple(forced))


def wrong_note(page: Page, index: int, cause: Cause, rng: Random, way: int = 0) -> PlayedNote | None:
    """What somebody plays for a note to whom this happens there, None where it cannot.

    `way` 1 is up, -1 down, 0 either; for slips 1 and -1 are along the string, 2 and -2 to the string over.
    """
    asked = page.expected[index]
    if cause is Cause.SLIP:
        return _slip(page, asked, way or rng.choice((1, -1, 2, -2)))
    heard = _misread(page, index, cause, rng, way or rng.choice((1, -1)))
    if heard is None or heard == asked.note.pitch.midi:
        return None
    sounding = heard + asked.sounding - asked.note.pitch.midi
    home = page.neck_map.home_of(sounding)
    return None if home is None else PlayedNote(started_s=float(index), sounding=sounding, place=home.place)


def _slip(page: Page, asked: ExpectedNote, way: int) -> PlayedNote | None:
    if asked.home is None:
        return None
    home = asked.home.place
    place = Place(home.string, home.fret + way) if abs(way) == 1 else Place(home.string + way // 2, home.fret)
    if not (1 <= place.string <= 6 and place.fret >= 0):
        return None
    return PlayedNote(started_s=float(asked.n), sounding=page.neck_map.tuning.sounding(place), place=place)


def _misread(page: Page, index: int, cause: Cause, rng: Random, way: int) -> int | None:
    """The written pitch that is read, as a MIDI number."""
    note = page.expected[index].note
    line = note.pitch.staff_step
    ledger = not _LEDGER_LINES[0] < line < _LEDGER_LINES[1]
    bare = _bare(line)
    if cause is Cause.OCTAVE:
        return note.pitch.midi + 12 * way
    if cause is Cause.SIGNATURE:
        return bare if note.shown.altered_by is AlteredBy.SIGNATURE else None
    if cause is Cause.ACCIDENTAL:
        by_sign = note.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER)
        return bare + note.signature if by_sign else None
    if ledger is not (cause is Cause.LEDGER):
        return None
    distance = {Cause.NEIGHBOUR: 1, Cause.THIRD: 2, Cause.LEDGER: rng.choice((1, 2))}[cause]
    other = line + way * distance
    if note.shown.sign is not None and rng.random() < 0.5:
        return _bare(other) + note.shown.sign
    return _bare(other) + page.forced[index].get(other, page.keys[index].alter_of(STEPS[other % 7]))


def _bare(line: int) -> int:
    return 12 * (line // 7 + 1) + SEMITONES_OF_STEP[STEPS[line % 7]]


Habit = Callable[[Page, int, Random], tuple[Cause, int] | None]
"""What a reader does at a note and which way, None where the habit does not show."""


def habit_of(cause: Cause, rng: Random) -> Habit:
    """A habit of a kind: a weak letter, one hand, one way of miscounting lines."""
    letter = rng.choice(STEPS)
    way = rng.choice((1, -1))
    slip = rng.choice((1, -1, 2, -2))
    often = {Cause.NEIGHBOUR: _HELD, Cause.SLIP: 0.12, Cause.THIRD: 0.12}.get(cause, 0.6)

    def does(page: Page, index: int, dice: Random) -> tuple[Cause, int] | None:
        if cause is Cause.NEIGHBOUR and page.expected[index].note.pitch.step != letter:
            return None
        return (cause, slip if cause is Cause.SLIP else way) if dice.random() < often else None

    return does


def take_with(page: Page, habits: Sequence[Habit], rng: Random, *, single: float = 0.03) -> ReadTake:
    """A take of a reader with habits and, at a share of the notes, one fault of any kind."""
    faults: dict[int, Cause] = {}
    played: dict[int, PlayedNote] = {}
    for index in range(len(page.expected)):
        drawn = next((found for habit in habits if (found := habit(page, index, rng))), None)
        if drawn is None and rng.random() < single:
            drawn = rng.choice(FAULTS), 0
        if drawn is not None:
            note = wrong_note(page, index, drawn[0], rng, drawn[1])
            if note is not None:
                faults[index], played[index] = drawn[0], note
    return ReadTake(expected=page.expected, verdicts=verdicts_of(page.expected, played), faults=faults)


def verdicts_of(expected: Sequence[ExpectedNote], played: dict[int, PlayedNote]) -> tuple[NoteVerdict, ...]:
    """Right notes at their homes but for those in `played`."""
    told = []
    for index, asked in enumerate(expected):
        note = played.get(index)
        if note is None:
            right = PlayedNote(
                started_s=float(index), sounding=asked.sounding, place=asked.home.place if asked.home else None
            )
            told.append(NoteVerdict(n=asked.n, verdict=Verdict.CLEAN, answers=(right,)))
        else:
            octave = (note.sounding - asked.sounding) % 12 == 0
            told.append(
                NoteVerdict(
                    n=asked.n,
                    verdict=Verdict.WRONG_PITCH,
                    answers=(note,),
                    octave_off=octave,
                    cause=Cause.OCTAVE if octave else Cause.UNKNOWN,
                )
            )
    return tuple(told)
