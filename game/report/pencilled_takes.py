"""Which takes of the last week are worth a page with pencil marks: those where most went wrong or was slow."""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import islice
from typing import Any
from uuid import UUID

from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Judgement, Verdict
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.practice_log.queries.marked_takes import CountedMarks, MarkedTake, counted_marks, number_of_take
from game.practice_log.queries.summaries import summarised
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import Bars, Terms
from game.practice_log.rows.take_rows import takes_where
from game.report.rebuilt_bars import rebuilt

MOST_PAGES = 4
"""Pages for a week. Ours: more would not be looked at."""

WEEK = 7
_WRONG = (Verdict.WRONG_PITCH, Verdict.OTHER_PLACE, Verdict.MISSED)


@dataclass(frozen=True, slots=True, kw_only=True)
class PencilledTake:
    """A take with all that its page shows. `slow` are the seconds of the right notes that took long to find, by `n`."""

    day: date
    number: int
    bars: Bars
    terms: Terms
    passage: Passage
    expected: tuple[ExpectedNote, ...]
    judgement: Judgement
    slow: dict[int, float]
    free_on: NeckMap | None = None


def pencilled_takes(log: Any, player: UUID, until: date, *, most: int = MOST_PAGES) -> tuple[PencilledTake, ...]:
    """The takes of the week up to `until`, that day in, with the most wrong or slow notes: for each passage one, the
    worst first, at most so many. Takes of rhythm alone and of naming are left out, and takes whose bars cannot be put
    together from the log.
    """
    worst: dict[str, CountedMarks] = {}
    with summarised(log, player):
        for one in counted_marks(log, until - timedelta(days=WEEK - 1), until):
            worst.setdefault(one.passage_key, one)
        pages = (_out_of_log(log, one) for one in worst.values())
        return tuple(islice((page for page in pages if page), most))


def pencilled(take: MarkedTake) -> PencilledTake | None:
    """The page of a take; None where its bars cannot be put together."""
    made = rebuilt(take.asked, take.bars, take.neck_map.reading)
    if made is None or len(take.judgement.verdicts) != len(made.expected):
        return None
    return PencilledTake(
        day=take.day,
        number=take.number,
        bars=take.bars,
        terms=take.terms,
        passage=made.passage,
        expected=made.expected,
        judgement=take.judgement,
        slow=found_slowly(made.expected, take.judgement, take.terms),
        free_on=take.free_on,
    )


def drawable(takes: Iterable[MarkedTake]) -> Iterator[PencilledTake]:
    """The pages of those takes whose bars can be put together, in their order, up to one that makes no sense."""
    with suppress(ValueError, TypeError, LookupError):
        yield from filter(None, map(pencilled, takes))


def _out_of_log(log: Any, one: CountedMarks) -> PencilledTake | None:
    (logged,), judgement = takes_where(log, "take.take = ?", (one.take,)), judgement_of(log, one.take)
    if judgement is None:
        return None
    begun = logged.begun
    return pencilled(
        MarkedTake(
            day=one.day,
            number=number_of_take(log, one.take),
            bars=begun.bars,
            terms=begun.terms,
            asked=begun.asked,
            neck_map=begun.neck_map,
            judgement=judgement,
            free_on=begun.free_on,
        )
    )


def found_slowly(expected: Iterable[ExpectedNote], judgement: Judgement, terms: Terms) -> dict[int, float]:
    """Seconds of the notes that were right but long looked for, by `n`, where pitch alone was asked: elsewhere the note
    before may have been a long one.

    The first note is left out, for nobody knows when its search began; repeated notes and silences, as the coach does.
    """
    if terms.stage is not Stage.PLACES or terms.pulse is not Pulse.FREE:
        return {}
    sounding = {one.note.n: one.note.sounding for one in expected}
    return {
        verdict.n: verdict.time_to_find_ms / 1000
        for verdict in judgement.verdicts
        if verdict.time_to_find_ms is not None
        and verdict.verdict not in _WRONG
        and NUMBERS.slow_find_s * 1000 < verdict.time_to_find_ms <= NUMBERS.pause_s * 1000
        and verdict.n - 1 in sounding
        and sounding.get(verdict.n) != sounding[verdict.n - 1]
    }
