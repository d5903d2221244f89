"""A round of a loop that is over by the click, and still owed notes."""

from dataclasses import replace

import pytest

from game.coach.stages import Stage
from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.neck.neck_map import standard_map
from game.practice.timed_take import TimedTake, TimedTerms
from game.screens.reading.late_round import LateRound
from tests.made import passage

SOUNDINGS = (53, 55, 57, 58, 60, 62)
ONSETS = (0.0, 1.0, 2.0, 3.0, 4.0, 6.0)
NEXT_S = 8.0


class Ended:
    """Keeps which rounds were ended when, and answers with a result for those in which something was played."""

    def __init__(self):
        self.rounds = []

    def __call__(self, take, recorder, now_s):
        self.rounds.append((recorder, now_s))
        return f"result of {recorder}" if take.heard_anything else None


@pytest.fixture
def ended():
    return Ended()


@pytest.fixture
def late(ended):
    return LateRound(ended)


def played(sounding, at_s):
    return PlayedNote(started_s=at_s, sounding=sounding, place=None)


def round_of(notes):
    """A round of six notes in eight seconds, of which so many were played."""
    line = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, D5 h")
    take = TimedTake(line, standard_map(), TimedTerms(stage=Stage.TIME, tempo_bpm=60))
    take.start(0.0)
    for sounding, at_s in list(zip(SOUNDINGS, ONSETS, strict=True))[:notes]:
        take.hear(played(sounding, at_s))
    return take


def test_a_round_that_was_read_or_in_which_nothing_came_is_ended_at_once(late, ended):
    late.follow_on("read", round_of(6), 7.9)
    late.follow_on("silent", round_of(0), 15.9)
    assert ended.rounds == [("read", 7.9), ("silent", 15.9)]
    assert late.result == "result of read", "nothing came of the second"


def test_a_note_that_is_owed_is_heard_in_its_round_and_the_first_of_the_next_ends_it(late, ended):
    take = round_of(5)
    late.follow_on("late", take, 7.9)
    assert ended.rounds == []
    assert late.hear(played(62, 8.2), NEXT_S, 8.2)
    assert not take.owed
    assert not late.hear(played(53, 8.3), NEXT_S, 8.3)
    assert ended.rounds == [("late", 8.3)]
    assert not late.hear(played(55, 9.0), NEXT_S, 9.0), "there is none any more"


def test_a_note_of_it_may_turn_out_to_be_another(late):
    take = round_of(5)
    wrong = played(60, 4.0)
    turned = NoteRevised(before=wrong, after=replace(wrong, sounding=61), channel=1)
    assert not late.revise(turned)
    late.follow_on("late", take, 7.9)
    assert late.revise(turned)
    assert not late.revise(turned), "what it was is there no more"


def test_it_waits_no_longer_than_its_player(late, ended):
    take = round_of(5)
    late.follow_on("late", take, 7.9)
    over_s = next(at / 10 for at in range(80, 800) if take.is_over(at / 10))
    late.tick(over_s - 0.1)
    assert ended.rounds == []
    late.tick(over_s)
    late.tick(over_s + 1)
    assert ended.rounds == [("late", over_s)]


def test_another_round_ends_the_one_before(late, ended):
    late.follow_on("first", round_of(5), 7.9)
    late.follow_on("second", round_of(4), 15.9)
    assert ended.rounds == [("first", 15.9)]
