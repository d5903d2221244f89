"""How the minutes of a day are shared out among the steps of a plan."""

from collections.abc import Collection, Mapping
from math import ceil

from game.coach.numbers import CoachNumbers
from game.coach.plan.plan_steps import StepKind

Block = tuple[StepKind, int]
"""A kind of step and its whole minutes."""

# What a short day leaves out, the first first: a passage last of all, for what was begun goes on even in five minutes,
# and the warm-up is on slow notes already. Where nothing was begun, the new tune is that passage; where all there is is
# signed off, what the day ends with.
_LEFT_OUT = (
    StepKind.SIGNED_OFF,
    StepKind.NEW_TUNE,
    StepKind.COURSE,
    StepKind.SLOW_NOTES,
    StepKind.FIRST_SIGHT,
    StepKind.PASSAGE,
)
_LEFT_OUT_AT_FIRST = (StepKind.SIGNED_OFF, StepKind.SLOW_NOTES, StepKind.FIRST_SIGHT, StepKind.NEW_TUNE)
_LEFT_OUT_AT_LAST = (StepKind.SLOW_NOTES, StepKind.FIRST_SIGHT, StepKind.SIGNED_OFF)


def blocks(
    minutes: int, kinds: Collection[StepKind], done: Mapping[StepKind, float], numbers: CoachNumbers, *, slow: int = 0
) -> tuple[Block, ...]:
    """The day in order, rests included: never more than `minutes` in all, nor more practice at a stretch than the
    table allows. `kinds` are those there is music for; `done` are minutes already spent on them today. The more notes
    are `slow`, the more of the day is theirs.
    """
    shares = _shares(numbers, slow)
    practice = minutes
    while True:
        row = _with_rests(_in_order(_shared_out(practice, kinds, done, shares, numbers), numbers), numbers)
        if sum(length for _, length in row) <= minutes:
            return row
        practice -= 1


def _shared_out(
    minutes: int,
    kinds: Collection[StepKind],
    done: Mapping[StepKind, float],
    shares: Mapping[StepKind, float],
    numbers: CoachNumbers,
) -> dict[StepKind, int]:
    """Whole minutes for each kind; together `minutes`, unless there is nothing to share them among."""
    shared: dict[StepKind, int] = {}
    if StepKind.WARM_UP in kinds and not done.get(StepKind.WARM_UP):
        shared[StepKind.WARM_UP] = min(numbers.warm_up_minutes, minutes)
    left = minutes - sum(shared.values())
    wanted = _wanted(left, done, {kind: share for kind, share in shares.items() if kind in kinds})
    for kind in _left_out(kinds):
        if len(wanted) > max(left // numbers.step_least, 1):
            wanted.pop(kind, None)
    return shared | _whole(left, wanted)


def _left_out(kinds: Collection[StepKind]) -> tuple[StepKind, ...]:
    if StepKind.PASSAGE in kinds:
        return _LEFT_OUT
    if StepKind.COURSE in kinds:
        return tuple(kind for kind in _LEFT_OUT if kind is not StepKind.COURSE)
    return _LEFT_OUT_AT_FIRST if StepKind.NEW_TUNE in kinds else _LEFT_OUT_AT_LAST


def _wanted(left: int, done: Mapping[StepKind, float], shares: Mapping[StepKind, float]) -> dict[StepKind, float]:
    """How much of the whole day, what was done already included, each kind still lacks."""
    whole = left + sum(done.get(kind, 0.0) for kind in shares)
    total = sum(shares.values())
    lacking = {kind: share / total * whole - done.get(kind, 0.0) for kind, share in shares.items()}
    still = {kind: lack for kind, lack in lacking.items() if lack >= 1 or not done.get(kind)}
    return still or dict(shares)


def _shares(numbers: CoachNumbers, slow: int) -> dict[StepKind, float]:
    return {
        StepKind.FIRST_SIGHT: numbers.first_sight_share,
        StepKind.SLOW_NOTES: numbers.slow_notes_share + numbers.slow_note_share * slow,
        StepKind.PASSAGE: numbers.passage_share,
        StepKind.COURSE: numbers.course_share,
        StepKind.NEW_TUNE: numbers.new_tune_share,
        StepKind.SIGNED_OFF: numbers.signed_off_share,
    }


def _whole(minutes: int, wanted: Mapping[StepKind, float]) -> dict[StepKind, int]:
    """Whole minutes in proportion, by largest remainder, at least one each."""
    total = sum(wanted.values())
    if not total or minutes < len(wanted):
        return dict.fromkeys(list(wanted)[:minutes], 1)
    exact = {kind: minutes * share / total for kind, share in wanted.items()}
    found = {kind: max(int(share), 1) for kind, share in exact.items()}
    by_remainder = sorted(exact, key=lambda kind: found[kind] - exact[kind])
    while sum(found.values()) < minutes:
        for kind in by_remainder[: minutes - sum(found.values())]:
            found[kind] += 1
    while sum(found.values()) > minutes:
        found[max(found, key=lambda kind: found[kind])] -= 1
    return found


def _in_order(shared: Mapping[StepKind, int], numbers: CoachNumbers) -> tuple[Block, ...]:
    """The order of the day; blocks on slow notes and on a passage take turns where they would be long."""
    slow, passage = shared.get(StepKind.SLOW_NOTES, 0), shared.get(StepKind.PASSAGE, 0)
    turns = max(ceil(max(slow, passage) / numbers.block_most), 1)
    middle = [
        (kind, total * (turn + 1) // turns - total * turn // turns)
        for turn in range(turns)
        for kind, total in ((StepKind.SLOW_NOTES, slow), (StepKind.PASSAGE, passage))
    ]
    row = [
        *((kind, shared.get(kind, 0)) for kind in (StepKind.WARM_UP, StepKind.FIRST_SIGHT)),
        *middle,
        *((kind, shared.get(kind, 0)) for kind in (StepKind.COURSE, StepKind.NEW_TUNE, StepKind.SIGNED_OFF)),
    ]
    return tuple((kind, length) for kind, length in row if length)


def _with_rests(row: tuple[Block, ...], numbers: CoachNumbers) -> tuple[Block, ...]:
    """A rest before the block that would make the stretch too long; a block that is too long by itself is divided."""
    rested: list[Block] = []
    stretch = 0
    for kind, whole in row:
        length = whole
        while stretch + length > numbers.rest_after:
            room = numbers.rest_after - stretch if length > numbers.rest_after else 0
            if room >= numbers.step_least:
                rested.append((kind, room))
                length -= room
            rested.append((StepKind.REST, numbers.rest_minutes))
            stretch = 0
        rested.append((kind, length))
        stretch += length
    return tuple(rested)
