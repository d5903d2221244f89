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
_FILLS_A_DAY = (StepKind.PASSAGE, StepKind.COURSE, StepKind.NEW_TUNE)
_LEFT_OUT_AT_LAST = (StepKind.SLOW_NOTES, StepKind.FIRST_SIGHT, StepKind.SIGNED_OFF)


def blocks(
    minutes: int, kinds: Collection[StepKind], done: Mapping[StepKind, float], numbers: CoachNumbers, *, slow: int = 0
) -> tuple[Block, ...]:
    """The day in order, rests included: never more than `minutes` in all, nor more practice at a stretch than the
    table allows. `kinds` are those there is music for; `done` are minutes already spent on them today. The more notes
    are `slow`, the more of the day is theirs, up to the share of the table; where that is too little for a block, there
    is none.
    """
    shares, most = _shares(numbers, slow), _most(minutes + sum(done.values()), kinds, done, numbers)
    kinds = [kind for kind in kinds if most.get(kind, minutes) > 0]
    practice = minutes
    while True:
        row = _with_rests(_in_order(_shared_out(practice, kinds, done, (shares, most), numbers), numbers), numbers)
        if sum(length for _, length in row) <= minutes:
            return row
        practice -= 1


def _shared_out(
    minutes: int,
    kinds: Collection[StepKind],
    done: Mapping[StepKind, float],
    bounds: tuple[Mapping[StepKind, float], Mapping[StepKind, int]],
    numbers: CoachNumbers,
) -> dict[StepKind, int]:
    """Whole minutes for each kind; together `minutes`, unless there is nothing to share them among. `bounds` are the
    shares, and how many minutes some kinds have at most.
    """
    shares, most = bounds
    shared: dict[StepKind, int] = {}
    if StepKind.WARM_UP in kinds and not done.get(StepKind.WARM_UP):
        shared[StepKind.WARM_UP] = min(numbers.warm_up_minutes, minutes)
    if StepKind.FREE_READING in kinds and minutes >= numbers.free_reading_from:
        shared[StepKind.FREE_READING] = numbers.free_reading_minutes
    left = minutes - sum(shared.values())
    wanted = _wanted(left, done, {kind: share for kind, share in shares.items() if kind in kinds})
    for kind in _left_out(kinds):
        if len(wanted) > max(left // numbers.step_least, 1):
            wanted.pop(kind, None)
    return shared | _whole_within(left, wanted, most)


def _whole_within(minutes: int, wanted: Mapping[StepKind, float], most: Mapping[StepKind, int]) -> dict[StepKind, int]:
    """Whole minutes in proportion; what one kind has too much of goes to the others, while there are others."""
    shared = _whole(minutes, wanted)
    over = next((kind for kind, length in shared.items() if length > most.get(kind, minutes)), None)
    if over is None or len(wanted) == 1:
        return shared
    others = {kind: share for kind, share in wanted.items() if kind is not over}
    return {over: most[over]} | _whole_within(minutes - most[over], others, most)


def _most(
    day: float, kinds: Collection[StepKind], done: Mapping[StepKind, float], numbers: CoachNumbers
) -> dict[StepKind, int]:
    """How many minutes some kinds still have at most on a day of so many, where there is music to fill it. Notes come
    once, in one short block, and with the warm-up fill no more than their part; too little for a block is none. While
    something goes on, one line is read at sight, one piece ends the day, and what is new takes no more than two blocks,
    however long the day is.
    """
    if not any(kind in kinds for kind in _FILLS_A_DAY):
        return {}
    goes_on = StepKind.PASSAGE in kinds or StepKind.COURSE in kinds
    notes = int(day * numbers.notes_most_share) - numbers.warm_up_minutes
    notes = 0 if notes < numbers.step_least else min(notes, numbers.block_most) if goes_on else notes
    left = {StepKind.SLOW_NOTES: max(notes - round(done.get(StepKind.SLOW_NOTES, 0.0)), 0)}
    if not goes_on:
        return left | {StepKind.NEW_TUNE: numbers.rest_after}
    return left | {
        StepKind.FIRST_SIGHT: numbers.first_sight_most,
        StepKind.NEW_TUNE: 2 * numbers.block_most,
        StepKind.SIGNED_OFF: numbers.block_most,
    }


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
    """The order of the day. Passages take turns where their block would be long, and what is new comes between them."""
    passage = shared.get(StepKind.PASSAGE, 0)
    turns = max(ceil(passage / numbers.block_most), 1)
    first, *others = [
        (StepKind.PASSAGE, passage * (turn + 1) // turns - passage * turn // turns) for turn in range(turns)
    ]
    row = [
        *((kind, shared.get(kind, 0)) for kind in (StepKind.WARM_UP, StepKind.FIRST_SIGHT, StepKind.SLOW_NOTES)),
        first,
        *((kind, shared.get(kind, 0)) for kind in (StepKind.COURSE, StepKind.NEW_TUNE)),
        *others,
        *((kind, shared.get(kind, 0)) for kind in (StepKind.SIGNED_OFF, StepKind.FREE_READING)),
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
