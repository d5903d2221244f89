"""How often the bars of each take were met, said as plainly as can be: every take is held against every one before it.

The program keeps tables for this and adds to them; tests hold what it tells against this.
"""

import json
import sqlite3
from typing import NamedTuple

from game.practice_log.rows.asked_notes import asked_of
from game.practice_log.rows.bar_contents import AskedHead, Stretch, bar_keys
from game.practice_log.rows.judgement_rows import judgement_of

_ORDER = "entry.moment_us, device.uuid, entry.sequence, entry.at_us"
_ENTRIES = f"""
SELECT entry.kind, entry.row FROM entry JOIN device USING (device)
WHERE entry.kind IN ('take', 'fact') ORDER BY {_ORDER}
"""


class PlainSighting(NamedTuple):
    """How often the bars had been met, this take included, whether they were heard, whether the tune was known."""

    nth: int
    heard: bool
    known: bool


def plain_sightings(log: sqlite3.Connection) -> dict[int, PlainSighting]:
    """The sighting of every take of a log of one player, by its number, in the order of everything."""
    met: list[tuple[Stretch, int]] = []
    heard: list[Stretch] = []
    known: dict[str, bool] = {}
    found = {}
    for kind, row in log.execute(_ENTRIES).fetchall():
        if kind == "take":
            stretch, reached, tune, said = _take(log, row)
            counts = [sum(_came_to(stretch, bar, *before) for before in met) for bar in range(len(stretch.bars))]
            was_heard = said[0] or any(stretch.shared(other) for other in heard)
            found[row] = PlainSighting(1 + max(counts, default=0), was_heard, known.get(tune, said[1]))
            met.append((stretch, reached))
            heard += [stretch] if said[0] else []
        else:
            about, content = log.execute("SELECT about, content FROM fact WHERE fact = ?", (row,)).fetchone()
            told = json.loads(content)
            if about == "heard":
                heard.append(Stretch(told["start"], tuple(told["bars"])))
            elif about == "ear":
                known[told["tune"]] = told["known"]
    return found


def put_plain_sightings(log: sqlite3.Connection) -> None:
    """The same as a table `plain_sighting (take, nth, heard, known)` for plain SQL."""
    log.execute(
        "CREATE TEMP TABLE plain_sighting (take INTEGER PRIMARY KEY, nth INTEGER, heard INTEGER, known INTEGER)"
    )
    rows = [(take, *sighting) for take, sighting in plain_sightings(log).items()]
    log.executemany("INSERT INTO plain_sighting VALUES (?, ?, ?, ?)", rows)


def _take(log, take):
    """The stretch that a take asked, how many of its bars it came to, its tune, and what an old take said of itself."""
    asked, start, stop, heard, known, tune = log.execute(
        "SELECT asked, start, stop, heard, known_by_ear, tune FROM take JOIN bars USING (bars) "
        "LEFT JOIN take_tune USING (take) WHERE take.take = ?",
        (take,),
    ).fetchone()
    notes = asked_of(log, asked)
    heads = [
        AskedHead(one.note.heads[0].bar, str(one.note.onset), str(one.note.length), one.note.pitch.name)
        for one in notes.notes
    ]
    judgement = judgement_of(log, take, with_answers=False)
    read = [verdict.n for verdict in judgement.verdicts if verdict.verdict.value != "unread"] if judgement else []
    reached = stop - start
    if read and max(read) < len(notes.notes):
        reached = next(one.note.heads[-1].bar for one in notes.notes if one.note.n == max(read)) + 1
    return Stretch(start, bar_keys(heads, notes.spans, stop - start)), reached, tune, (bool(heard), bool(known))


def _came_to(asked: Stretch, bar: int, other: Stretch, reached: int) -> bool:
    """Whether a take of the other stretch, which reached so many of its bars, came to a bar of this one."""
    shared = asked.shared(other)
    if shared is None or not shared[0] <= bar < shared[1]:
        return False
    in_other = bar if asked.bars == other.bars else asked.start + bar - other.start
    return in_other < reached
