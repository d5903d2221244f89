"""Keys and moments in the log: what is recorded by whom and when, with clocks that are right, wrong and put right."""

from datetime import UTC, datetime, timedelta, timezone
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.rows.entry_rows import (
    About,
    Kind,
    Recorded,
    day_of_moment,
    put_clocks_right,
    put_entry,
    put_fact,
    put_fact_of_file,
    settle_gathered,
    time_of,
    us_of,
)
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, recorded

OTHER = Identity(uuid=UUID("11111111-2222-4333-8444-555555555555"), name="the desk at work")


@pytest.fixture
def log():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def meet(log, at, device=DEVICE):
    """Something is recorded on a device."""
    who = Recorded(put_device(log, device), put_player(log, PLAYER), at)
    put_fact(log, who, About.OPENED_TUNE, {"tune": "ode-to-joy"})


def moments(log, device=DEVICE):
    rows = log.execute(
        "SELECT moment_us FROM entry JOIN device USING (device) JOIN fact ON fact = row "
        "WHERE uuid = ? AND about = 'opened' ORDER BY sequence",
        (str(device.uuid),),
    )
    return [(time_of(us) - MORNING) / timedelta(days=1) for (us,) in rows]


def words(log):
    return log.execute("SELECT count(*) FROM fact WHERE about = 'clock'").fetchone()[0]


def day(number):
    return MORNING + timedelta(days=number)


def test_each_device_counts_for_itself_from_one(log):
    for at, device in ((0, DEVICE), (1, OTHER), (2, DEVICE)):
        meet(log, day(at), device)
    keys = log.execute("SELECT uuid, sequence, at_us FROM entry JOIN device USING (device) ORDER BY at_us").fetchall()
    assert keys == [
        (str(DEVICE.uuid), 1, us_of(MORNING)),
        (str(OTHER.uuid), 1, us_of(day(1))),
        (str(DEVICE.uuid), 2, us_of(day(2))),
    ]


def test_an_entry_keeps_the_zone_in_which_it_was_recorded_and_has_the_day_of_that_zone(log):
    evening = datetime(2026, 3, 1, 21, 30, tzinfo=timezone(timedelta(hours=-5)))
    meet(log, evening)
    at_us, zone = log.execute("SELECT moment_us, zone_minutes FROM entry").fetchone()
    assert (at_us, zone) == (us_of(datetime(2026, 3, 2, 2, 30, tzinfo=UTC)), -300)
    assert day_of_moment(at_us, zone) == evening.date().toordinal()


def test_a_time_that_does_not_know_its_zone_is_refused():
    with pytest.raises(ValueError, match="knows its zone"):
        us_of(datetime(2026, 3, 1, 12))  # noqa: DTZ001 - that is what is tried


def test_a_take_has_an_entry_of_its_beginning(log):
    number = put_take(log, begun(minutes=3), DEVICE)
    kind, row, at_us = log.execute("SELECT kind, row, at_us FROM entry").fetchone()
    assert (Kind(kind), row, at_us) == (Kind.TAKE, number, us_of(MORNING + timedelta(minutes=3)))


def test_a_clock_set_by_some_seconds_is_no_wrong_clock(log):
    meet(log, day(1))
    meet(log, day(1) - timedelta(seconds=100))
    assert moments(log) == [1, 1]
    assert words(log) == 0


def test_years_recorded_ahead_move_back_when_the_clock_is_put_right_and_that_is_recorded_once(log):
    for at in (0, 900, 900.5, 1, 2):
        meet(log, day(at))
    assert moments(log) == [0, 0.5, 1, 1, 2]
    assert words(log) == 1


def test_an_empty_battery_does_harm_only_while_it_lasts(log):
    for at in (0, 400, 800, 10, 11):
        meet(log, day(at))
    assert moments(log)[-2:] == [10, 11]
    meet(log, day(801))
    assert moments(log) == [0, 400, 800, 800, 800, 801]


def test_two_computers_are_put_in_order_by_their_clocks(log):
    for at, device in ((0, DEVICE), (2, DEVICE), (1, OTHER)):
        meet(log, day(at), device)
    assert (moments(log), moments(log, OTHER), words(log)) == ([0, 2], [1], 0)


def test_another_computer_years_ahead_is_put_right_by_this_one(log):
    for at in range(5):
        meet(log, day(at))
    meet(log, day(700), OTHER)
    put_clocks_right(log, recorded(log, day(4)))
    assert moments(log, OTHER) == [4]
    put_clocks_right(log, recorded(log, day(5)))
    assert words(log) == 1


def test_where_most_lies_in_the_future_it_is_this_clock_that_is_wrong(log):
    for at in (700, 701, 702):
        meet(log, day(at), OTHER)
    meet(log, day(0))
    put_clocks_right(log, recorded(log, day(0)))
    assert (moments(log, OTHER), words(log)) == ([700, 701, 702], 0)


def test_gathered_rows_get_the_moments_that_they_have_where_they_were_recorded(log):
    for at in (0, 900, 900.5, 1):
        meet(log, day(at))
    told = moments(log)
    log.execute("UPDATE entry SET moment_us = at_us")
    settle_gathered(log, [put_device(log, DEVICE)])
    assert moments(log) == told == [0, 0.5, 1, 1]


def test_nonsense_that_somebody_says_of_a_clock_is_passed_over(log):
    who = recorded(log)
    meet(log, day(1))
    for upto in ("soon", None, 2.5, [1]):
        put_fact(log, who._replace(at=day(1)), About.CLOCK, {"device": str(DEVICE.uuid), "upto": upto})
    settle_gathered(log, [])
    assert moments(log) == [1]


def test_every_kind_of_thing_may_be_recorded(log):
    put_entry(log, recorded(log), Kind.UNREAD, 7)
    assert log.execute("SELECT kind, row FROM entry").fetchall() == [("unread", 7)]


def test_what_a_file_of_before_said_stands_at_its_time_and_says_nothing_of_the_clock(log):
    for at in (-40, -30):
        put_fact_of_file(log, recorded(log, day(at)), About.OPENED_TUNE, {"tune": "01-au-clair"})
    meet(log, day(3))
    assert moments(log) == [-40, -30, 3]
    assert words(log) == 0


def test_but_never_before_what_the_device_recorded_since_for_its_counts_only_rise(log):
    meet(log, day(1))
    put_fact_of_file(log, recorded(log, day(-30)), About.OPENED_TUNE, {"tune": "01-au-clair"})
    meet(log, day(2))
    put_fact_of_file(log, recorded(log, day(2.5)), About.OPENED_TUNE, {"tune": "01-au-clair"})
    assert moments(log) == [1, 1, 2, 2.5]
    assert [count for (count,) in log.execute("SELECT sequence FROM entry ORDER BY sequence")] == [1, 2, 3, 4]
    assert words(log) == 0


def test_a_file_of_a_time_that_was_put_right_before_is_of_no_later_than_that(log):
    meet(log, day(400))
    meet(log, day(0))
    put_fact_of_file(log, recorded(log, day(0)), About.OPENED_TUNE, {"tune": "01-au-clair"})
    assert max(moments(log)) <= 0.001
    assert words(log) == 1
