"""Simulated students with known slow notes, on the way through today's plan, line by line. Fixed seeds, same days.

A student knows every home of the map after a median time of their own; ten homes are slow. Each meeting with a note, in
whatever music, takes away a part of what its time lies over the student's quickest (exponential learning: Heathcote,
Brown and Mewhort 2000, mem), each night gives back a part of what was learned since the beginning. A note has one time,
however it is written. All figures of the students are invented, stand in `StudentKind` and in the constants below, and
are the same however the notes are drawn; nothing is claimed about real players.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from math import exp
from random import Random

from game.coach.marks import Mark
from game.coach.notes.mastery import Mastery, due_notes, mastery_after
from game.coach.notes.note_reads import JudgedTake, take_reads
from game.coach.numbers import NUMBERS
from game.coach.plan.plan_lines import slow_notes_line
from game.coach.plan.plan_progress import PlanProgress, StepOver, next_step, progress_after
from game.coach.plan.plan_steps import PassageStanding, PlanStep, Situation, StepKind, UnseenTune
from game.coach.plan.todays_plan import plan_for, slow_notes
from game.coach.stages import Stage
from game.judging.expected import expected_notes
from game.judging.verdicts import Cause, Judgement, NoteVerdict, Verdict
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.lines.single_notes import single_notes
from game.message import verbatim
from game.music.keys import Key
from game.music.passage import Passage, whole_tune
from game.neck.neck_map import standard_map

MAP = standard_map()
SLOW = 10
TARGET_S = NUMBERS.slow_find_s
SESSION_MINUTES = 15
EASY_FIFTHS = (-1, -2, 0)  # keys of position V with the fewest stretches: what the app draws from for the first levels
LINE_BARS, WARM_UP_BARS, PASSAGE_BARS = 8, 4, 4
TURNING_PAGES_S = 8.0  # between two lines
AFTER_NOTE_S = 0.25  # from a note found to the next one looked for


@dataclass(frozen=True, kw_only=True)
class StudentKind:
    """A model of students. `slow_s` and `quick_s` are the ranges of median times to find slow and other homes at first.

    `learning` is the part of the excess over `quickest_s` that a meeting takes away (0: they stay as they are),
    `forgetting` the part of what was learned that a night undoes, `wrong` the chance of a wrong note for each second
    of excess over `wrong_always`, `spread` that of the log of one time to find. `at_ends`: the lowest five and the
    highest five homes are the slow ones, not any ten.
    """

    name: str
    level: int = 3
    learning: float = 0.015
    forgetting: float = 0.02
    quickest_s: float = 0.7
    slow_s: tuple[float, float] = (2.0, 4.5)
    quick_s: tuple[float, float] = (0.75, 1.3)
    spread: float = 0.35
    wrong_always: float = 0.02
    wrong: float = 0.05
    at_ends: bool = False


@dataclass
class Student:
    """`excess_s` is how much longer than the quickest the median finding of each sounding pitch takes, in s."""

    kind: StudentKind
    slow: frozenset[int]
    excess_s: dict[int, float]
    at_first: Mapping[int, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.at_first = dict(self.excess_s)

    def find_s(self, sounding: int) -> float:
        """The true median time to find a pitch, now."""
        return self.kind.quickest_s + self.excess_s[sounding]

    def sleep(self) -> None:
        for sounding, first in self.at_first.items():
            self.excess_s[sounding] += self.kind.forgetting * (first - self.excess_s[sounding])

    def reads(self, sounding: int, rng: Random) -> tuple[float, bool]:
        """Seconds until the note is found, and whether the first answer was right. Wrong costs a second search."""
        find_s = self.find_s(sounding) * exp(rng.gauss(0, self.kind.spread))
        right = rng.random() >= min(self.kind.wrong_always + self.kind.wrong * self.excess_s[sounding], 0.5)
        self.excess_s[sounding] *= 1 - self.kind.learning
        return (find_s if right else 2 * find_s), right

    @property
    def too_slow(self) -> int:
        """How many of the slow notes have not reached the target."""
        return sum(self.find_s(sounding) > TARGET_S for sounding in self.slow)


def student_of(kind: StudentKind, seed: int) -> Student:
    """A student of a kind, the slow homes and all times drawn by chance."""
    rng = Random(seed)
    homes = sorted(MAP.places)
    half = SLOW // 2
    slow = frozenset([*homes[:half], *homes[-half:]] if kind.at_ends else rng.sample(homes, SLOW))
    find_s = {home: rng.uniform(*(kind.slow_s if home in slow else kind.quick_s)) for home in homes}
    return Student(kind=kind, slow=slow, excess_s={home: time - kind.quickest_s for home, time in find_s.items()})


@dataclass(frozen=True, kw_only=True)
class Draws:
    """How music is chosen: `minds` the student's notes, as the plan does, or draws single notes, all alike.

    `throughout`: these take up the whole session, and not only the minutes the plan gives to warm-up and slow notes.
    """

    minds: bool
    throughout: bool = False


BY_PLAN = Draws(minds=True)
EVENLY = Draws(minds=False, throughout=True)
EVENLY_IN_BLOCKS = Draws(minds=False)


@dataclass
class Course:
    """What came of it. `reached` holds the minutes practised until each number of slow notes was left over the target.

    `named` holds, for each session, the pitches that the plan calls the slowest after it, `over` those that truly are
    over the target then. `minutes` are those practised, `on_slow` the readings of the ten and `readings` all of them,
    `minutes_of` the minutes by kind of step.
    """

    reached: dict[int, float] = field(default_factory=dict)
    named: list[frozenset[int]] = field(default_factory=list)
    over: list[frozenset[int]] = field(default_factory=list)
    minutes: float = 0.0
    readings: int = 0
    on_slow: int = 0
    minutes_of: dict[str, float] = field(default_factory=dict)

    def until(self, left: int) -> float | None:
        """Minutes until no more than `left` of the ten were over the target; None while they are."""
        return min((minutes for number, minutes in self.reached.items() if number <= left), default=None)


def practise(
    student: Student,
    draws: Draws,
    *,
    sessions: int,
    seed: int,
    until: Callable[[Course], bool] = lambda _: False,
) -> Course:
    """So many sessions, one a day, or fewer when `until` is told enough."""
    rng, mastery, course = Random(seed), Mastery(), Course()
    for day in range(1, sessions + 1):
        situation = _situation(student, mastery, day)
        if draws.throughout:
            _evenly(student, situation, course, rng)
        else:
            mastery = _session(student, draws, mastery, situation, course, rng)
        course.named.append(named_slow(student, mastery, day))
        course.over.append(frozenset(sounding for sounding in student.excess_s if student.find_s(sounding) > TARGET_S))
        student.sleep()
        if until(course):
            break
    return course


def named_slow(student: Student, mastery: Mastery, day: int) -> frozenset[int]:
    """The pitches of the notes the plan would call slow."""
    situation = _situation(student, mastery, day)
    return frozenset(note.key.sounding for note in slow_notes(mastery.items, situation.neck_map))


def _situation(student: Student, mastery: Mastery, day: int) -> Situation:
    """As things stand: a passage is under way, and tunes of the student's level were never met."""
    level = student.kind.level
    return Situation(
        day=day,
        neck_map=MAP,
        level=level,
        minutes=SESSION_MINUTES,
        items=mastery.items,
        due_notes=due_notes(mastery, day),
        # Found, or a new tune would wait for it.
        passages=(
            PassageStanding(name="passage", title=verbatim("The Ford at Low Water"), last_day=day, marks=(Mark.FOUND,)),
        ),
        unseen=tuple(UnseenTune(name=name, title=name, difficulty=level) for name in ("Slack Tide", "Low Bridge")),
    )


