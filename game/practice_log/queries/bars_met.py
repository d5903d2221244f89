"""How often a player has met bars, in whatever passages they stood: the whole tune, its first half, four bars of it.

The log holds which stretch of bars a take asked and the key of what they hold. A stretch of the tune at hand that has
that key is the same music at the same place, whatever the tune is called, and so are all of its bars.
"""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from uuid import UUID

from game.judging.verdicts import Verdict
from game.music.passage import Passage
from game.practice_log.rows.passage_key import passage_keys

_STRETCHES = "SELECT DISTINCT start, stop FROM bars WHERE start < :stop AND stop > :start AND stop <= :bars"
# The last note that was reached in each take; NULL where no verdict says so: a take of letters, or one just begun. The
# bars come first (CROSS JOIN), by their key: by player, all that was ever played would be looked through.
_REACHED = """
SELECT (
    SELECT MAX(verdict.n) FROM judgement JOIN verdict USING (judgement)
    WHERE judgement.take = take.take AND verdict.verdict != :unread
)
FROM bars CROSS JOIN take USING (bars)
WHERE bars.passage_key = :passage_key AND take.player = (SELECT player FROM player WHERE uuid = :player)
"""


def times_met(connection: sqlite3.Connection, player: UUID, passage: Passage) -> int:
    """How many takes of a player's so far came to the bar of this passage that they met most often; 0 when all of it
    is new. Bars that a take was broken off before were not met in it.
    """
    met = dict.fromkeys(range(passage.start, passage.stop), 0)
    limits = {"start": passage.start, "stop": passage.stop, "bars": len(passage.score.bars)}
    stretches = {(int(start), int(stop)) for start, stop in connection.execute(_STRETCHES, limits)}
    keys = passage_keys(passage.score, stretches | {(passage.start, passage.stop)})
    for (start, stop), key in keys.items():
        for end in _ends(connection, player, replace(passage, start=start, stop=stop), key):
            for bar in range(max(start, passage.start), min(end, passage.stop)):
                met[bar] += 1
    return max(met.values(), default=0)


def _ends(connection: sqlite3.Connection, player: UUID, stretch: Passage, key: str) -> Iterator[int]:
    """For each take of these bars, known by `key`, the bar of the tune before which it ended."""
    asked = {"player": str(player), "passage_key": key, "unread": Verdict.UNREAD.value}
    reached = [n for (n,) in connection.execute(_REACHED, asked)]
    if not reached:
        return
    notes = stretch.notes
    for n in reached:
        broken_off = n is not None and n < len(notes)
        yield stretch.start + notes[n - 1].heads[-1].bar + 1 if broken_off else stretch.stop
