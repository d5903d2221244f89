"""What could not be told is held neither for nor against anybody, and a take of which too much was not told is none."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from game.coach import reasons
from game.coach.coach import advance, replayed
from game.coach.decisions import Offer
from game.coach.earned_marks import EarnedMarks
from game.coach.events import TakeResult
from game.coach.heard_enough import heard_enough, is_heard_enough
from game.coach.judged_take import judged_notes, take_result
from game.coach.mark_rules import sign_off
from game.coach.marks import Mark
from game.coach.record_update import record_on, updated_record
from game.coach.records import CoachState, PassageRecord
from game.coach.stages import Stage
from game.judging.timed import judge_timed
from game.judging.tolerance import timed_grid
from tests.coach.coach_takes import PASSAGE, take
from tests.judging.made_takes import expected_line, perfect_take, random_line
from tests.sampling import how_many


@pytest.mark.parametrize(
    ("surely", "unsure", "counts"),
    [
        (0, 0, True),
        (1, 0, True),
        (31, 1, True),
        (4, 1, True),
        (8, 2, True),
        (7, 2, False),
        (3, 1, False),
        (0, 1, False),
    ],
)
def test_four_notes_of_five_must_be_heard_surely(surely, unsure, counts):
    assert heard_enough(surely, unsure) is counts
    assert is_heard_enough(take(notes=surely, unsure=unsure)) is counts


@pytest.mark.parametrize("bpm", [None, 60, 96])
def test_a_take_of_which_too_much_could_not_be_told_is_kept_and_counts_for_nothing(bpm):
    """However right the little was that was heard."""
    before = replayed([take(2, day=1, bpm=bpm, minute=600)])
    muffled = take(notes=20, unsure=12, day=2, bpm=bpm, minute=600)
    after, said = advance(before, muffled)
    name = PASSAGE.name
    assert after.records[name].marks == before.records[name].marks
    assert after.records[name].takes_today == 0
    assert after.records[name].sign_offs == before.records[name].sign_offs
    assert after.records[name].belief in (before.records[name].belief, record_on(before.records[name], 2).belief)
    assert reasons.NOT_HEARD_ENOUGH in said.reason
    assert (said.earned, said.to_review, said.just_read, said.offer) == ((), (), False, Offer.AGAIN)
    earned = EarnedMarks()
    assert earned.hear(muffled).marks == ()
    assert earned.hear(take(notes=20, unsure=5, day=2, bpm=bpm)).marks != ()


@pytest.mark.parametrize("notes", [0, 6, 12])
def test_no_mark_comes_of_a_few_notes_among_many_that_could_not_be_told(notes):
    for result in (take(notes=notes, unsure=20), take(notes=notes, unsure=20, bpm=96)):
        assert updated_record(PassageRecord(facts=PASSAGE, day=1), result, ()).marks == ()


def heard_takes(rng: Random, doubt: float, *, sure: bool = False) -> list[TakeResult]:
    """The first take of two days of who reads all of 32 notes right and in time; a share of them is heard as another
    pitch. At 96, the target.
    """
    line = random_line(32, rng, even=True)
    grid = timed_grid([note.note for note in line], tempo_bpm=96)
    results = []
    for day in (1, 2):
        played = [
            replace(note, place=None, started_s=note.started_s + rng.gauss(0.01, 0.02))
            for note in perfect_take(line, grid)
        ]
        for at, note in enumerate(played):
            if rng.random() < doubt:
                off = rng.choice((-12, 12, 7, -5))
                played[at] = replace(note, sounding=note.sounding + off, sure=sure)
        judgement = judge_timed(line, played, grid)
        notes = judged_notes(judgement.verdicts, line)
        events = [event.kind for event in judgement.events]
        results.append(take_result(notes, events, passage=PASSAGE, day=day, stage=Stage.TIME, tempo_bpm=96, minute=600))
    return results


def signs_off(results: list[TakeResult]) -> bool:
    state, said = CoachState(), []
    for result in results:
        state, decision = advance(state, result)
        said.extend(decision.earned)
    return Mark.SIGNED_OFF in said


def test_who_reads_all_of_32_notes_signs_off_on_the_second_day_though_three_in_a_hundred_cannot_be_told():
    """As quickly as who is heard without a doubt."""
    for seed in range(how_many(300, by_default=15)):
        assert signs_off(heard_takes(Random(seed), 0.0))
        assert signs_off(heard_takes(Random(seed), 0.03)), seed


def test_were_they_taken_for_sure_every_fourth_day_would_fail():
    """What the verdict is for: of 32 notes at most one may be wrong, and 0.03 are."""
    days = [
        sign_off(result, first_today=True) is None
        for seed in range(how_many(400, by_default=30))
        for result in heard_takes(Random(seed), 0.03, sure=True)
    ]
    assert 0.12 < sum(days) / len(days) < 0.4


def test_notes_that_could_not_be_told_are_those_that_were_not_asked():
    line = expected_line([60, 62, 64, 65, 67, 65, 64, 62], [Fraction(1)] * 8)
    grid = timed_grid([note.note for note in line], tempo_bpm=96)
    played = [replace(note, place=None, sure=at not in (2, 5)) for at, note in enumerate(perfect_take(line, grid))]
    judgement = judge_timed(line, played, grid)
    result = take_result(judged_notes(judgement.verdicts, line), (), passage=PASSAGE, day=1, stage=Stage.TIME)
    assert (result.homes, result.clean, result.unsure, result.unread, result.wrong_notes) == (6, 6, 2, 0, frozenset())
    assert result.kept_going
