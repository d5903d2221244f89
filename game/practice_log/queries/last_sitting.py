"""The takes of the last day of practice before some day, as far as one fact is told of them."""

import sqlite3
from dataclasses import dataclass
from uuid import UUID

from game.coach.stages import Stage
from game.coach.tempo.clean_takes import notes_needed
from game.judging.summary import summary_of
from game.judging.verdicts import COUNTS_AS_CLEAN, Judgement
from game.practice_log.queries.entry_order import DAY_NUMBER
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import LoggedTake
from game.practice_log.rows.take_rows import takes_where

MOST_TAKES = 40
"""The newest of the day, as many as anybody takes in an hour."""

_LAST_DAY = f"""
SELECT MAX({DAY_NUMBER}) FROM entry
WHERE kind = 'take' AND player = (SELECT player FROM player WHERE uuid = ?) AND {DAY_NUMBER} < ?
"""
_OF_DAY = f"""
take.take IN (
    SELECT entry.row FROM entry WHERE entry.kind = 'take' AND {DAY_NUMBER} = ?
    AND entry.player = (SELECT player FROM player WHERE uuid = ?)
    ORDER BY entry.moment_us DESC LIMIT {MOST_TAKES}
)
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingTake:
    """A take of that day: of which passage, at which tempo (None without a metronome), its longest row of right notes,
    and whether it was a clean take in time, or found every note without a clock.
    """

    day: int
    passage: str
    bpm: int | None
    run: int
    kept: bool
    found: bool


def takes_of_last_day(connection: sqlite3.Connection, player: UUID, before: int) -> tuple[SittingTake, ...]:
    """The judged takes of the last day before the day `before`, the newest last; none where nobody practised."""
    (day,) = connection.execute(_LAST_DAY, (str(player), before)).fetchone()
    if day is None:
        return ()
    takes = takes_where(connection, _OF_DAY, (day, str(player)))
    judged = ((take, judgement_of(connection, take.take, with_answers=False)) for take in takes)
    return tuple(_told(take, judgement, day) for take, judgement in judged if judgement is not None)


def longest_run(judgement: Judgement) -> int:
    """The longest row of right notes, early and late ones too."""
    longest = here = 0
    for verdict in judgement.verdicts:
        here = here + 1 if verdict.verdict in COUNTS_AS_CLEAN else 0
        longest = max(longest, here)
    return longest


def _told(take: LoggedTake, judgement: Judgement, day: int) -> SittingTake:
    terms, summary = take.begun.terms, summary_of(judgement, take.begun.asked.notes)
    needed = notes_needed(summary.asked)
    in_time = summary.in_time or 0
    clean = summary.asked > 0 and min(summary.right_notes, in_time) >= needed and summary.kept_going
    return SittingTake(
        day=day,
        passage=take.begun.bars.passage_key,
        bpm=None if terms.tempo_bpm is None else round(terms.tempo_bpm),
        run=longest_run(judgement),
        kept=clean and terms.tempo_bpm is not None and terms.stage is Stage.TIME and not terms.self_marked,
        found=terms.stage is Stage.PLACES and summary.asked > 0 and summary.right_notes == summary.asked,
    )
