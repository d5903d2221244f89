"""Every count names its total."""

from random import Random

from game.coach.stages import Stage
from game.practice.take_counts import CleanRun, TakeCounts, counts_of
from game.screens.reading.counts_in_words import counts_in_words, run_in_words
from game.text.catalogue import tell
from tests.practice.simulated_takes import Habits, played_take


def said(counts, stage=Stage.TIME):
    return [f"{one.figure} {tell(one.of)} {tell(one.what)}" for one in counts_in_words(counts, stage)]


def test_three_counts_by_the_click():
    counts = counts_of(played_take(Random(1), Habits(stop_before=7)))
    assert said(counts) == ["16 of 16 right notes", "16 of 16 right and in time", "3 of 4 bars kept going"]


def test_one_without_a_rhythm_and_none_where_nothing_was_asked():
    assert said(TakeCounts(asked=7, right=5), Stage.PLACES) == ["5 of 7 right notes"]
    assert said(TakeCounts(asked=7, right=5), Stage.LETTERS) == ["5 of 7 named at once"]
    assert said(TakeCounts(asked=0, right=0)) == []


def test_in_the_rhythm_alone_no_pitch_is_praised():
    counts = TakeCounts(asked=8, right=8, in_time=5, bars=1, bars_kept=1)
    assert said(counts, Stage.RHYTHM) == ["8 of 8 notes played", "5 of 8 in time", "1 of 1 bar kept going"]


def test_a_run_of_all_notes_is_told_as_that():
    part = TakeCounts(asked=18, right=17, run=CleanRun(first=1, last=10))
    assert tell(run_in_words(part)) == "longest run: ten notes"
    assert tell(run_in_words(TakeCounts(asked=15, right=15, run=CleanRun(first=1, last=15)))) == "all 15 in one run"
    assert run_in_words(TakeCounts(asked=3, right=1)) is None
