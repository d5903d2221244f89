"""Two sides of one student are put together without a database: no take is lost, and the newer side's word counts."""

from itertools import permutations

import pytest

from game.practice_log.classes.class_schema import TABLES
from game.practice_log.school.student_sides import BY_TABLE, NUMBERED, merged

TAKES = 6


def row(table, **told):
    """A row whose other columns are 0, or empty."""
    made = []
    for name, kind in TABLES[table]:
        plain = None if "NOT NULL" not in kind else "" if kind.startswith("TEXT") else 0
        made.append(told.get(name, plain))
    return tuple(made)


def side(numbers, *, judged=1, name="Ada", named="", first=1):
    """Somebody who played these takes, number by number a minute later, each of a tune of its own and a day of its own;
    numbers are given from `first` on.
    """
    rows = {table: [] for table in TABLES if table != "note"}
    rows["student"] = [row("student", name=name, named=named)]
    for at, number in enumerate(numbers, start=first):
        day = f"2026-11-{number:02}"
        rows["passage"].append(
            row("passage", passage=at, passage_key=f"key {number}", takes=1, first_day=day, last_day=day)
        )
        rows["bars"].append(row("bars", bars=at, passage=at, title=f"tune {number}"))
        rows["item"].append(row("item", item=at, written=f"note {number}", sounding=60 + number))
        rows["take"].append(
            row("take", take=at, entry_key=number, judged_key=judged, place=at, moment_us=60 * number, day=day, bars=at,
                passage=at, stage="time", tempo_bpm=60.0 + number, minutes=1.0, reading=1, notes=4, clean=3)
        )  # fmt: skip
        rows["day"].append(row("day", day=day, minutes=1.0, takes=1, read=4, clean=3, read_timed=4, clean_timed=3))
    return rows


def column(rows, table, name):
    return [one[BY_TABLE[table][name]] for one in rows[table]]


EMPTY = {table: [] for table in TABLES if table != "note"}


def test_what_comes_into_nothing_is_all_there_is():
    brings = side([1, 2, 3])
    now = merged(EMPTY, brings)
    assert now.rows == brings
    assert now.brought == {1, 2, 3}


def test_the_same_again_changes_nothing():
    there = side([1, 2, 3])
    now = merged(there, side([3, 2, 1], first=7))
    assert {table: sorted(rows) for table, rows in now.rows.items()} == {
        table: sorted(rows) for table, rows in there.items()
    } | {"take": sorted(now.rows["take"])}
    assert now.brought == set()
    assert sorted(column(now.rows, "take", "take")) == [1, 2, 3]


@pytest.mark.parametrize("brings", [[1], [2, 3], [1, 2, 3], [4], [3, 4, 5], [1, 6]])
def test_every_take_of_either_side_is_there_once_with_its_bars_and_passage(brings):
    there = side([1, 2, 3])
    now = merged(there, side(brings, first=5))
    entries = column(now.rows, "take", "entry_key")
    assert sorted(entries) == sorted({1, 2, 3, *brings})
    titles = dict(zip(column(now.rows, "bars", "bars"), column(now.rows, "bars", "title"), strict=True))
    keys = dict(zip(column(now.rows, "passage", "passage"), column(now.rows, "passage", "passage_key"), strict=True))
    for entry, bars, passage in zip(
        entries, column(now.rows, "take", "bars"), column(now.rows, "take", "passage"), strict=True
    ):
        assert titles[bars] == f"tune {entry}"
        assert keys[passage] == f"key {entry}"
    assert len(column(now.rows, "day", "day")) == len(set(entries))
    assert sum(column(now.rows, "day", "takes")) == len(entries)
    # The notes of those alone come that are not there.
    new = [number for number, entry in zip(column(now.rows, "take", "take"), entries, strict=True) if entry > 3]
    assert now.brought == set(new)


def test_the_order_in_which_folders_come_makes_no_difference_to_what_is_told():
    sides = [side([1, 4], name="A"), side([2, 4, 5], name="B", judged=2), side([3, 6], name="C")]
    told = set()
    for order in permutations(sides):
        rows = EMPTY
        for one in order:
            rows = merged(rows, one).rows
        takes = zip(*(column(rows, "take", name) for name in ("entry_key", "place")), strict=True)
        days = sorted(rows["day"])
        told.add(repr((sorted(takes), days, column(rows, "student", "name"))))
    assert len(told) == 1


def test_the_judgement_of_the_newer_side_stands_whichever_comes_last():
    old, new = side([1, 2], judged=1), side([1, 2, 3], judged=2)
    after_old, after_new = merged(old, new), merged(new, old)
    assert set(column(after_old.rows, "take", "judged_key")) == {2}
    assert set(column(after_new.rows, "take", "judged_key")) == {2}
    assert len(after_old.brought) == 3
    assert after_new.brought == set()


def test_a_take_whose_notes_went_for_their_age_takes_none_away():
    """A class's file that keeps its takes for some months says of such a take that nobody judged it."""
    now = merged(side([1, 2]), side([2, 3], judged=0))
    assert sorted(zip(column(now.rows, "take", "entry_key"), column(now.rows, "take", "judged_key"), strict=True)) == [
        (1, 1), (2, 1), (3, 0),
    ]  # fmt: skip
    assert len(now.brought) == 1


def test_items_keep_the_numbers_that_notes_hold():
    there, brings = side([1, 2]), side([2, 3], first=1)
    now = merged(there, brings)
    assert column(now.rows, "item", "item")[:2] == [1, 2]
    assert now.items == {1: 2, 2: 3}


def test_marks_and_set_parts_keep_their_first_day():
    there, brings = side([1]), side([2])
    there["set_part"] = [row("set_part", digest="d", part=1, stage="time", done_day="2026-11-03")]
    brings["set_part"] = [row("set_part", digest="d", part=1, stage="time")]
    brings["passage"].append(
        row("passage", passage=9, passage_key="key 1", first_day="2026-11-01", last_day="2026-11-01")
    )
    there["mark"] = [row("mark", passage=1, mark="signed off", day="2026-11-01")]
    brings["mark"] = [row("mark", passage=9, mark="signed off", day="2026-11-05")]
    now = merged(there, brings)
    assert column(now.rows, "set_part", "done_day") == ["2026-11-03"]
    assert column(now.rows, "mark", "day") == ["2026-11-01"]


def test_what_a_list_calls_a_student_is_kept_where_another_folder_has_no_list():
    now = merged(side([1], named="Ada L."), side([1, 2], name="ada"))
    assert now.rows["student"] == [row("student", name="ada", named="Ada L.")]
    now = merged(side([1, 2], named="Ada L."), side([1], named="Ada Lovelace"))
    assert now.rows["student"] == [row("student", name="Ada", named="Ada Lovelace")]


def test_a_column_called_like_a_table_of_numbers_holds_one():
    """So that a column which is added later is given the numbers that are there."""
    for table, columns in TABLES.items():
        for name, kind in columns:
            assert name not in NUMBERED or kind.startswith("INTEGER"), table
