"""A take out of a log or an export, by its day and number."""

import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime

import pytest

from game.errors import LogError
from game.practice_log.transfer.export import write_export
from game.report.logged_take import making_sense, own_takes, replayed_take, takes_handed_over, takes_on
from tests.practice_log.logged_takes import PLAYER
from tests.refusing import refusal
from tests.report.month import write_month

FIRST_DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def log(tmp_path_factory):
    path = tmp_path_factory.mktemp("month") / "practice.sqlite"
    write_month(path)
    with closing(sqlite3.connect(path)) as connection, connection:
        write_export(connection, PLAYER, path.with_name("me.zip"), now=datetime(2026, 12, 1, tzinfo=UTC))
    return path


def test_the_takes_of_a_day_are_listed_in_their_order_with_their_share(log):
    with own_takes(log, "") as found:
        takes = takes_on(found, FIRST_DAY)
    assert [take.numbered.number for take in takes] == [1, 2, 3]
    assert all(0 < take.clean_share <= 1 for take in takes)


@pytest.mark.parametrize("name", ["practice.sqlite", "me.zip"])
def test_what_was_handed_over_holds_the_same_take_as_the_log(log, name):
    with own_takes(log, "") as found:
        own = replayed_take(found, FIRST_DAY, 2)
    with takes_handed_over(log.with_name(name)) as found:
        handed = replayed_take(found, FIRST_DAY, 2)
    assert (handed.raw.played, handed.judgement) == (own.raw.played, own.judgement)
    assert handed.raw.played


def test_a_day_without_takes_and_a_number_that_is_none_are_refused(log):
    with own_takes(log, "") as found:
        with refusal(LogError, "nothing was played on 1 January 2026"):
            takes_on(found, date(2026, 1, 1))
        for number in (0, 4):
            with refusal(LogError, f"25 November 2026 has takes 1 to 3, not {number}"):
                replayed_take(found, FIRST_DAY, number)


def test_rows_that_make_no_sense_are_told_of_a_file_from_elsewhere_and_are_a_fault_in_our_own(tmp_path):
    with refusal(LogError, r"a.zip holds rows that make no sense \(KeyError\)"), making_sense(tmp_path / "a.zip"):
        raise KeyError("x")
    with pytest.raises(KeyError), making_sense(None):
        raise KeyError("x")
