"""What a judged take tells of notes as items: only what was truly read.

Takes count at the first two sightings of bars that were neither heard before nor known by ear. In them, hinted and
unread notes tell nothing. Times to find are left out for the first note (nobody knows when its search began), for a
note that repeats the one before, after a pause, where the note was wrong at first, and wherever rhythm was asked too.
A *quick find* is another thing: with rhythm too, a note that was right within the limit after the answer before.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import log
from typing import NamedTuple

from game.coach.notes.items import UNREAD, Item, ItemKey, Items, item_key, item_on_day, map_name, read_right, read_wrong
from game.coach.notes.map_days import MapDay, PacedNote, is_at_pace
from game.coach.notes.map_identity import map_key
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.sightings import evidence_weight, is_reading
from game.coach.stages import Stage
from game.judging.expected import ExpectedNote
from game.judging.verdicts import COUNTS_AS_CLEAN, Cause, Judgement, NoteVerdict, Verdict
from game.neck.neck_map import NeckMap

WRONG = frozenset((Verdict.WRONG_PITCH, Verdict.MISSED, Verdict.OTHER_PLACE))
"""A pitch taken at another place counts as wrong here: the item is the way from the dot to its home."""

EVIDENCE = COUNTS_AS_CLEAN | WRONG
"""Verdicts that tell something; hinted and unread notes tell nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedTake:
    """A take with its judgement, as the items hear of it.

    `expected` are the notes it was judged against, in the same order, with their homes on `neck_map`. `day` counts from
    any fixed one, `sighting` from 1; `minute` is that of the day. A `drill` is notes one by one, and no music.
    `placed` tells whether the instrument told places.
    """

    judgement: Judgement
    expected: tuple[ExpectedNote, ...]
    neck_map: NeckMap
    day: int
    stage: Stage
    sighting: int = 1
    heard: bool = False
    known_by_ear: bool = False
    self_marked: bool = False
    minute: int = 0
    drill: bool = False
    placed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteAsked:
    """A note of a take: its item, None without a home, and whether the time to find it can tell anything."""

    key: ItemKey | None
    timeable: bool


class NoteRead(NamedTuple):
    """One reading of a note that is evidence: a clean answer (early and late ones, too) or a wrong one.

    `log_find_s` is the natural logarithm of the seconds it took to find, None where that tells nothing. `quick` tells
    whether it was right so soon after the answer before that a fluent map asks no more.
    """

    key: ItemKey
    verdict: Verdict
    cause: Cause | None
    log_find_s: float | None
    quick: bool = False

    @property
    def right(self) -> bool:
        """Whether it was found at its home."""
        return self.verdict in COUNTS_AS_CLEAN


class TakeReads(NamedTuple):
    """What a take came to for the notes: its readings, in order, none where it was no reading. `day` counts from any
    fixed one, `minute` from its midnight. `shown` are the notes that were answered after help, which is no reading, but
    they were met. A `drill` is notes one by one. `on_map` is the text of its map (`map_key`). `at_pace` tells of a
    first sighting in time that was eighths at the pace of a fluent map, `placed` whether the instrument told places.
    """

    day: int
    self_marked: bool
    reads: tuple[NoteRead, ...]
    shown: tuple[ItemKey, ...] = ()
    drill: bool = False
    minute: int = 0
    on_map: str = ""
    at_pace: bool = False
    placed: bool = True


def take_reads(take: JudgedTake, numbers: CoachNumbers = NUMBERS) -> TakeReads:
    """The readings of a judged take. Raises `ValueError` when judgement and notes are not of one length."""
    return TakeReads(
        day=take.day,
        self_marked=take.self_marked,
        reads=readings_of(take, numbers),
        shown=_shown(take, numbers),
        drill=take.drill,
        minute=take.minute,
        on_map=map_key(take.neck_map),
        at_pace=is_sight_in_time(take.stage, take.sighting) and is_at_pace(_paced_notes(take, numbers), numbers),
        placed=take.placed,
    )


def is_sight_in_time(stage: Stage, sighting: int) -> bool:
    """Whether a reading was music met for the first time, pitch and rhythm together."""
    return stage.pitch_counts and stage.rhythm_counts and sighting == 1


def _paced_notes(take: JudgedTake, numbers: CoachNumbers) -> Iterator[PacedNote]:
    """The notes of a reading that tell something or were helped, and have a home."""
    before: Fraction | None = None
    for expected, (asked, verdict) in zip(take.expected, _notes_of_reading(take, numbers), strict=False):
        onset = expected.note.onset
        if asked.key is not None and verdict.verdict in EVIDENCE | {Verdict.HINTED}:
            gap = None if before is None else float(onset - before)
            yield PacedNote(gap, verdict.time_to_find_ms, verdict.verdict in COUNTS_AS_CLEAN)
        before = onset


