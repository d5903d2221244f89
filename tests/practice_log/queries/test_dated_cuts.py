"""What is kept of days before is of about the ages that late entries have."""

from datetime import timedelta

import pytest

from game.practice_log.database.store import open_store
from game.practice_log.queries.dated_cuts import AGES_DAYS, DAY_US, days_before, which_to_keep
from game.practice_log.queries.entry_order import BEFORE_ALL, newest_position
from game.practice_log.queries.log_cut import cut_at
from game.practice_log.rows.entry_rows import About, put_fact, us_of
from tests.practice_log.logged_takes import MORNING, PLAYER, recorded


@pytest.fixture(name="log")
def a_log_of_two_hundred_days():
    log = open_store(None, now_utc=MORNING)
    for day in range(200):
        put_fact(log, recorded(log, MORNING + timedelta(days=day)), About.SETTING, {})
    yield log
    log.close()


def test_of_each_age_the_oldest_is_kept_and_of_what_is_older_than_all_the_newest():
    days = (0, 50, 99, 120, 168, 172, 189, 195, 198, 199)
    kept_days = sorted(us // DAY_US for us in which_to_keep((day * DAY_US for day in days), 200 * DAY_US))
    assert kept_days == [99, 120, 172, 189, 195, 198]


def test_on_the_way_through_a_log_there_is_a_cut_of_every_age_the_oldest_first(log):
    newest = newest_position(log, PLAYER.uuid)
    cuts = list(days_before(log, PLAYER.uuid, BEFORE_ALL, newest))
    assert [(newest.moment_us - cut.position.moment_us) // DAY_US for cut in cuts] == sorted(AGES_DAYS, reverse=True)
    assert cuts == [cut_at(log, PLAYER.uuid, cut.position) for cut in cuts]
    later = list(days_before(log, PLAYER.uuid, cuts[3].position, newest))
    assert later == cuts[4:]


def test_a_log_of_one_day_has_none(log):
    first = cut_at(log, PLAYER.uuid, newest_position(log, PLAYER.uuid)).position
    assert list(days_before(log, PLAYER.uuid, first, first)) == []
    assert us_of(MORNING) < first.moment_us
