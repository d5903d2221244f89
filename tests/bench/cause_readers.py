"""Readers for the bench of causes, on lines of other kinds than those the weighing was made with, and going wrong in
other ways: a hand that lies a fret off for a while, a finger that takes one string for the next, a line of the staff
(not a letter) that is taken for another, ledger lines counted one short, a sharp of the signature that is never thought
of, an accidental forgotten later in its bar. They ask the judge nothing. Three of twenty misread notes are played
somewhere else than at their home.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import with_causes
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.verdicts import Cause, NoteVerdict, Verdict
from game.music.accidentals import AlteredBy
from game.music.keys import Key
from game.music.pitch import MAX_ALTER, SEMITONES_OF_STEP, STEPS
from game.neck.neck_map import NeckMap, standard_map
from game.neck.tuning import Place
from tests.made import passage

LINES = ("walking", "arpeggio", "ostinato")
_LOWEST, _HIGHEST = 23, 44  # E3 to E6 as written: ledger lines on both sides
_BELOW, _ABOVE = 28, 40
_ALTERS = {-1: "b", 0: "", 1: "#"}
_ELSEWHERE = 0.15

Fault = tuple[Cause, int, Place | None]
"""What happened, the sounding pitch that came, and where it was played."""
Reader = Callable[[int], Fault | None]
"""What a reader does at the note of an index; None plays it right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FreshTake:
    """The written notes, what was made of them, and what was done at those that went wrong."""

    expected: tuple[ExpectedNote, ...]
    verdicts: tuple[NoteVerdict, ...]
    faults: dict[int, Cause]


@dataclass(frozen=True, slots=True)
class MadeLine:
    """A line on a map in a key; `forced` is what accidentals before each note do to the lines of its bar."""

    expected: tuple[ExpectedNote, ...]
    neck_map: NeckMap
    key: Key
    forced: tuple[dict[int, int], ...]


def made_line(kind: str, rng: Random, bars: int = 8) -> MadeLine:
    """A line of eighths in a key of up to five signs, somewhere on the neck, one note in twelve chromatic."""
    key, neck_map = Key(rng.randint(-5, 5)), standard_map(position=rng.choice((1, 2, 3, 5, 7, 9)))
    steps = _steps(kind, 8 * bars, rng)
    names = []
    for step in steps:
        letter = STEPS[step % 7]
        alter = key.alter_of(letter)
        if rng.random() < 1 / 12:
            alter += rng.choice([by for by in (-1, 1) if abs(alter + by) <= 1])
        names.append(f"{letter}{_ALTERS[alter]}{step // 7} e")
    rows = [", ".join(names[at : at + 8]) for at in range(0, len(names), 8)]
    notes = passage(*rows, key=key.fifths).notes
    forced: list[dict[int, int]] = []
    for index in range(len(notes)):
        before = {} if index % 8 == 0 else dict(forced[-1])
        if index % 8 and notes[index - 1].shown.sign is not None:
            before[notes[index - 1].pitch.staff_step] = notes[index - 1].pitch.alter
        forced.append(before)
    return MadeLine(expected_notes(notes, neck_map), neck_map, key, tuple(forced))


def _steps(kind: str, count: int, rng: Random) -> list[int]:
    """Lines and spaces, counted from C0."""
    at = rng.randint(_LOWEST + 4, _HIGHEST - 4)
    if kind == "ostinato":
        figure = [min(max(at + rng.randint(-4, 4), _LOWEST), _HIGHEST) for _ in range(rng.choice((4, 8)))]
        return (figure * count)[:count]
    found: list[int] = []
    while len(found) < count:
        if kind == "arpeggio":
            root, turn = min(max(at, _LOWEST), _HIGHEST - 7), rng.choice((1, -1))
            found += [root, root + 2, root + 4, root + 7][::turn]
            at = root + rng.choice((-3, -1, 1, 3, 4))
        else:
            found.append(at)
            at = min(max(at + rng.choice((-2, -1, -1, 1, 1, 2)), _LOWEST), _HIGHEST)
    return found[:count]