def day_on_map(take: TakeReads) -> MapDay:
    """What a take adds to the day on its map. What players mark themselves adds nothing."""
    if take.self_marked:
        return MapDay(take.day)
    times = [read.log_find_s for read in take.reads if read.log_find_s is not None]
    return MapDay(
        day=take.day,
        asked=len(take.reads) if take.at_pace else 0,
        right=sum(read.right for read in take.reads) if take.at_pace else 0,
        placed=take.placed,
        found=len(times),
        log_s=sum(times),
        squares=sum(time * time for time in times),
    )


def _shown(take: JudgedTake, numbers: CoachNumbers) -> tuple[ItemKey, ...]:
    """The notes that were answered after help, in a take that is a reading otherwise."""
    both = _notes_of_reading(take, numbers)
    return tuple(note.key for note, verdict in both if note.key is not None and verdict.verdict is Verdict.HINTED)


def items_after(items: Items, take: TakeReads, numbers: CoachNumbers = NUMBERS) -> Items:
    """The items after one more take; a take that was no reading changes nothing."""
    after = dict(items)
    weight = evidence_weight(self_marked=take.self_marked, numbers=numbers)
    for key, reads in by_item(take.reads).items():
        item = item_on_day(after.get(key, UNREAD), take.day, numbers)
        for read in reads:
            item = item_after_read(item, take.day, read.verdict, read.cause, read.log_find_s, weight, numbers)
        after[key] = item
    return after


def by_item(reads: Iterable[NoteRead]) -> dict[ItemKey, list[NoteRead]]:
    """The readings of each item, in order."""
    found: defaultdict[ItemKey, list[NoteRead]] = defaultdict(list)
    for read in reads:
        found[read.key].append(read)
    return found


def readings_of(take: JudgedTake, numbers: CoachNumbers = NUMBERS) -> tuple[NoteRead, ...]:
    """The readings in a take that are evidence, in order; none in a take that was no reading. Raises `ValueError` when
    judgement and notes are not of one length.
    """
    alone = take.stage is Stage.PLACES
    return tuple(
        note_read(
            note.key,
            verdict.verdict,
            verdict.cause,
            verdict.time_to_find_ms if note.timeable else None,
            alone=alone,
            numbers=numbers,
        )
        for note, verdict in _notes_of_reading(take, numbers)
        if note.key is not None and verdict.verdict in EVIDENCE
    )


def _notes_of_reading(take: JudgedTake, numbers: CoachNumbers) -> tuple[tuple[NoteAsked, NoteVerdict], ...]:
    """The notes of a take that is a reading, with their verdicts; none of any other."""
    asked = notes_asked(take.expected, map_name(take.neck_map))
    both = tuple(zip(asked, take.judgement.verdicts, strict=True))
    reading = is_reading(
        take.stage, sighting=take.sighting, heard=take.heard, known_by_ear=take.known_by_ear, numbers=numbers
    )
    return both if reading else ()


def note_read(
    key: ItemKey,
    verdict: Verdict,
    cause: Cause | None,
    since_ms: float | None,
    *,
    alone: bool,
    numbers: CoachNumbers = NUMBERS,
) -> NoteRead:
    """One reading. `since_ms` is the time since the answer before where it can tell anything; it is the time to find
    the note where pitch was asked `alone`. A wrong answer has none.
    """
    if verdict not in COUNTS_AS_CLEAN or since_ms is None:
        return NoteRead(key, verdict, cause, None)
    quick = since_ms <= 1000 * numbers.slow_find_s
    return NoteRead(key, verdict, cause, log_find_s(since_ms, numbers) if alone else None, quick)


def notes_asked(expected: Sequence[ExpectedNote], on_map: str) -> tuple[NoteAsked, ...]:
    """The notes of a take as items on the map of that name. The first one, and those that repeat the one before, have
    no time worth keeping.
    """
    return tuple(
        NoteAsked(key=item_key(note, on_map), timeable=not repeated) for note, repeated in _with_repeats(expected)
    )


def item_after_read(
    item: Item,
    day: int,
    verdict: Verdict,
    cause: Cause | None,
    find_log_s: float | None,
    weight: float,
    numbers: CoachNumbers = NUMBERS,
) -> Item:
    """The item, as it stands on `day`, with one reading that is evidence in it."""
    if verdict in COUNTS_AS_CLEAN:
        after = read_right(item, find_log_s, weight, numbers)
    else:
        after = read_wrong(item, cause, weight, numbers, strayed=verdict is Verdict.OTHER_PLACE)
    return after if after.day >= day else after._replace(day=day)


def log_find_s(find_ms: float | None, numbers: CoachNumbers = NUMBERS) -> float | None:
    """The natural logarithm of a time to find, in s, no shorter than a search can be; None for a pause."""
    if find_ms is None or find_ms > 1000 * numbers.pause_s:
        return None
    return log(max(find_ms / 1000, numbers.quickest_find_s))


def _with_repeats(expected: Sequence[ExpectedNote]) -> Iterator[tuple[ExpectedNote, bool]]:
    yield from ((note, True) for note in expected[:1])
    yield from ((note, note.sounding == before.sounding) for before, note in pairwise(expected))