def _evenly(student: Student, situation: Situation, course: Course, rng: Random) -> None:
    """A session of nothing but single notes, all alike, in the keys of the level."""
    end = course.minutes + situation.minutes
    while course.minutes < end:
        music = whole_tune(single_notes(MAP, key=_any_key(situation.level, rng), bars=LINE_BARS, rng=rng))
        _take(student, music, Stage.PLACES, situation.day, 1, course, rng)


def _session(
    student: Student, draws: Draws, mastery: Mastery, situation: Situation, course: Course, rng: Random
) -> Mastery:
    plan = PlanProgress(steps=tuple(plan_for(situation)))
    while (step := next_step(plan)) is not None:
        began, sighting = course.minutes, 0
        music = _music(step, draws, situation, rng)
        while course.minutes - began < step.minutes:
            if sighting and step.kind is not StepKind.PASSAGE:
                now = replace(situation, items=mastery.items)
                music, sighting = _music(step, draws, now, rng), 0
            sighting += 1
            take = _take(student, music, step.stage or Stage.PLACES, situation.day, sighting, course, rng)
            mastery = mastery_after(mastery, take_reads(take))
        named = step.kind.value
        course.minutes_of[named] = course.minutes_of.get(named, 0.0) + course.minutes - began
        plan = progress_after(plan, StepOver(minutes=course.minutes - began))
    return mastery


def _music(step: PlanStep, draws: Draws, now: Situation, rng: Random) -> Passage:
    """The music of a step. First sight, a passage and tunes are lines in easy keys, whoever draws."""
    wish, level = step.line, now.level
    if wish and step.kind is StepKind.SLOW_NOTES:
        wish = slow_notes_line(wish, now)
    bars = {StepKind.WARM_UP: WARM_UP_BARS, StepKind.PASSAGE: PASSAGE_BARS}.get(step.kind, LINE_BARS)
    if not draws.minds and step.kind in (StepKind.WARM_UP, StepKind.SLOW_NOTES):
        return whole_tune(single_notes(MAP, key=_any_key(level, rng), bars=bars, rng=rng))
    key = wish.key if wish and wish.key else Key(rng.choice(EASY_FIFTHS))
    weights = wish.weights if wish else None
    if wish and wish.single_notes:
        return whole_tune(single_notes(MAP, key=key, bars=bars, rng=rng, weights=weights))
    return whole_tune(fresh_line(level_of(level), MAP, key=key, bars=bars, rng=rng, weights=weights or None))


def _any_key(level: int, rng: Random) -> Key:
    most = NUMBERS.signs_at_first + level // 2
    return Key(rng.randint(-most, most))


def _take(
    student: Student, music: Passage, stage: Stage, day: int, sighting: int, course: Course, rng: Random
) -> JudgedTake:
    """A take, turning the page included, counted in the course; and what was made of it."""
    expected, verdicts, took_s = expected_notes(music.notes, MAP), [], TURNING_PAGES_S
    for n, note in enumerate(expected, start=1):
        find_s, right = student.reads(note.sounding, rng)
        took_s += find_s + AFTER_NOTE_S
        verdict, cause = (Verdict.CLEAN, None) if right else (Verdict.WRONG_PITCH, Cause.UNKNOWN)
        verdicts.append(NoteVerdict(n=n, verdict=verdict, cause=cause, time_to_find_ms=1000 * find_s))
    course.minutes += took_s / 60
    course.readings += len(expected)
    course.on_slow += sum(note.sounding in student.slow for note in expected)
    course.reached.setdefault(student.too_slow, course.minutes)
    return JudgedTake(
        judgement=Judgement(verdicts=tuple(verdicts)),
        expected=expected,
        neck_map=MAP,
        day=day,
        stage=stage,
        sighting=sighting,
    )
