"""Which takes of the last week are worth a page with pencil marks: those where most went wrong or was slow."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Judgement, Verdict
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import Bars, Terms
from game.report.numbered import NumberedTake, takes_of_days
from game.report.rebuilt_bars import rebuilt

MOST_PAGES = 4
"""Pages for a week. Ours: more would not be looked at."""

WEEK = 7
_STAGES = tuple(stage for stage in Stage if stage.pitch_counts and not stage.named)
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
    worst: dict[str, tuple[int, int, NumberedTake]] = {}
    for position, take in enumerate(takes_of_days(log, player, until - timedelta(days=WEEK - 1), until)):
        if take.logged.outcome is None or take.logged.begun.terms.stage not in _STAGES:
            continue
        judgement = judgement_of(log, take.logged.take, with_answers=False)
        if judgement is None:
            continue
        marked = _wrong(judgement) + len(
            found_slowly(take.logged.begun.asked.notes, judgement, take.logged.begun.terms)
        )
        key = take.logged.begun.bars.passage_key
        if marked and marked >= worst.get(key, (1,))[0]:
            worst[key] = (marked, position, take)
    ordered = sorted(worst.values(), key=lambda found: (-found[0], -found[1]))
    return tuple(_with_pages(log, (take for _, _, take in ordered), most))


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


def _wrong(judgement: Judgement) -> int:
    counted = Counter(verdict.verdict for verdict in judgement.verdicts)
    return sum(counted[verdict] for verdict in _WRONG)


def _with_pages(log: Any, takes: Iterable[NumberedTake], most: int) -> list[PencilledTake]:
    pages: list[PencilledTake] = []
    for take in takes:
        if len(pages) == most:
            break
        begun = take.logged.begun
        judgement = judgement_of(log, take.logged.take)
        made = rebuilt(begun.asked, begun.bars, begun.neck_map.reading)
        if made is None or judgement is None or len(judgement.verdicts) != len(made.expected):
            continue
        pages.append(
            PencilledTake(
                day=take.day,
                number=take.number,
                bars=begun.bars,
                terms=begun.terms,
                passage=made.passage,
                expected=made.expected,
                judgement=judgement,
                slow=found_slowly(made.expected, judgement, begun.terms),
                free_on=begun.free_on,
            )
        )
    return pages
