"""Simulated students get their slow notes found by the plan, and practised more than the others."""

import pytest

from tests.bench.student_days import BY_PLAN, EVENLY, SLOW, StudentKind, practise, student_of
from tests.sampling import how_many


def test_after_a_few_sessions_the_plan_knows_nearly_all_slow_notes_of_students_who_learn_nothing():
    """Of each most, and of all together nine in ten."""
    found = []
    for seed in range(how_many(6, by_default=2)):
        student = student_of(StudentKind(name="learns nothing", learning=0.0), seed)
        found.append(len(practise(student, BY_PLAN, sessions=6, seed=seed).named[-1] & student.slow))
    assert min(found) >= 0.8 * SLOW
    assert sum(found) >= 0.9 * SLOW * len(found)


def test_by_the_plan_a_student_reads_the_slow_notes_more_often_than_when_notes_come_alike():
    """Though a third of each session at most is notes alone, and the rest music in which they are as rare as ever."""
    kind = StudentKind(name="usual")
    by_plan, evenly = (practise(student_of(kind, 3), draws, sessions=6, seed=3) for draws in (BY_PLAN, EVENLY))
    assert evenly.on_slow / evenly.readings == pytest.approx(SLOW / 30, abs=0.05)
    assert by_plan.on_slow / by_plan.readings > 1.3 * evenly.on_slow / evenly.readings


def test_the_other_steps_of_the_plan_are_practised_too():
    course = practise(student_of(StudentKind(name="usual"), 5), BY_PLAN, sessions=1, seed=5)
    assert {"first sight", "passage", "new tune"} <= set(course.minutes_of)
    assert sum(course.minutes_of.values()) == pytest.approx(course.minutes)
