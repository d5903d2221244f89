"""Each stretch of bars has one number, and those like it are found by their bars."""

from contextlib import closing

import pytest

from game.practice_log.database.store import open_store
from game.practice_log.queries.stretch_tables import MOST_BARS, StretchTables
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.rows.bar_contents import EMPTY, Stretch, stretch_of
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, TUNE, begun

A, B, C = (letter * 32 for letter in "abc")


@pytest.fixture(name="log")
def with_sums():
    with closing(open_store(None, now_utc=MORNING)) as log:
        put_take(log, begun(), DEVICE)
        with sightings_up_to_date(log, PLAYER.uuid):
            yield log


def test_a_stretch_keeps_its_number_whoever_asks(log):
    tables = StretchTables(log)
    number = tables.number_of(Stretch(0, (A, B)))
    assert tables.number_of(Stretch(1, (A, B))) != number
    assert StretchTables(log).number_of(Stretch(0, (A, B))) == number
    assert StretchTables(log).stretch(number) == Stretch(0, (A, B))


def test_what_a_take_asked_is_the_stretch_of_its_passage(log):
    tables = StretchTables(log)
    number = tables.number_of_asked(1, TUNE.start, TUNE.stop)
    assert tables.stretch(number) == stretch_of(TUNE)
    assert tables.number_of(stretch_of(TUNE)) == number == tables.number_of_asked(1, TUNE.start, TUNE.stop)


def test_those_that_hold_one_of_its_bars_at_its_place_or_all_elsewhere_are_like_it(log):
    tables = StretchTables(log)
    other, elsewhere, later, far = (
        tables.number_of(stretch)
        for stretch in (Stretch(0, (A, C)), Stretch(7, (A, B)), Stretch(1, (B, C)), Stretch(1, (A, B)))
    )
    assert set(tables.like(Stretch(0, (A, B)))) == {other, elsewhere, later, far}
    assert tables.like(Stretch(0, (C,))) == []


def test_empty_bars_make_nothing_alike(log):
    tables = StretchTables(log)
    tables.number_of(Stretch(0, (EMPTY, A)))
    assert tables.like(Stretch(0, (EMPTY, B))) == []


def test_bars_without_end_in_a_damaged_log_are_cut_off(log):
    tables = StretchTables(log)
    assert len(tables.stretch(tables.number_of_asked(1, 0, 10**12)).bars) == MOST_BARS
    assert tables.stretch(tables.number_of_asked(1, 9, 3)).bars == ()
