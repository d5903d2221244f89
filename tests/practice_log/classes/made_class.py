"""A class whose rows are written by hand, for tests of what is asked of it."""

from contextlib import contextmanager
from datetime import date, timedelta
from uuid import UUID

from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_schema import CAUSES, TABLES, VERDICTS, insert_statement

TODAY = date(2026, 11, 30)
ODE = "Ode to Joy"


def days_ago(days):
    return (TODAY - timedelta(days=days)).isoformat()


class MadeClass:
    """Rows of a class: what a test does not say is empty, nought or nothing."""

    def __init__(self, connection):
        self.connection = connection
        self.items = {}
        self.takes = 0

    def put(self, table, student, **values):
        row = [student.bytes, *(values.get(name, _nothing(kind)) for name, kind in TABLES[table])]
        self.connection.execute(insert_statement(table), row)

    def student(self, number, name, *, file=""):
        student = UUID(int=number)
        self.put("student", student, name=name)
        self.put("delivery", student, path=file or f"{name}.zip")
        return student

    def passage(self, student, passage=1, title=ODE, bars=("1", "4"), target=None):
        first, last = bars
        days = {"first_day": days_ago(20), "last_day": days_ago(0)}
        self.put("passage", student, passage=passage, title=title, first=first, last=last, target_bpm=target, **days)

    def take(self, student, ago, *, notes=16, amiss=(), passage=1, stage="places", bpm=None, clean=False):
        """A take so many days ago; `amiss` are notes that were not right: how they are written, verdict and cause."""
        self.takes += 1
        take, wrong = self.takes, len(amiss)
        sums = {"notes": notes, "clean": notes - wrong, "in_time": notes - wrong, "clean_in_time": int(clean)}
        at = {"place": take, "entry_key": take, "day": days_ago(ago), "passage": passage}
        self.put("take", student, take=take, stage=stage, tempo_bpm=bpm, **sums, **at)
        for n, (written, verdict, cause) in enumerate(amiss):
            item = self._item(student, written)
            self.put("note", student, take=take, n=n, item=item, verdict=VERDICTS[verdict], cause=CAUSES.get(cause))

    def day(self, student, ago, minutes=20.0, takes=3):
        self.put("day", student, day=days_ago(ago), minutes=minutes, takes=takes)

    def set_part(self, student, due, **values):
        common = {"digest": "d", "title": ODE, "set_in": "Week", "opened_day": days_ago(9), "steps": 1}
        self.put("set_part", student, due=days_ago(due), **common | values)

    def stuck(self, student, amiss, **values):
        """Ten takes on five days, in none of which anything got better."""
        for ago in (9, 7, 5, 3, 1):
            self.day(student, ago)
            for _ in range(2):
                self.take(student, ago, amiss=amiss, **values)

    def _item(self, student, written):
        key = (student, written)
        if key not in self.items:
            self.items[key] = len(self.items) + 1
            self.put("item", student, item=self.items[key], written=written, string=1, fret=1)
        return self.items[key]


@contextmanager
def made_class(folder):
    with open_class(folder / "made.sqlite") as connection:
        yield MadeClass(connection)


def _nothing(kind):
    if "NOT NULL" not in kind:
        return None
    return "" if kind.startswith("TEXT") else 0