def reader_of(cause: Cause, line: MadeLine, rng: Random) -> Reader:
    """Somebody with one habit."""
    way, steps = rng.choice((1, -1)), sorted({asked.note.pitch.staff_step for asked in line.expected})
    weak = rng.sample(steps, max(1, len(steps) // 5))
    alters = sorted({asked.note.pitch.step for asked in line.expected if line.key.alter_of(asked.note.pitch.step)})
    sign = rng.choice(alters) if alters else ""
    lies_off = _stretches(len(line.expected), rng)
    along = rng.random() < 0.6

    def read(index: int) -> Fault | None:
        note = line.expected[index].note
        if cause is Cause.SLIP:
            if along:
                return slipped(line, index, 0, way) if lies_off[index] else None
            return slipped(line, index, way, 0) if rng.random() < 0.1 else None
        often = {Cause.LEDGER: 0.7, Cause.SIGNATURE: 0.8, Cause.ACCIDENTAL: 0.6, Cause.OCTAVE: 0.1}.get(cause, 0.7)
        if cause in (Cause.NEIGHBOUR, Cause.THIRD) and note.pitch.staff_step not in weak:
            return None
        if cause is Cause.SIGNATURE and note.pitch.step != sign:
            return None
        # Ledger lines are counted one short: towards the staff.
        towards = (1 if note.pitch.staff_step <= _BELOW else -1) if cause is Cause.LEDGER and way > 0 else way
        return misread(line, index, cause, towards, rng) if rng.random() < often else None

    return read


def _stretches(count: int, rng: Random) -> list[bool]:
    """Where the hand lies off: some rows of three to eight notes."""
    off = [False] * count
    for _ in range(max(1, count // 32)):
        start = rng.randrange(count)
        for index in range(start, min(start + rng.randint(3, 8), count)):
            off[index] = True
    return off


def slipped(line: MadeLine, index: int, strings: int, frets: int) -> Fault | None:
    """The hand one fret or string beside the home; None off the neck."""
    home = line.expected[index].home
    if home is None:
        return None
    string, fret = home.place.string + strings, home.place.fret + frets
    if not (1 <= string <= 6 and fret >= 0):
        return None
    place = Place(string, fret)
    return Cause.SLIP, line.neck_map.tuning.sounding(place), place


def misread(line: MadeLine, index: int, cause: Cause, way: int, rng: Random) -> Fault | None:
    """Another note read and played; None where that cannot happen, or would sound right."""
    asked = line.expected[index]
    note, staff_step = asked.note, asked.note.pitch.staff_step
    ledger = staff_step <= _BELOW or staff_step >= _ABOVE
    by_sign = note.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER)
    bare = _bare(staff_step)
    if cause is Cause.OCTAVE:
        written: int | None = note.pitch.midi + 12 * way
    elif cause is Cause.SIGNATURE:
        written = bare if note.shown.altered_by is AlteredBy.SIGNATURE else None
    elif cause is Cause.ACCIDENTAL:
        written = bare + line.key.alter_of(note.pitch.step) if by_sign else None
    elif ledger is not (cause is Cause.LEDGER):
        written = None
    else:
        distance = {Cause.NEIGHBOUR: 1, Cause.THIRD: 2}.get(cause) or rng.choice((1, 1, 2))
        other = staff_step + way * distance
        alter = line.forced[index].get(other, line.key.alter_of(STEPS[other % 7]))
        if note.shown.sign is not None and rng.random() < 0.6:
            alter = note.shown.sign
        written = _bare(other) + alter
    if written is None or written == note.pitch.midi or abs(note.pitch.alter) > MAX_ALTER:
        return None
    sounding = written + asked.sounding - note.pitch.midi
    if (sounding - asked.sounding) % 12 == 0 and cause is not Cause.OCTAVE:
        return None
    home = line.neck_map.home_of(sounding)
    if home is None:
        return None
    return cause, sounding, _elsewhere(line, home.place, rng) if rng.random() < _ELSEWHERE else home.place


def _elsewhere(line: MadeLine, place: Place, rng: Random) -> Place:
    """The same pitch on another string, where there is one."""
    tuning = line.neck_map.tuning
    sounding = tuning.sounding(place)
    others = [
        Place(string, sounding - open_string)
        for string, open_string in enumerate(tuning.open_strings, start=1)
        if string != place.string and 0 <= sounding - open_string <= 15
    ]
    return rng.choice(others) if others else place


def _bare(staff_step: int) -> int:
    return 12 * (staff_step // 7 + 1) + SEMITONES_OF_STEP[STEPS[staff_step % 7]]


def take_of(line: MadeLine, faults: dict[int, Fault], *, strings: bool) -> FreshTake:
    """The take in which these things happened; `strings` False on a keyboard."""
    verdicts = []
    for index, asked in enumerate(line.expected):
        fault = faults.get(index)
        if fault is None:
            place, sounding = asked.home.place if asked.home else None, asked.sounding
        else:
            _, sounding, place = fault
        note = PlayedNote(started_s=0.4 * index, sounding=sounding, place=place if strings else None)
        octave = fault is not None and (sounding - asked.sounding) % 12 == 0
        verdicts.append(
            NoteVerdict(
                n=asked.n,
                verdict=Verdict.WRONG_PITCH if fault else Verdict.CLEAN,
                answers=(note,),
                octave_off=octave,
                cause=(Cause.OCTAVE if octave else Cause.UNKNOWN) if fault else None,
            )
        )
    causes = {index: fault[0] for index, fault in faults.items()}
    return FreshTake(expected=line.expected, verdicts=tuple(verdicts), faults=causes)


def with_a_habit(cause: Cause, kind: str, seed: int, *, strings: bool = True) -> FreshTake:
    """A reader with one habit, and at one note in fifty something else that went wrong once."""
    rng = Random(f"habit {cause.value} {kind} {seed}")
    line = made_line(kind, rng)
    reads = reader_of(cause, line, rng)
    faults = {}
    for index in range(len(line.expected)):
        fault = reads(index)
        if fault is None and rng.random() < 0.02:
            fault = once(line, index, rng.choice(ALL_CAUSES), rng)
        if fault is not None:
            faults[index] = fault
    return take_of(line, faults, strings=strings)


def with_one_fault(cause: Cause, kind: str, seed: int, *, strings: bool = True) -> FreshTake | None:
    """One thing that went wrong in a take; None where the line gives no chance to it."""
    rng = Random(f"once {cause.value} {kind} {seed}")
    line = made_line(kind, rng)
    for index in rng.sample(range(len(line.expected)), len(line.expected)):
        fault = once(line, index, cause, rng)
        if fault is not None:
            return take_of(line, {index: fault}, strings=strings)
    return None


ALL_CAUSES: Sequence[Cause] = tuple(cause for cause in Cause if cause is not Cause.UNKNOWN)


def once(line: MadeLine, index: int, cause: Cause, rng: Random) -> Fault | None:
    """One fault of a kind at a note."""
    way = rng.choice((1, -1))
    if cause is Cause.SLIP:
        return slipped(line, index, way, 0) if rng.random() < 0.45 else slipped(line, index, 0, way)
    return misread(line, index, cause, way, rng)


Missed = tuple[str, int, int]
"""The name of a cell, how many faults of one cause were called something else, and how many there were."""


def causes_missed(cause: Cause, kind: str, seeds: int, *, strings: bool) -> tuple[Missed, Missed]:
    """Over so many seeds: of readers with a habit of that cause, and of takes with that one fault."""
    name = f"{cause.value}, {kind}, {'strings' if strings else 'keyboard'}"
    found: list[Missed] = []
    for what, make in (("habit", with_a_habit), ("single", with_one_fault)):
        takes = [take for seed in range(seeds) if (take := make(cause, kind, seed, strings=strings)) is not None]
        said = [
            verdicts[index].cause
            for take in takes
            for verdicts in (with_causes(take.expected, take.verdicts),)
            for index, fault in take.faults.items()
            if fault is cause
        ]
        found.append((f"{name}, {what}", sum(cause_said is not cause for cause_said in said), len(said)))
    return found[0], found[1]
