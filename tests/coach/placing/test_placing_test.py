"""A new player is placed by a short test. The simulated readers do not follow the model: their times to find are
log-normal, their mistakes a matter of their own."""

from dataclasses import dataclass
from itertools import pairwise
from math import exp
from random import Random

import pytest

from game.coach.numbers import NUMBERS
from game.coach.placing.placing_notes import drawn_note, notes_of_level
from game.coach.placing.placing_test import (
    LineQuestion,
    NoteQuestion,
    begin_placing,
    chance_of_good,
    line_read,
    next_question,
    note_answered,
    placement,
)
from game.coach.stages import Stage
from game.text.catalogue import tell
from tests.coach.judged_takes import MAP


@dataclass(frozen=True)
class Reader:
    """`stands` is the level at which four of five notes come right within the time of the table."""

    stands: float
    pace_s: float = 1.3
    steep: float = 0.55

    def answer(self, level, rng):
        harder = level - self.stands
        find_s = self.pace_s * exp(self.steep * harder * 0.6 + rng.gauss(0, 0.45))
        right = rng.random() < 1 - min(0.12 * exp(0.7 * harder), 0.95)
        return right, find_s

    def good(self, level, rng):
        right, find_s = self.answer(level, rng)
        return right and find_s <= NUMBERS.placing_quick_s

    def placed(self, seed):
        rng, test = Random(seed), begin_placing()
        asked = []
        while (question := next_question(test)) is not None:
            asked.append(question)
            if isinstance(question, NoteQuestion):
                right, find_s = self.answer(question.level, rng)
                test = note_answered(test, right=right, find_s=find_s)
            else:
                good = sum(self.good(question.level, rng) for _ in range(16))
                test = line_read(test, notes=16, good=good)
        return placement(test), asked


def share_good(reader, level):
    rng = Random(1)
    return sum(reader.good(level, rng) for _ in range(3000)) / 3000


@pytest.mark.parametrize("stands", [1, 2, 3, 4, 5, 6, 7, 8])
def test_readers_of_every_level_are_placed_within_one_of_it(stands):
    reader = Reader(stands=stands)
    assert 0.7 < share_good(reader, stands) < 0.9
    levels = [reader.placed(seed)[0].level for seed in range(60)]
    assert sum(abs(level - stands) <= 1 for level in levels) >= 0.85 * len(levels)
    assert abs(sum(levels) / len(levels) - stands) < 1, "at the top it stays on the easy side"


def test_it_is_short_twelve_notes_and_two_lines():
    _, asked = Reader(stands=4).placed(1)
    assert [type(question) for question in asked] == [NoteQuestion] * 12 + [LineQuestion] * 2


def test_who_gets_the_first_four_notes_wrong_is_asked_no_more():
    test = begin_placing()
    for _ in range(4):
        test = note_answered(test, right=False, find_s=4.0)
    assert next_question(test) is None
    found = placement(test)
    assert (found.level, found.stage) == (1, Stage.LETTERS)


def test_the_stage_follows_from_how_surely_and_how_quickly_the_notes_came():
    def stage(answers):
        test = begin_placing()
        for right, find_s in answers:
            test = note_answered(test, right=right, find_s=find_s)
        return placement(test).stage

    assert stage([(True, 0.6)] * 12) is Stage.TIME
    assert stage([(True, 2.0)] * 12) is Stage.PLACES
    assert stage([(True, 0.6), (False, 0.6)] * 6) is Stage.LETTERS
    assert placement(begin_placing()).stage is Stage.PLACES


def test_right_answers_make_it_harder_and_wrong_ones_easier():
    test = begin_placing()
    harder = note_answered(note_answered(test, right=True, find_s=0.7), right=True, find_s=0.7)
    easier = note_answered(note_answered(test, right=False, find_s=0.7), right=False, find_s=0.7)
    assert placement(easier).level < placement(test).level < placement(harder).level


def test_it_says_between_which_levels_the_player_stands_and_why():
    found, _ = Reader(stands=3).placed(2)
    assert found.low < found.level < found.high
    assert f"level {found.level}" in tell(found.reason)
    assert tell(found.reason).endswith(".")


def test_what_was_not_asked_cannot_be_answered():
    with pytest.raises(ValueError, match="ask next_question"):
        line_read(begin_placing(), notes=16, good=3)
    over = begin_placing()
    for _ in range(12):
        over = note_answered(over, right=True, find_s=0.5)
    with pytest.raises(ValueError, match="ask next_question"):
        note_answered(over, right=True, find_s=0.5)


def test_four_of_five_notes_are_found_at_ones_own_level():
    assert chance_of_good(4, 4) == pytest.approx(0.8)
    assert chance_of_good(5, 4) > 0.8 > chance_of_good(3, 4)


def test_the_notes_of_a_level_lie_around_the_middle_and_grow_in_number():
    rows = [notes_of_level(level, MAP) for level in range(1, 6)]
    for few, more in pairwise(rows[:4]):
        assert set(few) < set(more)
    assert {sounding % 12 for sounding in rows[3]} == {0, 2, 4, 5, 7, 9, 11}
    assert not {sounding % 12 for sounding in rows[4]} & {0, 2, 4, 5, 7, 9, 11}
    assert [len(row) for row in rows[:3]] == [5, 8, 11]


def test_the_same_note_is_not_asked_twice_running():
    rng, asked = Random(3), []
    for _ in range(100):
        asked.append(drawn_note(1, MAP, asked, rng))
    assert all(one != other for one, other in pairwise(asked))
