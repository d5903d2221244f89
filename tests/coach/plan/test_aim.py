"""One aim a sitting: what the plan leads to first, answered at the end without blame."""

from dataclasses import replace

import pytest

from game.coach.events import PassageFacts
from game.coach.marks import Mark
from game.coach.plan.aim import aim_answer, aim_of
from game.coach.plan.day_facts import AimKind
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.coach.plan.row_words import RowFacts
from game.coach.records import PassageRecord
from game.coach.stages import Pulse, Stage
from game.text.catalogue import tell
from tests.coach.plan.situations import MILL

K = StepKind
TIMED = RowFacts(title=MILL.title, standing=MILL, pulse=Pulse.METRONOME, rungs=(76, 84, 96))
RECORD = PassageRecord(facts=PassageFacts(name="mill"), last_bpm=70)


def step(kind, stage=None, **changes):
    return PlanStep(kind=kind, minutes=4, reason=(), stage=stage, **changes)


def aim(*steps, **facts):
    return aim_of(steps, {at: facts.get(step.kind.name, RowFacts()) for at, step in enumerate(steps)})


@pytest.mark.parametrize(
    ("stage", "facts", "kind", "said"),
    [
        (Stage.TIME, TIMED, AimKind.KEEP, "The Mill, bars 5–8, clean at 76."),
        (Stage.TIME, replace(TIMED, pulse=Pulse.FREE), AimKind.IN_TIME, "The Mill, bars 5–8, in time."),
        (Stage.RHYTHM, TIMED, AimKind.RHYTHM, "The Mill, bars 5–8, its rhythm in time."),
        (Stage.PLACES, TIMED, AimKind.FIND, "The Mill, bars 5–8, every note found."),
        (
            Stage.TIME,
            replace(TIMED, standing=replace(MILL, half_day=99)),
            AimKind.SIGN,
            "The Mill, bars 5–8, clean at 96: that signs it.",
        ),
    ],
)
def test_the_aim_is_the_next_mark_of_the_first_music(stage, facts, kind, said):
    found = aim(step(K.WARM_UP), step(K.PASSAGE, stage, passage="mill"), step(K.NEW_TUNE), PASSAGE=facts)
    assert (found.kind, tell(found.said)) == (kind, said)


def test_without_music_that_goes_on_it_is_the_unseen_line_and_without_anything_none():
    assert aim(step(K.WARM_UP), step(K.FIRST_SIGHT)).kind is AimKind.READ
    assert aim(step(K.WARM_UP)) is None


@pytest.mark.parametrize(
    ("stage", "facts", "record"),
    [
        (Stage.TIME, TIMED, replace(RECORD, kept_bpms=(80,))),
        (Stage.TIME, replace(TIMED, pulse=Pulse.FREE), replace(RECORD, marks=(Mark.IN_TIME,))),
        (Stage.RHYTHM, TIMED, replace(RECORD, stage=Stage.TIME)),
        (Stage.PLACES, TIMED, replace(RECORD, marks=(Mark.FOUND,))),
        (Stage.TIME, replace(TIMED, standing=replace(MILL, half_day=99)), replace(RECORD, marks=tuple(Mark))),
    ],
)
def test_it_is_reached_by_what_the_passage_earned_and_else_waits(stage, facts, record):
    found = aim(step(K.PASSAGE, stage, passage="mill"), PASSAGE=facts)
    assert aim_answer(found, record, met=0, read=False).reached
    waits = aim_answer(found, RECORD, met=0, read=False)
    assert not waits.reached
    assert "tomorrow" in tell(waits.said)
    assert not aim_answer(found, None, met=0, read=False).reached


def test_what_was_not_kept_is_told_with_both_tempi_and_notes_with_how_many():
    keep = aim(step(K.PASSAGE, Stage.TIME, passage="mill"), PASSAGE=TIMED)
    assert tell(aim_answer(keep, RECORD, met=0, read=False).said) == "At 70 today; 76 waits for tomorrow."
    meet = aim(step(K.FIVE_NOTES, five_notes=("C5", "D5", "E5", "F5", "G5")))
    assert tell(aim_answer(meet, None, met=3, read=False).said) == "So far three; the others wait."
    assert tell(aim_answer(meet, None, met=6, read=False).said) == "That makes six notes met."
