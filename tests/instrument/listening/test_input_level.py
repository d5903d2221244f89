"""Whether a guitar comes in loud enough."""

import pytest

from game.instrument.listening.input_level import ENOUGH_S, LevelCheck, LevelWord, hear_level, on_meter

STEP_S = 0.1


def heard(peaks, *, clipped=None, check=None):
    check, at_s = check or LevelCheck(floor_db=-58.0), 5.0
    for number, peak_db in enumerate(peaks):
        at_s += STEP_S
        check = hear_level(check, at_s=at_s, peak_db=peak_db, clipped=clipped[number] if clipped else 0)
    return check, at_s


@pytest.mark.parametrize(
    ("peak_db", "word"),
    [
        (-120.0, LevelWord.NOTHING),
        (-55.0, LevelWord.NOTHING),
        (-40.0, LevelWord.TOO_QUIET),
        (-30.0, LevelWord.GOOD),
        (-6.0, LevelWord.GOOD),
        (-0.2, LevelWord.TOO_LOUD),
    ],
)
def test_a_level_has_a_word(peak_db, word):
    check, at_s = heard([peak_db] * 3)
    assert check.word(at_s) is word


def test_a_pluck_that_dies_away_is_judged_by_its_beginning_for_two_seconds():
    check, at_s = heard([-10.0, *([-50.0] * 15)])
    assert check.word(at_s) is LevelWord.GOOD
    check, at_s = heard([-10.0, *([-52.0] * 25)])
    assert check.word(at_s) is LevelWord.NOTHING


def test_it_is_settled_after_so_much_good_playing_and_not_sooner():
    check, _ = heard([-10.0] * round(ENOUGH_S / STEP_S))
    assert not check.done
    check, _ = heard([-10.0] * (round(ENOUGH_S / STEP_S) + 2))
    assert check.done


def test_soft_playing_settles_nothing():
    check, _ = heard([-45.0] * 100)
    assert not check.done


def test_samples_at_full_scale_are_told_and_begin_the_good_time_anew():
    check, at_s = heard([-10.0] * 11, clipped=[5] * 10 + [9])
    assert (check.word(at_s), check.good_s) == (LevelWord.TOO_LOUD, 0.0)


def test_a_count_of_clipped_samples_that_begins_anew_is_no_clipping():
    check, at_s = heard([-10.0] * 6, clipped=[7, 7, 7, 0, 0, 0])
    assert check.word(at_s) is LevelWord.GOOD


def test_a_gap_in_what_is_told_counts_for_a_moment_only():
    check = hear_level(LevelCheck(floor_db=-58.0), at_s=1.0, peak_db=-10.0, clipped=0)
    assert hear_level(check, at_s=60.0, peak_db=-10.0, clipped=0).good_s <= 0.25


def test_the_meter_ends_where_it_ends():
    assert [on_meter(level) for level in (-200.0, -60.0, -30.0, 0.0, 3.0)] == [0.0, 0.0, 0.5, 1.0, 1.0]
