"""A clock that is wrong does harm for as long as it is wrong, and none afterwards."""

from datetime import timedelta, timezone
from random import Random

import pytest

from game.coach.marks import Mark
from game.coach.notes.review import due_day
from game.music.passage import whole_tune
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.passage_key import passage_key
from tests.practice_log.devices import TUNE, Device, Thing, everything_of, passages_of
from tests.practice_log.logged_takes import MORNING, PLAYER
from tests.practice_log.transfer.practised import lines_of
from tests.sampling import sample

FIRST, SECOND = passages_of(TUNE)
WHOLE = whole_tune(TUNE)
A_DAY = 24 * 60
# In time, at the target, and without a wrong note: see `Device`.
CLEAN = next(
    chance
    for chance in (index / 1000 for index in range(400))
    if all(wrong >= 0.15 for rng in [Random(chance)] for wrong in [rng.random() for _ in WHOLE.notes])
)
YEARS = timedelta(days=1461)


def play(device, day, takes, passage=FIRST, *, chance=0.5, ahead=timedelta(0)):
    """Takes of a morning, by a clock that is so much ahead."""
    device.ahead = ahead
    for take in range(takes):
        device.do(Thing(A_DAY * day + 5 * take, 0, "take", passage, chance))


def today(day):
    return MORNING.date().toordinal() + day


def days_of(log):
    with figures_of(log, PLAYER.uuid) as figures:
        return {(day.day.toordinal() - today(0), day.takes) for day in figures.days()}


@pytest.mark.parametrize(
    "ahead",
    sample([YEARS, -YEARS, timedelta(days=1), timedelta(days=-1), timedelta(hours=11)], by_default=2),
)
def test_after_a_session_by_a_wrong_clock_everything_goes_on_as_if_it_had_been_right(ahead):
    device = Device(0)
    play(device, 0, 3)
    play(device, 1, 6, ahead=ahead)
    play(device, 2, 2)
    device.start()
    record = device.coach.records[passage_key(FIRST)]
    assert record.day == today(2)
    assert record.takes_today <= 8, (
        "those of the wrong session may count as of the day on which the clock was put right"
    )
    assert max(day for day, _ in days_of(device.log)) == 2
    assert sum(takes for _, takes in days_of(device.log)) == 11
    play(device, 3, 2)
    device.start()
    record = device.coach.records[passage_key(FIRST)]
    assert (record.day, record.takes_today) == (today(3), 2)
    assert (3, 2) in days_of(device.log)
    device.log.close()


@pytest.mark.parametrize("ahead", sample([YEARS, -YEARS, timedelta(days=1)], by_default=1))
def test_a_passage_can_still_be_signed_off_and_comes_back_for_review_in_time(ahead):
    """Half of it was earned while the clock was years ahead. The whole tune: a part of it has too few notes."""
    device = Device(0)
    play(device, 0, 1, SECOND, chance=CLEAN)
    play(device, 1, 1, WHOLE, chance=CLEAN, ahead=ahead)
    for day in (2, 3, 4):
        play(device, day, 1, WHOLE, chance=CLEAN)
    device.start()
    record = device.coach.records[passage_key(WHOLE)]
    assert Mark.SIGNED_OFF in record.marks
    assert today(4) < due_day(record.review) < today(365)
    assert all(one.day <= today(4) for one in device.coach.records.values())
    assert device.notes.day <= today(4)
    device.log.close()


def test_what_is_known_live_is_what_the_log_tells_once_the_clock_is_right_again():
    device = Device(0)
    play(device, 0, 2)
    play(device, 1, 2, ahead=YEARS)
    play(device, 2, 1)
    device.start()
    play(device, 2.1, 2)
    live = device.coach, device.notes
    device.start()
    assert (device.coach, device.notes) == live
    device.log.close()


@pytest.mark.parametrize(("before", "after"), sample([(1, 2), (2, 1), (9, -10), (-10, 9), (0, 5.5)], by_default=2))
def test_another_zone_and_summer_time_move_no_moment_and_every_day_is_lived_once(before, after):
    device = Device(0)
    device.zone = timezone(timedelta(hours=before))
    play(device, 0, 3)
    device.zone = timezone(timedelta(hours=after))
    play(device, 1, 2)
    play(device, 2, 2)
    record = device.coach.records[passage_key(FIRST)]
    there = (MORNING + timedelta(days=2)).astimezone(device.zone).date().toordinal()
    assert (record.day, record.takes_today) == (there, 2)
    moments = device.log.execute("SELECT COUNT(*) FROM entry WHERE moment_us <> at_us").fetchone()
    assert moments == (0,)
    live = device.coach
    device.start()
    assert device.coach == live
    device.log.close()


def test_two_computers_of_which_one_was_wrong_agree_once_both_have_gathered():
    one, other = Device(0), Device(1)
    play(one, 0, 2)
    play(other, 1, 2, SECOND, ahead=timedelta(days=1))
    play(other, 3, 1, SECOND)
    play(one, 4, 1)
    for device, from_other in ((one, other), (other, one)):
        device.gather(lines_of(from_other.log))
    assert everything_of(one.log) == everything_of(other.log)
    assert max(day for day, _ in days_of(one.log)) == 4
    for device in (one, other):
        device.log.close()
