"""What was saved of a damaged log, made consistent: whatever refers to rows that are gone goes too.

Of a take the notes up to the first that is gone are kept, as of one that was cut short. A judgement, or what the coach
heard, is whole or not there. What is taken out is counted by its takes.
"""

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from game.practice_log.foreign.readable_rows import Gap

_TABLE_OF_KIND = {"take": "take", "judgement": "judgement", "coach": "coach_event", "fact": "fact", "unread": "unread"}
_OF_A_JUDGEMENT = ("verdict", "named", "answer", "event")
_OF_A_TAKE = ("revised", "help", "name_given")

Gaps = Mapping[str, Sequence[Gap]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """How many takes there are, how many are gone (those whose number is still known), and of how many of those that
    are there something is gone.
    """

    takes: int
    takes_lost: int
    takes_in_part: int


def tidy(log: sqlite3.Connection, gaps: Gaps) -> Saved:
    """Make a log consistent whose rows were saved around these gaps."""
    log.execute("CREATE TEMP TABLE hurt (take INTEGER PRIMARY KEY)")
    log.execute(
        "CREATE TEMP TABLE known_take AS SELECT take FROM take UNION SELECT take FROM played "
        "UNION SELECT take FROM judgement"
    )
    has_entries = bool(log.execute("SELECT 1 FROM sqlite_master WHERE name = 'entry'").fetchone())
    if has_entries:
        log.execute("INSERT INTO known_take SELECT row FROM entry WHERE kind = 'take'")
    _cut_takes(log, gaps)
    _take_out_judgements(log, gaps)
    for gap in gaps.get("asked_note", ()):
        _delete_between(log, "asked", "asked", gap)
    _take_out_what_refers_to_nothing(log, has_entries=has_entries)
    return _counted(log)


def _cut_takes(log: sqlite3.Connection, gaps: Gaps) -> None:
    """Of what was done in a take, only what came before the first gap."""
    log.execute(
        "CREATE TEMP TABLE cut AS SELECT take, i FROM ("
        "SELECT take, i, ROW_NUMBER() OVER (PARTITION BY take ORDER BY i) AS nth FROM played) WHERE i <> nth"
    )
    log.execute("INSERT OR IGNORE INTO hurt SELECT take FROM cut")
    log.execute("DELETE FROM played WHERE (take, i) IN (SELECT take, i FROM cut)")
    for gap in gaps.get("played", ()):
        _hurt(log, "SELECT take FROM take", "take", gap)
    for table in _OF_A_TAKE:
        for gap in gaps.get(table, ()):
            _cut_after(log, table, gap)
    if _has(log, "revised"):
        log.execute("DELETE FROM revised WHERE (take, i) NOT IN (SELECT take, i FROM played)")


def _cut_after(log: sqlite3.Connection, table: str, gap: Gap) -> None:
    """The take in the middle of which it goes on again may lack what came before in it; and so may any of which
    nothing is known.
    """
    if gap.before is None:
        last = log.execute(f"SELECT COALESCE(MAX(take), 0) FROM {table}").fetchone()
        log.execute("INSERT OR IGNORE INTO hurt SELECT take FROM take WHERE take >= ?", last)
        return
    goes_on = log.execute(f"SELECT take FROM {table} WHERE {table} = ?", (gap.before,)).fetchone()
    if goes_on is not None:
        log.execute(f"DELETE FROM {table} WHERE {table} >= ? AND take = ?", (gap.before, *goes_on))
        log.execute("INSERT OR IGNORE INTO hurt VALUES (?)", goes_on)


def _take_out_judgements(log: sqlite3.Connection, gaps: Gaps) -> None:
    """Those of which a verdict or an answer may be gone."""
    if gaps.get("judgement"):
        log.execute("INSERT OR IGNORE INTO hurt SELECT take FROM take WHERE take NOT IN (SELECT take FROM judgement)")
    for table in _OF_A_JUDGEMENT:
        for gap in gaps.get(table, ()):
            _hurt(log, "SELECT take FROM judgement", "judgement", gap)
            _delete_between(log, "judgement", "judgement", gap)
    log.execute(
        "DELETE FROM judgement WHERE judgement IN (SELECT judgement FROM answer JOIN judgement USING (judgement) "
        "WHERE NOT EXISTS (SELECT 1 FROM played WHERE (take, i) = (judgement.take, answer.i)))"
    )


def _hurt(log: sqlite3.Connection, takes: str, column: str, gap: Gap) -> None:
    condition, values = _between(column, gap)
    log.execute(f"INSERT OR IGNORE INTO hurt {takes} WHERE {condition}", values)


def _delete_between(log: sqlite3.Connection, table: str, column: str, gap: Gap) -> None:
    condition, values = _between(column, gap)
    log.execute(f"DELETE FROM {table} WHERE {condition}", values)


def _between(column: str, gap: Gap) -> tuple[str, tuple[int, ...]]:
    """The ends of a gap may lack something too."""
    after = gap.after[0] if gap.after else -(2**62)
    if gap.before is None:
        return f"{column} >= ?", (after,)
    return f"{column} BETWEEN ? AND ?", (after, gap.before)


def _take_out_what_refers_to_nothing(log: sqlite3.Connection, *, has_entries: bool) -> None:
    tables = [name for (name,) in log.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    statements = [
        f"DELETE FROM {table} WHERE {column} IS NOT NULL AND {column} NOT IN (SELECT {parent} FROM {parent})"
        for table in tables
        for _, _, parent, column, *_ in log.execute(f"PRAGMA foreign_key_list({table})").fetchall()
    ]
    if _has(log, "decision"):
        statements.append("DELETE FROM coach_event WHERE coach_event NOT IN (SELECT coach_event FROM decision)")
    if has_entries:
        for kind, table in _TABLE_OF_KIND.items():
            rows, entries = f"SELECT {table} FROM {table}", f"SELECT row FROM entry WHERE kind = '{kind}'"
            statements.append(f"DELETE FROM {table} WHERE {table} NOT IN ({entries})")
            statements.append(f"DELETE FROM entry WHERE kind = '{kind}' AND row NOT IN ({rows})")
    while sum(log.execute(statement).rowcount for statement in statements):
        pass


def _has(log: sqlite3.Connection, table: str) -> bool:
    return log.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?", (table,)).fetchone() is not None


def _counted(log: sqlite3.Connection) -> Saved:
    (takes,) = log.execute("SELECT count(*) FROM take").fetchone()
    (hurt,) = log.execute("SELECT count(*) FROM hurt JOIN take USING (take)").fetchone()
    highest, known = log.execute("SELECT COALESCE(MAX(take), 0), count(DISTINCT take) FROM known_take").fetchone()
    return Saved(takes=takes, takes_lost=max(highest, known) - takes, takes_in_part=hurt)
