"""Students with computers of their own, who hand in exports, for the tests of a gathered class."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

from game.practice_log.classes.class_schema import KEYS, TABLES
from game.practice_log.database.identity import Identity
from game.practice_log.transfer.export import write_export
from tests.practice_log.transfer.practised import Computer

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)
ADA = Identity(uuid=UUID(int=0xADA0), name="Ada")
BEN = Identity(uuid=UUID(int=0xBE00), name="Ben")
CEM = Identity(uuid=UUID(int=0xCE00), name="Cem")


def student(player, number, *, steps=12, seed=1):
    """Somebody at a computer, who has practised a little."""
    return Computer(number, player=player, seed=seed).practise(steps)


def hand_in(computer, path, *, later_days=0, **what):
    """An export of all that is in the log of a computer."""
    path.parent.mkdir(parents=True, exist_ok=True)
    return write_export(computer.log, computer.player, path, now=NOW + timedelta(days=later_days), **what)


def held(connection):
    """What a class's file holds, but for numbers that only tell rows apart, and for the files it was made of."""
    names = {
        "take": "(SELECT entry_key FROM take AS one WHERE one.student = {t}.student AND one.take = {t}.take)",
        "passage": "(SELECT passage_key FROM passage AS one WHERE one.student = {t}.student "
        "AND one.passage = {t}.passage)",
        "bars": "(SELECT title || first || last || start_bar FROM bars AS one WHERE one.student = {t}.student "
        "AND one.bars = {t}.bars)",
        "item": "(SELECT written || sounding || COALESCE(string, 0) || COALESCE(fret, 0) FROM item AS one "
        "WHERE one.student = {t}.student AND one.item = {t}.item)",
    }
    told = {}
    for table in TABLES.keys() - {"delivery", "item"}:
        columns = ["student", *(name for name, _ in TABLES[table])]
        shown = ", ".join(names.get(name, name).format(t=table) for name in columns)
        told[table] = sorted(map(repr, connection.execute(f"SELECT {shown} FROM {table}")))
    return told


def counts(connection, table):
    """How many rows of each student a table holds."""
    rows = connection.execute(f"SELECT student, COUNT(*) FROM {table} GROUP BY student")
    return {UUID(bytes=one): count for one, count in rows}


assert KEYS.keys() == TABLES.keys()
