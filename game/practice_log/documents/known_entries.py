"""Which entries a log holds already, and what an other copy of one of them knows beyond that."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from game.practice_log.documents.brought_rows import fact_text, put_answers, put_done
from game.practice_log.documents.chosen_entries import of_numbers
from game.practice_log.documents.documents import CoachLine, Entry, FactLine, JudgementLine, TakeLine
from game.practice_log.documents.shared_numbers import SharedNumbers
from game.practice_log.rows.entry_rows import Kind

EntryKey = tuple[str, int, int]

_BETWEEN = """
SELECT uuid, sequence, at_us, kind, row, entry FROM entry JOIN device USING (device)
WHERE uuid = ? AND sequence BETWEEN ? AND ?
"""
_ONE = """
SELECT row FROM entry JOIN device USING (device) WHERE uuid = ? AND sequence = ? AND at_us = ? AND kind = 'take'
"""
_TAKES = """
SELECT take, (SELECT COUNT(*) FROM played WHERE played.take = take.take),
    (SELECT COUNT(*) FROM revised WHERE revised.take = take.take),
    (SELECT COUNT(*) FROM help WHERE help.take = take.take),
    (SELECT COUNT(*) FROM name_given WHERE name_given.take = take.take), digest, stage, passage_key
FROM take JOIN asked USING (asked) JOIN bars USING (bars) WHERE take
"""
_JUDGEMENTS = """
SELECT judgement, (SELECT COUNT(*) FROM answer WHERE answer.judgement = judgement.judgement), judge, outcome
FROM judgement WHERE judgement
"""
_COACH = "SELECT coach_event, kind, passage FROM coach_event WHERE coach_event"
_FACTS = "SELECT fact, about, content FROM fact WHERE fact"


class Found(NamedTuple):
    """An entry that is there: its kind, the number of its row, and its own number in this log."""

    kind: str
    row: int
    entry: int


class KnownEntries(dict[EntryKey, Found]):
    """The entries of a log among those that are looked up, and those added since."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        super().__init__()
        self._connection = connection

    def look_up(self, sequences: Mapping[str, Sequence[int]]) -> None:
        """See which are there of the counts of each device."""
        for device, counts in sequences.items():
            for *key, kind, row, entry in self._connection.execute(_BETWEEN, (device, min(counts), max(counts))):
                self[key[0], key[1], key[2]] = Found(kind, row, entry)

    def take(self, key: EntryKey) -> int | None:
        """The number of a take, looked up where it was not yet; None where it is not there."""
        found = self.get(key)
        if found is not None:
            return found.row if found.kind == Kind.TAKE.value else None
        row = self._connection.execute(_ONE, key).fetchone()
        return None if row is None else int(row[0])


def compared(
    connection: sqlite3.Connection,
    shared: SharedNumbers,
    known: KnownEntries,
    there: Iterable[Entry],
    *,
    with_notes: bool = True,
) -> tuple[int, int]:
    """Other copies of entries that are there: make use of what is longer, and count it, and count those of which the
    content is another; the first stands. Without notes, none is longer.
    """
    pairs: defaultdict[type, list[tuple[int, Any]]] = defaultdict(list)
    clashes = 0
    for entry in there:
        found = known.get(entry.key)
        if found is not None and found.kind == type(entry).__struct_config__.tag:
            pairs[type(entry)].append((found.row, entry))
        elif found is not None and found.kind != Kind.UNREAD.value:
            clashes += 1
    longer_takes, other_takes = _takes(connection, shared, pairs[TakeLine], with_notes=with_notes)
    longer_judgements, other_judgements = _judgements(connection, pairs[JudgementLine], with_notes=with_notes)
    clashes += _others(connection, _COACH, [(row, (one.heard, one.passage)) for row, one in pairs[CoachLine]])
    clashes += _others(connection, _FACTS, [(row, (one.about, fact_text(one))) for row, one in pairs[FactLine]])
    return longer_takes + longer_judgements, clashes + other_takes + other_judgements


def _takes(
    connection: sqlite3.Connection, shared: SharedNumbers, pairs: list[tuple[int, TakeLine]], *, with_notes: bool
) -> tuple[int, int]:
    rows = {row[0]: row[1:] for row in of_numbers(connection, _TAKES, [row for row, _ in pairs])}
    longer: dict[int, tuple[int, TakeLine, tuple[int, int, int, int]]] = {}
    clashes = 0
    # Several copies may come at once: the one that knows most of a take comes first.
    for row, take in sorted(pairs, key=lambda pair: sum(_done(pair[1])), reverse=True):
        *there, digest, stage, passage_key = rows[row]
        if (digest, stage, passage_key) != (take.asked, take.terms.stage, take.bars.passage_key):
            clashes += 1
        elif with_notes and any(count > known for count, known in zip(_done(take), there, strict=True)):
            longer.setdefault(row, (row, take, (there[0], there[1], there[2], there[3])))
    put_done(connection, shared, longer.values())
    return len(longer), clashes


def _done(take: TakeLine) -> tuple[int, ...]:
    return (take.played_count, *(len(part) if part else 0 for part in (take.revised, take.help, take.names)))


def _judgements(
    connection: sqlite3.Connection, pairs: list[tuple[int, JudgementLine]], *, with_notes: bool
) -> tuple[int, int]:
    rows = {row[0]: row[1:] for row in of_numbers(connection, _JUDGEMENTS, [row for row, _ in pairs])}
    longer: dict[int, JudgementLine] = {}
    clashes = 0
    for row, judged in pairs:
        answers, judge, outcome = rows[row]
        if (judge, outcome) != (judged.judge, judged.outcome):
            clashes += 1
        elif with_notes and not answers and judged.answers:
            longer.setdefault(row, judged)
    put_answers(connection, longer.items())
    return len(longer), clashes


def _others(connection: sqlite3.Connection, select: str, pairs: list[tuple[int, tuple[str, str]]]) -> int:
    rows = {row[0]: row[1:] for row in of_numbers(connection, select, [row for row, _ in pairs])}
    return sum(rows[row] != told for row, told in pairs)
