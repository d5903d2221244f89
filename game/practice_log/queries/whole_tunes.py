"""What was played of each page in takes of whole tunes, while what the coach heard is gone through in order."""

import sqlite3
from collections.abc import Iterable
from uuid import UUID

from game.coach.events import PagePlayed, TakeResult
from game.coach.judged_take import JudgedNote
from game.coach.played_whole import PageOfWhole, pages_played
from game.judging.verdicts import Verdict
from game.practice_log.queries.entry_order import BEFORE_ALL, BETWEEN, ORDER, Position, bounds
from game.practice_log.queries.facts import MOST_BYTES, fact_content
from game.practice_log.queries.numbered_rows import NumberedRows
from game.practice_log.queries.passage_facts import TunePagesTold, told_tune_pages
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.row_values import json_array

_VERDICTS = {verdict.value: verdict for verdict in Verdict}

_TOLD_BEFORE = f"""
SELECT CAST(content AS BLOB)
FROM fact CROSS JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact CROSS JOIN device USING (device)
WHERE fact.about = '{About.TUNE_PAGES.value}' AND length(content) <= {MOST_BYTES} AND {BETWEEN}
ORDER BY {ORDER}
"""
_NOTES = """
SELECT heard_in_order.position, told.n, told.verdict, note.string IS NOT NULL,
    note.n > 1 AND note.sounding IS before.sounding, told.time_to_find_ms
FROM temp.heard_in_order
CROSS JOIN coach_event USING (coach_event)
CROSS JOIN take USING (take)
CROSS JOIN summaries.sighting ON sighting.take = take.take
CROSS JOIN verdict AS told ON told.judgement = sighting.judgement
CROSS JOIN asked_note AS note ON note.asked = take.asked AND note.n = told.n
LEFT JOIN asked_note AS before ON before.asked = take.asked AND before.n = told.n - 1
WHERE coach_event.passage IN (SELECT value FROM json_each(?)) AND take.stage <> 'letters'
ORDER BY heard_in_order.position, told.n
"""


def tune_pages_told_before(connection: sqlite3.Connection, player: UUID, upto: Position) -> list[TunePagesTold]:
    """What was said of the pages of tunes up to a position; what makes no sense is passed over."""
    rows = connection.execute(_TOLD_BEFORE, bounds(player, BEFORE_ALL, upto))
    return [told for (raw,) in rows if (told := told_tune_pages(fact_content(raw))) is not None]


class WholeTunes:
    """The pages of tunes as far as they are known by now: `before`, and what is to be heard later (`ahead`, for which
    see `learn`). Table `heard_in_order` holds what is gone through.
    """

    def __init__(
        self, connection: sqlite3.Connection, before: Iterable[TunePagesTold], ahead: Iterable[TunePagesTold]
    ) -> None:
        self._pages: dict[str, tuple[PageOfWhole, ...]] = {one.whole: one.pages for one in before}
        self._names = frozenset(self._pages) | {one.whole for one in ahead}
        asked = (json_array(sorted(self._names)),)
        self._notes = NumberedRows(connection.execute(_NOTES, asked) if self._names else iter(()))

    def learn(self, told: TunePagesTold) -> None:
        """These are the pages of a tune from now on."""
        self._pages[told.whole] = told.pages

    def pages_played(self, position: int, result: TakeResult) -> tuple[PagePlayed, ...]:
        """What was played of each page in the take at a position; nothing where it is of no whole tune. To be asked for
        each take, in the order of positions.
        """
        if result.passage.name not in self._names:
            return ()
        rows = self._notes.of(position)
        notes = [JudgedNote(n, _VERDICTS[word], *rest) for _, n, word, *rest in rows]
        return pages_played(result, notes, self._pages.get(result.passage.name, ()))
