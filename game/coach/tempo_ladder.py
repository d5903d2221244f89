"""The ladder of a passage: what its player keeps, where they stand, and what the coach would allow next.

Its rungs are the coach's own tempi. Those ahead are found by letting the coach hear of clean takes, one after another,
so that no step of the ladder is ever another than the one that will be taken. Tempi are in the metre's own beat.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from game.coach.climb import TAKES_SHOWN, ClimbTake
from game.coach.coach import advance
from game.coach.decisions import Decision
from game.coach.events import PassageOpened, TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import CoachState, PassageRecord
from game.coach.stages import Pulse, Stage

MOST_RUNGS = 7
"""More are folded: nobody climbs better for seeing twenty."""
_MOST_TAKES = 60
"""So many clean takes are thought through at most; a climb from the slowest click to the fastest takes fewer."""


class RungStanding(Enum):
    """What is true of a rung: kept in a clean take, the one the next take is at, or neither yet."""

    KEPT = "kept"
    NOW = "now"
    AHEAD = "ahead"


class RungNote(Enum):
    """What the next take is besides its tempo."""

    FIRST_OF_DAY = "first of day"
    SETTLING = "settling"


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderRung:
    """A tempo of the ladder.

    `takes` are the last three at it, oldest first. `kept` tells whether a clean take ever kept it, also where it is
    the one of now. `target` is the tempo of signing; `folded` where rungs between this and the next one are not shown.
    `wish` is the player's own, and stays pencil until it is kept. `note` is None but where the next take is no usual
    one.
    """

    tempo_bpm: int
    standing: RungStanding
    takes: tuple[ClimbTake, ...] = ()
    kept: bool = False
    target: bool = False
    folded: bool = False
    wish: bool = False
    note: RungNote | None = None


def ladder_of(
    state: CoachState, decision: Decision, *, notes: int, numbers: CoachNumbers = NUMBERS
) -> tuple[LadderRung, ...]:
    """The rungs to be shown, the slowest first, at most seven. `notes` with a home has the passage that `decision` is
    for, at least one.

    Where no metronome plays yet nothing is now, and the first rung is where the coach would begin. Some
    milliseconds' work: not for every picture.
    """
    record = state.records.get(decision.passage)
    if record is None:
        return ()
    ahead = rungs_ahead(state, decision, notes=notes, numbers=numbers)
    rungs = [_rung(bpm, record, decision) for bpm in _all_tempi(record, decision, ahead)]
    return _folded(rungs, _in_sight(rungs, ahead))


def rungs_to_signing(
    state: CoachState, decision: Decision, *, notes: int, numbers: CoachNumbers = NUMBERS
) -> tuple[int, ...]:
    """The tempi from the one of now up to the target, rising, which is the last: where now is at the target, it alone.
    None where there is no target, or it was kept.
    """
    record = state.records.get(decision.passage)
    target = None if record is None else _target(record, numbers)
    if record is None or target is None or target in record.kept_bpms:
        return ()
    ahead = rungs_ahead(state, decision, notes=notes, numbers=numbers)
    return tuple(bpm for bpm in ahead if bpm <= target) or (target,)


def rungs_ahead(
    state: CoachState, decision: Decision, *, notes: int, numbers: CoachNumbers = NUMBERS
) -> tuple[int, ...]:
    """The tempi above that of the decision which the coach would allow, each after clean takes at those before, and
    rising: up to the target, and one beyond where it goes on. The target is one of them, as it is played once it has an
    even chance.
    """
    record = state.records[decision.passage]
    target = _target(record, numbers)
    last, found = decision.tempo_bpm or 0, list[int]()
    for bpm in _allowed(state, decision, notes, numbers):
        if bpm <= last:
            continue
        if target is not None and last < target < bpm:
            found.append(target)
        found.append(bpm)
        last = bpm
        if bpm > (target or numbers.highest_bpm - 1):
            break
    if target is not None and last < target:
        found.append(target)
    return tuple(found)


def _target(record: PassageRecord, numbers: CoachNumbers = NUMBERS) -> int | None:
    """The tempo of signing, no slower than the metronome goes; None where nobody set one, or none plays so fast."""
    target = record.facts.target_bpm
    return None if target is None or target > numbers.highest_bpm else max(target, numbers.lowest_bpm)


def _allowed(state: CoachState, decision: Decision, notes: int, numbers: CoachNumbers) -> Iterator[int]:
    """The coach's tempi if every take from now on were clean. The day is taken to be as long as it must, save that it
    ends where the coach has ended it.
    """
    state = replace(state, decision=decision)
    for _ in range(_MOST_TAKES):
        record = state.records[decision.passage]
        if decision.settling or record.takes_today >= numbers.takes_a_day:
            opened = PassageOpened(passage=record.facts, day=record.day + 1)
            state, decision = advance(state, opened, numbers)
        else:
            state, decision = advance(_on_a_long_day(state, record), _clean_take(record, decision, notes), numbers)
        if decision.pulse is Pulse.METRONOME and decision.stage is Stage.TIME and decision.tempo_bpm is not None:
            yield decision.tempo_bpm


def _on_a_long_day(state: CoachState, record: PassageRecord) -> CoachState:
    """The state in which one take of the passage was played today: the next neither signs it off nor ends the day."""
    records = {**state.records, record.facts.name: replace(record, takes_today=1)}
    return replace(state, records=records)


def _clean_take(record: PassageRecord, decision: Decision, notes: int) -> TakeResult:
    """The take that was decided on, every note right and in time, found as quickly as before."""
    in_places = decision.stage is Stage.PLACES
    return TakeResult(
        passage=record.facts,
        day=record.day,
        stage=decision.stage,
        homes=notes,
        clean=notes,
        tempo_bpm=decision.tempo_bpm,
        find_times_s=record.find_times_s[-notes:] if in_places else (),
        sighting=2,
    )


def _all_tempi(record: PassageRecord, decision: Decision, ahead: Sequence[int]) -> list[int]:
    """Every rung there is, the slowest first: kept, now, wished for, ahead, and the target, wherever it lies."""
    others = (decision.tempo_bpm, record.wished_bpm, _target(record))
    return sorted({*record.kept_bpms, *ahead, *(bpm for bpm in others if bpm is not None)})


def _rung(bpm: int, record: PassageRecord, decision: Decision) -> LadderRung:
    kept, now = bpm in record.kept_bpms, bpm == decision.tempo_bpm
    standing = RungStanding.NOW if now else RungStanding.KEPT if kept else RungStanding.AHEAD
    return LadderRung(
        tempo_bpm=bpm,
        standing=standing,
        takes=tuple(take for take in record.climb if take.bpm == bpm)[-TAKES_SHOWN:],
        kept=kept,
        target=bpm == _target(record),
        wish=bpm == record.wished_bpm and not kept,
        note=_note(record, decision) if now else None,
    )


def _note(record: PassageRecord, decision: Decision) -> RungNote | None:
    if decision.settling:
        return RungNote.SETTLING
    return None if record.takes_today else RungNote.FIRST_OF_DAY


def _in_sight(rungs: Sequence[LadderRung], ahead: Sequence[int]) -> set[int]:
    """The tempi shown, what matters most first: now, the target, the next two, the first and the fastest kept, one
    beyond the target, then what lies nearest to now.
    """
    now = [rung.tempo_bpm for rung in rungs if rung.standing is RungStanding.NOW]
    target = [rung.tempo_bpm for rung in rungs if rung.target]
    kept = [rung.tempo_bpm for rung in rungs if rung.standing is RungStanding.KEPT]
    wish = [rung.tempo_bpm for rung in rungs if rung.wish]
    at = (now or list(ahead) or kept)[0] if rungs else 0
    near = sorted((rung.tempo_bpm for rung in rungs), key=lambda bpm: (abs(bpm - at), bpm))
    order = dict.fromkeys((*now, *target, *ahead[:2], *wish, *kept[:1], *kept[-1:], *ahead[-1:], *near))
    return set(list(order)[:MOST_RUNGS])


def _folded(rungs: Sequence[LadderRung], in_sight: set[int]) -> tuple[LadderRung, ...]:
    """The rungs in sight, each telling whether others lie between it and the next."""
    at = [index for index, rung in enumerate(rungs) if rung.tempo_bpm in in_sight]
    after = (*at[1:], at[-1] + 1) if at else ()
    return tuple(replace(rungs[here], folded=following > here + 1) for here, following in zip(at, after, strict=True))
