"""How still an input is, and what is told of it."""

import pytest

from game.instrument.listening.noise_floor import (
    LEAST_FLOOR_DB,
    MOST_FLOOR_DB,
    NoiseFloor,
    QuietCheck,
    hear_quiet,
)


def heard(levels, *, step_s=0.1, hum_db=-90.0):
    check, at_s = QuietCheck(), 10.0
    for rms_db in levels:
        at_s += step_s
        check = hear_quiet(check, at_s=at_s, rms_db=rms_db, hum_db=hum_db)
    return check, at_s


def test_two_still_seconds_give_the_noise():
    check, at_s = heard([-61.0, -60.0, -59.0] * 8)
    assert check.found(at_s) == NoiseFloor(rms_db=-60.0, hum_db=-90.0)
    assert check.found(at_s).floor_db == -52.0


def test_before_they_are_over_nothing_is_known():
    check, at_s = heard([-60.0] * 10)
    assert check.found(at_s) is None
    assert check.lasted_s(at_s) == pytest.approx(0.9)
    assert QuietCheck().found(5.0) is None


def test_a_sound_in_between_begins_them_anew_and_again_when_it_is_over():
    check, _ = heard([-60.0] * 15 + [-20.0])
    assert (check.disturbed, check.levels) == (True, ((-20.0, -90.0),))
    check, at_s = heard([-60.0] * 15 + [-20.0] * 3 + [-60.0] * 22)
    assert check.found(at_s).rms_db == -60.0


def test_digital_silence_is_no_disturbance_and_no_floor_of_nothing():
    check, at_s = heard([-200.0, -95.0, -140.0] * 8, hum_db=-300.0)
    assert not check.disturbed
    assert check.found(at_s).floor_db == LEAST_FLOOR_DB


def test_a_loud_room_is_told_and_does_not_make_a_guitar_unheard():
    floor = NoiseFloor(rms_db=-30.0, hum_db=-80.0)
    assert floor.loud
    assert floor.floor_db == MOST_FLOOR_DB


@pytest.mark.parametrize(
    ("rms_db", "hum_db", "hums"), [(-50, -51, True), (-50, -56, False), (-75, -75, False), (-60, -59, True)]
)
def test_hum_is_told_where_it_is_most_of_a_noise_that_is_heard(rms_db, hum_db, hums):
    floor = NoiseFloor(rms_db=rms_db, hum_db=hum_db)
    assert floor.hums is hums
    assert 0 <= floor.hum_share <= 1
