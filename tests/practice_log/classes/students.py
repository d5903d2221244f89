"""Students with computers of their own, who hand in exports, for the tests of a gathered class."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random
from uuid import UUID

from game.practice_log.classes.class_schema import KEYS, TABLES
from game.practice_log.database.identity import Identity
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.take_rows import put_take
from game.practice_log.transfer.export import write_export
from tests.practice_log.logged_takes import begun, ended, judged, notes_of
from tests.practice_log.transfer.practised import TUNES, Computer

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


class Pupil:
    """Somebody simulated who practises one tune, day after day: against the click, or finding places. What comes right
    is drawn from a learner, and what they did is known.
    """

    def __init__(self, player, number, *, seed=1, zone_minutes=60):
        self.player, self.number = player, number
        self.computer = Computer(number, player=player, seed=seed, zone_minutes=zone_minutes)
        self.rng = Random(f"pupil {number} {seed}")

    def day(self, day, terms, *, right, takes=3, tune=TUNES[0], at_minute=18 * 60):
        """Some takes on a day of their own zone, `right` being the chance that a note comes right."""
        log, zone = self.computer.log, self.computer.zone
        evening = datetime(day.year, day.month, day.day, tzinfo=zone) + timedelta(minutes=at_minute)
        for nth in range(takes):
            started_at = evening + timedelta(minutes=3 * nth)
            take = replace(begun(terms, tune=tune, player=self.player), started_at=started_at)
            number = put_take(log, take, self.computer.device)
            wrong = {note.n for note in take.asked.notes if self.rng.random() >= right}
            judgement = judged(take, notes_of(take, wrong=wrong, gap_s=0.5 + self.rng.random()))
            ending = replace(ended(judgement), ended_at=started_at + timedelta(minutes=1))
            put_ending(log, number, ending, self.computer.device)


assert KEYS.keys() == TABLES.keys()
