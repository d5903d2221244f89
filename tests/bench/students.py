"""Prints how soon slow notes are found and learned by today's plan: python -m tests.bench.students [STUDENTS]

Targets: over 20 sessions of 15 minutes the plan finds the ten slowest notes of a student (recall 0.9), and these reach
the target, the 1.5 s of a fluent map, in under 0.75 of the minutes that it takes with notes drawn evenly. "Drawn
evenly" is told in two ways, beside each other:

- *throughout*: the same minutes of practice are nothing but single notes, every note of the map equally often. This is
  the stricter one, for the plan spends over half of its minutes on music at first sight, a passage and a new tune.
- *in the blocks*: the same plan, but the single notes of warm-up and slow notes are drawn evenly.

All minutes count, those of the other steps and of turning pages, too; so do the notes that other steps bring. Students
(model and figures in `student_days`) have ten slow notes of thirty and one session a day. Ratios are those of one
student by both ways; their median stands with its 95 % bootstrap interval and the middle 90 % of students. Fixed seeds
from 0, 40 students of each kind, some six minutes on one core. The numbers of the coach were set while looking at seeds
0 to 23; the last line is of other seeds, from 1000. Recall is measured on students who learn nothing, for only they
have ten slowest notes that stay; beside it, of those who learn, how many of the notes over the target are named.

Seen with 40 of each, throughout: usual 0.72 [0.69 0.73], other seeds 0.71, level 1 0.72, level 5 0.73, much forgetting
0.64; over the target are those who learn twice as fast, 0.86, and those slow at the ends of the map, 0.84. In the
blocks 0.36 to 0.48, recall 0.983 or more.
"""

import sys
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import mean, median

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2])]

from tests.bench.student_days import (
    BY_PLAN,
    EVENLY,
    EVENLY_IN_BLOCKS,
    SLOW,
    Course,
    Draws,
    StudentKind,
    practise,
    student_of,
)

RATIO, RECALL = 0.75, 0.9
SESSIONS, MOST_SESSIONS = 20, 100
OTHER_SEEDS = 1000
USUAL = StudentKind(name="usual: level 3, ten anywhere")
KINDS = (
    USUAL,
    replace(USUAL, name="level 1", level=1),
    replace(USUAL, name="level 5", level=5),
    replace(USUAL, name="learns twice as fast", learning=2 * USUAL.learning),
    replace(USUAL, name="forgets three times as much", forgetting=3 * USUAL.forgetting),
    replace(USUAL, name="slow at the ends of the map", at_ends=True),
)


def to_target(kind: StudentKind, draws: Draws, seeds: range) -> list[Course]:
    """Each student's way until all ten are within the target."""
    return [
        practise(
            student_of(kind, seed),
            draws,
            sessions=MOST_SESSIONS,
            seed=seed,
            until=lambda course: course.until(0) is not None,
        )
        for seed in seeds
    ]


def minutes_of(courses: list[Course]) -> list[float]:
    """Minutes to the target; of who never came there, all that were practised: the ratio is then at best so good."""
    return [course.minutes if (reached := course.until(0)) is None else reached for course in courses]


def bootstrap(ratios: list[float], draws: int = 2000) -> tuple[float, float]:
    """The 95 % interval of the median, by the percentiles of medians of samples drawn with replacement."""
    rng = Random(0)
    medians = sorted(median(rng.choices(ratios, k=len(ratios))) for _ in range(draws))
    return medians[round(0.025 * draws)], medians[round(0.975 * draws) - 1]


def against(by_plan: list[float], even: list[Course]) -> str:
    """The ratios to one way of drawing evenly."""
    minutes = minutes_of(even)
    ratios = sorted(mine / other for mine, other in zip(by_plan, minutes, strict=True))
    low, high = bootstrap(ratios)
    lost = sum(course.until(0) is None for course in even)
    low_90, high_90 = ratios[round(0.05 * (len(ratios) - 1))], ratios[round(0.95 * (len(ratios) - 1))]
    never = f" ({lost} never)" if lost else ""
    met = "met" if median(ratios) < RATIO else "MISSED"
    return (
        f"{median(minutes):6.0f} min{never}  ratio {median(ratios):.2f} [{low:.2f} {high:.2f}],"
        f" students {low_90:.2f} to {high_90:.2f}: {met}"
    )


def report(kind: StudentKind, seeds: range) -> None:
    courses = to_target(kind, BY_PLAN, seeds)
    by_plan = minutes_of(courses)
    lost = sum(course.until(0) is None for course in courses)
    notes_share = mean(
        sum(course.minutes_of.get(step, 0.0) for step in ("warm-up", "slow notes")) / course.minutes
        for course in courses
    )
    of_slow = mean(course.on_slow / course.readings for course in courses)
    never = f" ({lost} never)" if lost else ""
    print(f"\n{kind.name}, seeds {seeds.start} to {seeds.stop - 1}")
    print(
        f"  by the plan                   {median(by_plan):6.0f} min{never}"
        f"  {notes_share:.0%} of them single notes; {of_slow:.0%} of all readings are of the ten"
    )
    print(f"  evenly, throughout            {against(by_plan, to_target(kind, EVENLY, seeds))}")
    print(f"  evenly, in the blocks         {against(by_plan, to_target(kind, EVENLY_IN_BLOCKS, seeds))}")
    still = replace(kind, learning=0.0)
    found = [practise(student_of(still, seed), BY_PLAN, sessions=SESSIONS, seed=seed) for seed in seeds]
    slow = [student_of(still, seed).slow for seed in seeds]

    def recall(session: int) -> float:
        return mean(len(one.named[session - 1] & ten) / SLOW for one, ten in zip(found, slow, strict=True))

    met = "met" if recall(SESSIONS) >= RECALL else "MISSED"
    print(f"  recall after 1, 5, 20 sessions  {recall(1):.3f} {recall(5):.3f} {recall(SESSIONS):.3f}: {met}")
    named = [
        len(named & over) / min(len(over), SLOW)
        for course in courses
        for named, over in zip(course.named, course.over, strict=True)
        if over
    ]
    print(f"  named of those over the target  {mean(named):.3f}, over all sessions of those who learn")


def main(students: int) -> None:
    print(f"{students} students of each kind; targets: ratio below {RATIO}, recall {RECALL}")
    for kind in KINDS:
        report(kind, range(students))
    report(replace(USUAL, name=USUAL.name + ", other seeds"), range(OTHER_SEEDS, OTHER_SEEDS + students))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
