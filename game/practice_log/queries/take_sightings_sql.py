"""The statements behind `game.practice_log.queries.take_sightings`."""

from game.practice_log.queries.entry_order import BETWEEN, DAY, ORDER
from game.practice_log.rows.standing import standing

_KEY = "moment_us INTEGER NOT NULL, device TEXT NOT NULL, sequence INTEGER NOT NULL, at_us INTEGER NOT NULL"
_STRETCH_BAR = "bar INTEGER, content TEXT, stretch INTEGER, PRIMARY KEY (bar, content, stretch)"
_ASKED_STRETCH = "asked INTEGER, start INTEGER, stop INTEGER, stretch INTEGER, PRIMARY KEY (asked, start, stop)"
_SIGHTING = f"""
    position INTEGER PRIMARY KEY,
    take INTEGER NOT NULL UNIQUE,
    {_KEY},
    day TEXT NOT NULL,
    judgement INTEGER,
    stretch INTEGER NOT NULL,
    reached INTEGER NOT NULL,
    nth INTEGER NOT NULL,
    heard INTEGER NOT NULL,
    known INTEGER NOT NULL
"""
_TABLES = ("stretch", "stretch_bar", "asked_stretch", "sighting", "heard", "renamed")
EMPTY = (
    *(f"DROP TABLE IF EXISTS summaries.{table}" for table in _TABLES),
    "CREATE TABLE summaries.stretch (stretch INTEGER PRIMARY KEY, start INTEGER NOT NULL, bars TEXT NOT NULL)",
    "CREATE INDEX summaries.stretch_by_bars ON stretch (bars, start)",
    f"CREATE TABLE summaries.stretch_bar ({_STRETCH_BAR}) WITHOUT ROWID",
    f"CREATE TABLE summaries.asked_stretch ({_ASKED_STRETCH}) WITHOUT ROWID",
    f"CREATE TABLE summaries.sighting ({_SIGHTING})",
    "CREATE INDEX summaries.sighting_by_stretch ON sighting (stretch, reached)",
    f"CREATE TABLE summaries.heard (stretch INTEGER NOT NULL, {_KEY})",
    f"CREATE TABLE summaries.renamed (old INTEGER NOT NULL, new INTEGER NOT NULL, {_KEY})",
)
"""Tables without a row. `position` numbers the takes in the order of everything; `stretch` is which bars a take asked,
`reached` how many of them it came to; `nth` is how often the bar that was met most often had been met, this take
included, `heard` whether bars of it had been played to the player, `known` whether they knew the tune by ear.
`renamed` says of bars whose file was read anew which bars they are now.
"""

_AFTER = "(moment_us, device, sequence, at_us) > (:after_us, :after_device, :after_sequence, :after_at)"
FORGET = tuple(f"DELETE FROM summaries.{table} WHERE {_AFTER}" for table in ("sighting", "heard", "renamed"))

# The last note that was reached in each take; NULL where no verdict says so: a take of letters, or one just begun.
_REACHED_NOTE = """(
    SELECT n FROM verdict
    WHERE verdict.judgement = begun.judgement AND verdict.verdict <> 'unread' ORDER BY n DESC LIMIT 1
)"""
TAKES = f"""
WITH begun AS MATERIALIZED (
    SELECT {ORDER}, {DAY} AS day, take.take, take.asked, take.bars, take.heard, take.known_by_ear,
        {standing("take.take")} AS judgement
    FROM entry CROSS JOIN device USING (device) CROSS JOIN take ON take.take = entry.row
    WHERE entry.kind = 'take' AND {BETWEEN}
)
SELECT begun.moment_us, begun.uuid, begun.sequence, begun.at_us, begun.day, begun.take, begun.judgement,
    begun.asked, bars.start, bars.stop, begun.heard, begun.known_by_ear, take_tune.tune,
    (SELECT json_extract(note.heads, '$[#-1][0]') FROM asked_note AS note
        WHERE note.asked = begun.asked AND note.n = {_REACHED_NOTE}
            AND EXISTS (SELECT 1 FROM asked_note AS more WHERE more.asked = note.asked AND more.n > note.n))
FROM begun CROSS JOIN bars USING (bars) LEFT JOIN take_tune USING (take)
ORDER BY begun.moment_us, begun.uuid, begun.sequence, begun.at_us
"""
"""Takes, each with the bar of its last note that was reached, counted from its own first; NULL where it came to its
end.
"""

FACTS = f"""
SELECT {ORDER}, fact.about, CAST(fact.content AS BLOB)
FROM fact CROSS JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact CROSS JOIN device USING (device)
WHERE fact.about IN (SELECT value FROM json_each(:about)) AND length(fact.content) < 1000000 AND {BETWEEN}
ORDER BY {ORDER}
"""

ASKED_HEADS = """
SELECT json_extract(heads, '$[0][0]'), onset, length, written FROM asked_note WHERE asked = ? ORDER BY n
"""

LIKE = """
SELECT alike.stretch FROM json_each(:bars) AS asked
CROSS JOIN summaries.stretch_bar AS alike ON alike.bar = :start + asked.key AND alike.content = asked.value
UNION SELECT stretch FROM summaries.stretch WHERE bars = :bars
"""
"""The stretches that may share bars with one: they hold one of its bars at its place, or the same bars elsewhere."""
