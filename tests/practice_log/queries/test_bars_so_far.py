"""What was met and heard of bars follows them when their file is read anew."""

from contextlib import closing

import pytest

from game.practice_log.database.store import open_store
from game.practice_log.queries.bars_so_far import BarsSoFar
from game.practice_log.queries.entry_order import Position
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.rows.bar_contents import Stretch
from tests.practice_log.logged_takes import MORNING, PLAYER

A, B, C, D, E = (letter * 32 for letter in "abcde")
TUNE, CORRECTED, LONGER = Stretch(0, (A, B, C, D)), Stretch(0, (A, E, C, D)), Stretch(0, (E, E, A, A, B, B))
NOW = Position(1, "", 1, 1)


@pytest.fixture(name="log")
def with_sums():
    with closing(open_store(None, now_utc=MORNING)) as log, sightings_up_to_date(log, PLAYER.uuid):
        yield log


def play(log, bars, stretch, reached=None):
    number, (position,) = bars.number_of(stretch), log.execute("SELECT COUNT(*) + 1 FROM summaries.sighting").fetchone()
    reached = len(stretch.bars) if reached is None else reached
    values = (position, position, *NOW, "2026-11-25", None, number, reached, 1, 0, 0)
    log.execute(f"INSERT INTO summaries.sighting VALUES ({', '.join('?' * 13)})", values)
    bars.play(number, reached)


def test_takes_are_counted_as_they_come_and_by_whoever_looks_later(log):
    bars = BarsSoFar(log)
    assert bars.times_met(TUNE) == 0
    for reached in (4, 1):
        play(log, bars, TUNE, reached)
    play(log, bars, Stretch(1, (B, C)))
    for one in (bars, BarsSoFar(log)):
        assert [one.times_met(Stretch(bar, (key,))) for bar, key in enumerate((A, B, C, D))] == [2, 2, 2, 1]


def test_a_stretch_that_is_new_is_known_to_those_asked_before(log):
    bars = BarsSoFar(log)
    assert bars.times_met(TUNE) == 0
    play(log, bars, Stretch(2, (C, D)))
    assert bars.times_met(TUNE) == 1


def test_bars_that_were_heard_were_heard_wherever_they_are_shared(log):
    bars = BarsSoFar(log)
    bars.hear(bars.number_of(Stretch(0, (A, B))), NOW)
    assert [bars.were_heard(stretch) for stretch in (TUNE, CORRECTED, Stretch(2, (C, D)))] == [True, False, False]
    assert BarsSoFar(log).were_heard(Stretch(1, (B,)))


def test_what_was_met_and_heard_of_old_bars_is_met_and_heard_of_the_new_ones(log):
    bars = BarsSoFar(log)
    play(log, bars, TUNE)
    play(log, bars, TUNE, 1)
    bars.hear(bars.number_of(TUNE), NOW)
    assert (bars.times_met(CORRECTED), bars.were_heard(CORRECTED)) == (0, False)
    bars.rename(bars.number_of(TUNE), bars.number_of(CORRECTED), NOW)
    for one in (bars, BarsSoFar(log)):
        assert (one.times_met(CORRECTED), one.were_heard(CORRECTED)) == (2, True)
        assert [one.times_met(Stretch(bar, (key,))) for bar, key in ((0, A), (1, E), (2, C))] == [2, 1, 1]


def test_who_still_asks_the_old_bars_meets_the_new_ones(log):
    """The other computer has not read the file anew yet."""
    bars = BarsSoFar(log)
    bars.rename(bars.number_of(TUNE), bars.number_of(CORRECTED), NOW)
    play(log, bars, CORRECTED)
    play(log, bars, TUNE)
    assert bars.times_met(TUNE) == bars.times_met(CORRECTED) == 2


def test_bars_may_be_read_anew_again_and_back(log):
    bars = BarsSoFar(log)
    play(log, bars, TUNE)
    numbers = [bars.number_of(stretch) for stretch in (TUNE, CORRECTED, LONGER)]
    bars.rename(numbers[0], numbers[1], NOW)
    bars.rename(numbers[1], numbers[2], NOW)
    assert bars.times_met(LONGER) == 1
    assert bars.times_met(Stretch(5, (B,))) == 1, "who came to the end came to the end of what it is now"
    bars.rename(numbers[2], numbers[0], NOW)
    bars.rename(numbers[0], numbers[0], NOW)
    assert bars.times_met(TUNE) == 1
