"""The players whose takes are put before the judge, and the score that says what it made of them."""

from dataclasses import replace
from random import Random

import pytest

from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from tests.bench.follow_takes import BEGINNERS, beginning
from tests.judging.players.cells import MATERIALS, Cell
from tests.judging.players.faults import SINGLE_FAULTS, strewn
from tests.judging.players.hands import SURE
from tests.judging.players.material import made_line
from tests.judging.players.performed import Fate, NoRoomError, Performance, perform
from tests.judging.players.pulses import drift, steady
from tests.judging.players.scoring import pitch_score
from tests.judging.players.scripts import JUMPS, plain, with_faults

MOVED_ELSEWHERE = sorted(set(JUMPS) - {"silent bar", "last notes left out"})


def true_account(performance: Performance) -> Judgement:
    """What a judge who knew everything would say."""
    verdicts = [
        NoteVerdict(
            n=note.n,
            verdict=performance.word(index),
            answers=() if performance.first[index] is None else (performance.played[performance.first[index]],),
        )
        for index, note in enumerate(performance.material.line)
    ]
    extra = tuple(note for note, meant in zip(performance.played, performance.meant, strict=True) if meant is None)
    return Judgement(verdicts=tuple(verdicts), extra=extra)


def said_otherwise(judgement: Judgement, index: int, verdict: Verdict) -> Judgement:
    verdicts = list(judgement.verdicts)
    verdicts[index] = replace(verdicts[index], verdict=verdict)
    return replace(judgement, verdicts=tuple(verdicts))


def test_the_same_seed_gives_the_same_take_and_another_seed_another():
    cell = Cell(name="walking", material=MATERIALS["walking"], faults=0.05)
    assert cell.performance(3) == cell.performance(3)
    assert cell.performance(3) != cell.performance(4)


@pytest.mark.parametrize("course", [*JUMPS, *BEGINNERS])
def test_the_truth_itself_loses_nothing(course: str):
    for seed in range(3):
        cell = Cell(name=course, material=MATERIALS["walking"], course={**JUMPS, **BEGINNERS}[course])
        performance = cell.performance(seed)
        assert pitch_score(performance, true_account(performance)).lost == 0


@pytest.mark.parametrize("fault", SINGLE_FAULTS)
def test_the_truth_about_single_faults_loses_nothing(fault: str):
    material = MATERIALS["walking"](Random(5))
    performance = perform(material, strewn(material, SINGLE_FAULTS[fault], Random(1)), steady, SURE, Random(2))
    assert pitch_score(performance, true_account(performance)).lost == 0


@pytest.mark.parametrize("jump", MOVED_ELSEWHERE)
def test_a_take_that_is_to_hold_a_jump_holds_one(jump: str):
    """Music without room for it is not played straight through under its name."""
    for seed in range(5):
        assert Cell(name=jump, material=MATERIALS["tunes"], course=JUMPS[jump]).performance(seed).jumps > 0


def test_a_line_without_room_for_a_jump_is_refused():
    with pytest.raises(NoRoomError):
        JUMPS["skipped bar"](made_line("walking", "eighths", 2, 100, Random(1)), Random(1))


def test_a_right_note_called_wrong_or_missed_is_lost():
    performance = Cell(name="walking", material=MATERIALS["walking"], pulse=drift(0.03)).performance(1)
    truth = true_account(performance)
    for untrue in (Verdict.WRONG_PITCH, Verdict.MISSED):
        score = pitch_score(performance, said_otherwise(truth, 7, untrue))
        assert (score.right_lost, score.where) == (1, (7,))


def test_early_late_and_clean_are_alike_at_pitch_level():
    performance = Cell(name="walking", material=MATERIALS["walking"]).performance(1)
    assert pitch_score(performance, said_otherwise(true_account(performance), 7, Verdict.LATE)).lost == 0


def test_a_fault_called_right_is_lost():
    performance = Cell(name="walking", material=MATERIALS["walking"], faults=0.2).performance(1)
    wrong = performance.fates.index(Fate.WRONG)
    score = pitch_score(performance, said_otherwise(true_account(performance), wrong, Verdict.CLEAN))
    assert (score.faults_lost, score.where) == (1, (wrong,))


def test_a_note_too_many_of_which_nothing_is_said_is_lost():
    performance = Cell(name="added", material=MATERIALS["scales"], faults=0.1).performance(2)
    truth = true_account(performance)
    assert truth.extra
    silent = replace(truth, extra=())
    assert 0 < pitch_score(performance, silent).faults_lost <= len(truth.extra)


def test_which_of_two_equal_notes_was_left_out_nobody_can_know():
    """Each of the two accounts is true; an account of two left out is not."""
    material = made_line("repeated", "eighths", 4, 100, Random(3))
    asked = [note.sounding for note in material.line]
    at = next(i for i in range(4, len(asked) - 4) if asked[i] == asked[i + 1] != asked[i + 2])
    script = plain(material)
    script[at] = replace(script[at], sounding=None)
    performance = perform(material, script, steady, SURE, Random(4))
    verdicts = list(true_account(performance).verdicts)
    other = [*verdicts]
    other[at] = replace(verdicts[at], verdict=Verdict.LATE, answers=verdicts[at + 1].answers)
    other[at + 1] = replace(verdicts[at + 1], verdict=Verdict.MISSED, answers=())
    assert pitch_score(performance, Judgement(verdicts=tuple(other))).lost == 0
    both = [*verdicts]
    both[at + 1] = replace(verdicts[at + 1], verdict=Verdict.MISSED, answers=())
    assert pitch_score(performance, Judgement(verdicts=tuple(both))).lost > 0


def test_a_note_put_right_was_wrong_at_first():
    material = MATERIALS["walking"](Random(5))
    performance = perform(material, strewn(material, SINGLE_FAULTS["put right"], Random(1)), steady, SURE, Random(2))
    index = min(performance.repaired)
    assert performance.fates[index] is Fate.WRONG
    assert pitch_score(performance, said_otherwise(true_account(performance), index, Verdict.CLEAN)).lost == 1


def test_a_drift_is_as_large_as_it_says():
    material = made_line("walking", "eighths", 16, 100, Random(1))
    performance = perform(material, plain(material), drift(0.03), SURE, Random(2))
    still = perform(material, plain(material), steady, SURE, Random(2))
    last = len(material.line) - 1
    written_s = material.grid.onsets_s[last]
    with_click = replace(SURE, alpha=0.0)
    alone = perform(material, plain(material), drift(0.03), with_click, Random(2))
    assert alone.offset_s(last) == pytest.approx(0.03 * written_s, abs=0.25)
    assert abs(performance.offset_s(last)) < abs(alone.offset_s(last)) / 3
    assert abs(still.offset_s(last)) < 0.1


def test_takes_full_of_trouble_can_be_drawn():
    assert all(cell.performance(0).played for cell in beginning())


def test_faults_are_as_many_as_asked_for():
    material = made_line("walking", "sixteenths", 32, 100, Random(1))
    script = with_faults(plain(material), 0.05, Random(2))
    share = sum(step.sounding is None for step in script) / len(script)
    assert share == pytest.approx(0.05, abs=0.025)
