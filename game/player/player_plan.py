"""Today's plan, for the app: made from what the log knows, followed step by step, and never in the way.

What was done of it stands in the log: a game that is left and begun again, on this computer or another, goes on where
the day stood. A step that is left on the way keeps its place and its minutes; time away from it counts for nothing.
"""

from bisect import bisect_right
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from math import ceil

from game.coach.marks import Mark
from game.coach.notes.ink import Ink
from game.coach.notes.ink_of_map import InkOfMap
from game.coach.notes.mastery import due_notes
from game.coach.notes.slow_notes import SlowHome
from game.coach.numbers import NUMBERS
from game.coach.plan.course import Course, CourseBars, CoursePassage, CourseStanding, course_standing
from game.coach.plan.last_time import LastSitting
from game.coach.plan.plan_choices import passages_under_way
from game.coach.plan.plan_progress import PlanProgress, StepOver, brought_forward, next_step, progress_after
from game.coach.plan.plan_steps import (
    CourseToday,
    FirstTune,
    PassageStanding,
    PlanStep,
    Situation,
    StepKind,
    UnseenTune,
)
from game.coach.plan.programme import ProgrammeStanding, programme_standing
from game.coach.plan.todays_plan import plan_for
from game.coach.records import CoachState, due_passages
from game.judging.summary import Summary
from game.judging.verdicts import Verdict
from game.message import message
from game.neck.neck_map import NeckMap, Reach
from game.player.desk_facts import StepDone
from game.player.done_today import MinutesOfDay, done_today, progress_of_day
from game.player.player_coach import PlayerCoach
from game.player.player_facts import PlayerFacts
from game.player.player_notes import PlayerNotes
from game.player.settings import Settings
from game.player.shelf_passages import ShelfPassage, ShelfPassages
from game.practice.finished_take import Finished, FinishedTake
from game.practice_log.queries.last_sitting import SittingTake
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import ShelfEntry, shelf

# The usual difficulty of fresh lines by level, 1 to 8 (medians of 45 lines each, `game.music.difficulty`): by it tunes
# and lines are compared.
_DIFFICULTY_OF_LEVEL = (1.1, 1.65, 1.85, 2.0, 2.4, 2.7, 3.35, 3.8)

FIRST_TUNE = "65-ode-to-joy-in-c"
"""The tune to begin with: its first bars are made of five notes of C, none of which needs a stretch."""

_FIRST_NOTES = 5
_BEGINNER_LEVEL = 2
"""Lines of a higher level are for those who were placed there: they do not begin with five notes."""

_SITTING = timedelta(hours=3)
"""Who played so lately goes on with the plan they began, though midnight came between."""

_USUAL_MINUTES = NUMBERS.plan_minutes


class PlayerPlan:
    """One player's plan of today. `now_s` is the master clock, `facts` what they said, chose and met."""

    def __init__(
        self,
        coach: PlayerCoach,
        notes: PlayerNotes,
        settings: Callable[[], Settings],
        now_s: Callable[[], float],
        facts: Callable[[], PlayerFacts],
    ) -> None:
        self._coach, self._notes = coach, notes
        self._settings, self._now_s, self._facts = settings, now_s, facts
        self._progress: PlanProgress | None = None
        self._progress_complete = True
        self._day = 0
        self._began_s: float | None = None
        self._ran_s, self._told_s = 0.0, 0.0
        self._last_active: datetime | None = None
        self._began_at: datetime | None = None
        self._met_after_all: frozenset[str] = frozenset()
        self._last_sitting: tuple[int, LastSitting | None] | None = None
        self.passages = ShelfPassages(settings)

    @property
    def progress(self) -> PlanProgress:
        """The plan and how far it has come, made when first asked for: never during a take. One that was made of the
        last weeks only, or of yesterday, is made again, unless it is under way.
        """
        if self._progress is None or (self._is_stale and not self._under_way(self._progress)):
            self._make()
        assert self._progress is not None
        return self._progress

    def _make(self) -> None:
        self._day, self._progress_complete = self._notes.day, self.complete
        self._ran_s = self._told_s = 0.0
        done = self.done_today
        self._progress = progress_of_day(done, self._planned(done))

    @property
    def _is_stale(self) -> bool:
        return self._day != self._notes.day or (self.complete and not self._progress_complete)

    @property
    def done_today(self) -> MinutesOfDay:
        """What was done of the plan of its day, on whichever computer."""
        return done_today(self._facts().desk.steps_on(_date(self._day or self._notes.day)))

    @property
    def day(self) -> int:
        """The day the plan is of, counted from the first of January of year 1: yesterday, too, past midnight, while
        the sitting goes on.
        """
        _ = self.progress
        return self._day

    @property
    def minutes(self) -> int:
        """The minutes of the day: those chosen; on a first day ten, where nobody chose."""
        chosen = self._settings().plan_minutes
        return NUMBERS.first_day_minutes if self.first_day and chosen == _USUAL_MINUTES else chosen

    @property
    def complete(self) -> bool:
        """Whether the whole log stands behind what is known, and not for now its last weeks only."""
        return self._coach.projection.complete and self._notes.projection.complete

    @property
    def step(self) -> PlanStep | None:
        """What stands to be done, None when the plan is done."""
        return next_step(self.progress)

    def _under_way(self, progress: PlanProgress) -> bool:
        """Whether a plan is being followed: not one that was left hours ago."""
        if self._began_s is not None:
            return True
        last = self._last_active
        lately = last is not None and abs(self._notes.now() - last) < _SITTING
        return lately and (progress.at > 0 or self._ran_s > 0)

    def replan(self) -> None:
        """Make the plan anew: the minutes have changed, or the player wants another. What was done stays done."""
        self.leave_step()
        self._progress, self._ran_s, self._told_s = None, 0.0, 0.0

    def play_in_other_order(self, tune: str) -> None:
        """A tune is read in another order from now on: its passages are others."""
        self.passages.forget(tune)
        self.begin_again()

    def begin_again(self) -> None:
        """More is known of the player than before: make the plan anew, unless it is under way."""
        self._last_sitting = None
        if self._progress is not None and not self._under_way(self._progress):
            self.replan()

    @property
    def running(self) -> bool:
        """Whether a step is being done right now, and its time runs."""
        return self._began_s is not None

    def begin_step(self) -> None:
        """The step that stands next is being done from now on; one that was left goes on."""
        _ = self.progress
        if self._began_s is None:
            self._began_s, self._began_at = self._now_s(), self._notes.now()

    def leave_step(self) -> None:
        """The player goes elsewhere on the way: the step keeps its place, and its time stands still."""
        if self._began_s is None or self._progress is None:
            return
        self._stop_clock()
        self._tell(self._progress.steps[self._progress.at], over=False)

    def finish_step(self, *, skipped: bool = False) -> None:
        """The step is done, or skipped."""
        progress = self.progress
        if progress.at >= len(progress.steps):
            return
        self._stop_clock()
        self._tell(progress.steps[progress.at], over=True, skipped=skipped)
        self._progress = progress_after(progress, StepOver(minutes=self._ran_s / 60, skipped=skipped))
        self._ran_s, self._told_s = 0.0, 0.0

    def _stop_clock(self) -> None:
        now_s = self._now_s()
        if self._began_s is not None:
            step = self.step
            most_s = 60 * NUMBERS.stretched_most * (step.minutes if step else 1)
            # A computer that slept with a step open, and a player who left, did not practise for hours.
            self._ran_s += min(now_s - self._began_s, most_s)
        now = self._notes.now()
        if self._began_at is not None:
            # What lay open overnight was left when it was begun, as far as anybody knows.
            self._last_active = now if abs(now - self._began_at) < _SITTING else self._began_at
        self._began_s = self._began_at = None

    def _tell(self, step: PlanStep, *, over: bool, skipped: bool = False) -> None:
        since_s, self._told_s = self._ran_s - self._told_s, self._ran_s
        if step.kind is StepKind.REST and skipped:
            return
        if over or since_s > 0:
            done = StepDone(
                kind=step.kind, minutes=since_s / 60, over=over, skipped=skipped, passage=step.passage, tune=step.tune
            )
            self._facts().spend_on_step(_date(self._day), done)

    @property
    def left_s(self) -> float | None:
        """The seconds left of the step that was begun, whether its time runs or stands still; 0 when it is over its
        minutes, None where none was begun.
        """
        step = self.step
        if step is None or (self._began_s is None and not self._ran_s):
            return None
        ran_s = self._ran_s + (0.0 if self._began_s is None else self._now_s() - self._began_s)
        return max(60.0 * step.minutes - ran_s, 0.0)

    def choose(self, index: int) -> None:
        """The step at this index of the plan comes next, skipped or not; one that is done stays so. What was spent on
        the one under way is spent, and it comes after.
        """
        if index != self.progress.at:
            self.leave_step()
            self._progress = brought_forward(self.progress, index, minutes=self._ran_s / 60)
            self._ran_s, self._told_s = 0.0, 0.0

    @property
    def minutes_left(self) -> int | None:
        """Whole minutes left of the step under way, begun or left for a while, 1 at least; None where it is not begun
        yet, or the plan is done.
        """
        left_s = self.left_s
        return None if left_s is None else max(1, ceil(left_s / 60))

    @property
    def time_left(self) -> bool:
        """Whether the step under way has time for another take."""
        return self.running and (self.left_s or 0) > 0

    def next_after(self, passage: str) -> PassageStanding | None:
        """The passage to go on with after one that is done for now: none that a later step of the plan is for."""
        ahead = {step.passage for step in self.progress.steps[self.progress.at + 1 :]}
        under_way = passages_under_way(self.situation())
        return next((one for one in under_way if one.name != passage and one.name not in ahead), None)

    def _planned(self, done: MinutesOfDay) -> tuple[PlanStep, ...]:
        """The steps that are left of the day. A tune that was met elsewhere, by another name, is not called new."""
        left = self.minutes - round(done.minutes)
        if done.by_kind and left < NUMBERS.plan_fewest:
            return ()
        while True:
            steps = plan_for(self.situation(minutes=max(left, NUMBERS.plan_fewest)))
            named = {step.tune for step in steps if step.tune is not None}
            met = frozenset(
                entry.name
                for entry in shelf()
                if entry.name in named - self._met_after_all and self.passages.was_met(entry, self._practised)
            )
            if not met:
                return steps
            self._met_after_all |= met

    @property
    def _practised(self) -> frozenset[str]:
        records = self._coach.state.records
        return frozenset(name for name, record in records.items() if record.practised_day is not None)

    @property
    def first_day(self) -> bool:
        """Whether nothing was practised on any day before, by somebody who begins at the beginning."""
        records, mastery, today = self._coach.state.records, self._notes.mastery, self._notes.day
        days = [record.practised_day for record in records.values() if record.practised_day is not None]
        before = any(day < today for day in days) or mastery.reviews or (mastery.items and mastery.day < today)
        return not before and self._begins

    @property
    def _begins(self) -> bool:
        return self._settings().line_level <= _BEGINNER_LEVEL

    def situation(self, minutes: int | None = None) -> Situation:
        """What the plan is made from, as things stand now, for so many minutes."""
        settings, notes = self._settings(), self._notes
        mastery, neck_map = notes.mastery, settings.neck_map()
        seen, entries = self._facts().opened_tunes | self._met_after_all, shelf()
        standings = self.passages.standings(
            [entry for entry in entries if entry.name in seen], self._coach.state.records, notes.day
        )
        begun = {standing.tune for standing in standings}
        done = self.done_today
        met = {one.sounding for one in self.ink().pitches if one.ink is not Ink.NOT_MET}
        course = self._course_today()
        in_courses = {tune for one in self._facts().desk.courses for tune in one.tunes}
        return Situation(
            day=notes.day,
            neck_map=neck_map,
            level=settings.line_level,
            minutes=settings.plan_minutes if minutes is None else minutes,
            items=mastery.items,
            due_notes=due_notes(mastery, notes.day),
            due_passages=due_passages(self._coach.state, notes.day),
            passages=standings,
            unseen=tuple(
                _unseen(entry, neck_map, met)
                for entry in entries
                if (entry.name not in seen or not entry.shipped)
                and entry.name not in begun | self._met_after_all | in_courses
            ),
            done=done.by_kind,
            skipped=done.skipped,
            ended=done.ended,
            names=settings.note_names,
            met=len(met) if self._begins else max(len(met), NUMBERS.sight_after_met),
            first_day=self.first_day,
            first_tune=self._first_tune(entries, seen, neck_map),
            own_tunes=frozenset(entry.name for entry in entries if not entry.shipped),
            course=course,
        )

    def new_ink(self) -> tuple[str, ...]:
        """The written notes that became ink on the day of the plan, from the lowest pitch on."""
        day = self.day
        return tuple(
            spelling.written
            for one in self.ink().new_on(day)
            for spelling in one.spellings
            if spelling.inked_day == day
        )

    def situation_tomorrow(self) -> Situation:
        """What the plan of the next day will be made from, as things stand now: nothing is done of it yet."""
        now = self.situation()
        return replace(
            now,
            day=now.day + 1,
            minutes=self._settings().plan_minutes,
            passages=tuple(replace(one, takes_today=0) for one in now.passages),
            done={},
            skipped=frozenset(),
            ended=frozenset(),
            first_day=False,
        )

    def _first_tune(self, entries: tuple[ShelfEntry, ...], seen: frozenset[str], neck_map: NeckMap) -> FirstTune | None:
        """The first tune, where the map reaches its first notes; on the first day, though it was opened already."""
        entry = next((entry for entry in entries if entry.name == FIRST_TUNE), None)
        if entry is None or (entry.name in seen and not self.first_day):
            return None
        _, first = self.passages.of(entry)[0]
        notes = tuple(sorted(set(zip(first.written, first.soundings, strict=True)), key=lambda note: note[1]))
        reached = all(sounding in neck_map.places for _, sounding in notes)
        return FirstTune(name=entry.name, title=entry.title, notes=notes) if reached else None

    def course_standings(self) -> tuple[CourseStanding, ...]:
        """How far each course has come, the one begun first at the head."""
        by_name = {entry.name: entry for entry in shelf()}
        desk = self._facts().desk
        return tuple(
            course_standing(
                course, self._course_passages(course, by_name), desk.course_bars(course.title), self._notes.day
            )
            for course in desk.courses
        )

    def _course_passages(self, course: Course, by_name: Mapping[str, ShelfEntry]) -> tuple[CoursePassage, ...]:
        there = [by_name[tune] for tune in course.tunes if tune in by_name]
        return tuple(
            CoursePassage(name=name, tune=entry.name, bars=place.bars)
            for entry in there
            for name, place in self.passages.of(entry)
        )

    def finish_take(self, finished: Finished, began: datetime) -> None:
        """A take is over: where it was the bars of a course as this time through asks for them, played to the end, what
        it came to is kept.
        """
        step = self.step if self.running else None
        if step is None or step.kind is not StepKind.COURSE or not isinstance(finished, FinishedTake):
            return
        summary = finished.summary
        to_the_end = summary.counts[Verdict.UNREAD] == 0 and summary.asked > 0
        if to_the_end and finished.stage is step.stage and passage_key(finished.passage) == step.passage:
            for standing in self.course_standings():
                if step.passage in [passage.name for passage in standing.today]:
                    bars = self._bars_played(standing, step, summary, began)
                    self._facts().play_course_bars(standing.course.title, bars)
            self._to_next_bars()

    def _to_next_bars(self) -> None:
        """The step of a course goes on with the bars that come next today, where there are such."""
        course = self._course_today()
        if course is not None and self._progress is not None:
            steps, at = list(self._progress.steps), self._progress.at
            steps[at] = replace(steps[at], passage=course.passage, stage=course.stage)
            self._progress = replace(self._progress, steps=tuple(steps))

    @property
    def course_goes_on(self) -> bool:
        """Whether a course has bars left for today, those that were not played to their end among them."""
        return self._course_today() is not None

    def _bars_played(self, standing: CourseStanding, step: PlanStep, summary: Summary, began: datetime) -> CourseBars:
        return CourseBars(
            passage=step.passage or "",
            round=standing.round,
            wrong=summary.asked - summary.right_notes,
            notes=summary.asked,
            seconds=max((self._notes.now() - began).total_seconds(), 0.0),
            day=self._notes.day,
        )

    def _course_today(self) -> CourseToday | None:
        for standing in self.course_standings():
            if standing.today and standing.stage is not None:
                next_one = standing.today[0]
                return CourseToday(
                    title=standing.course.title, passage=next_one.name, tune=next_one.tune, stage=standing.stage
                )
        return None

    @property
    def facts(self) -> PlayerFacts:
        """What the player said, chose and met."""
        return self._facts()

    @property
    def met(self) -> int:
        """How many pitches of the map were met so far."""
        counts = self.ink().counts
        return counts.ink + counts.pencil

    @property
    def coach_state(self) -> CoachState:
        """All the coach knows."""
        return self._coach.state

    def slow_notes(self) -> tuple[SlowHome, ...]:
        """The slow notes of the map, the costliest first."""
        return self._notes.slow(self._settings().neck_map())

    def ink(self) -> InkOfMap:
        """The ink of the map."""
        return self._notes.ink(self._settings().neck_map())

    def last_sitting(self) -> LastSitting | None:
        """What the last day of practice came to; None before there was one."""
        day = self._notes.day
        if self._last_sitting is None or self._last_sitting[0] != day:
            self._last_sitting = day, self._made_of(self._notes.takes_of_last_day())
        return self._last_sitting[1]

    def _made_of(self, takes: tuple[SittingTake, ...]) -> LastSitting | None:
        """One take stands for the day: of what is on the shelf the last kept one, else the last found one, else the
        last.
        """
        if not takes:
            return None
        places = {take.passage: self.find_passage(take.passage) for take in takes}
        of_tunes = [take for take in takes if places[take.passage] is not None]
        take = max(of_tunes or takes, key=lambda one: (one.kept, one.found))
        chosen = [one for one in of_tunes or takes if (one.kept, one.found) == (take.kept, take.found)][-1]
        place = places[chosen.passage]
        title = message("day.last.lines") if place is None else place.title
        return LastSitting(
            day=chosen.day, title=title, bpm=chosen.bpm, run=chosen.run, kept=chosen.kept, found=chosen.found
        )

    def programme(self) -> ProgrammeStanding | None:
        """How far the programme has come; None where none was picked."""
        programme = self._facts().desk.programme
        if programme is None:
            return None
        entries = {entry.name: entry for entry in shelf() if entry.name in programme.tunes}
        pages = {tune: [name for name, _ in self.passages.of(entry)] for tune, entry in entries.items()}
        records = self._coach.state.records
        signed = frozenset(name for name, record in records.items() if Mark.SIGNED_OFF in record.marks)
        return programme_standing(programme, pages, signed)

    def find_passage(self, passage: str) -> ShelfPassage | None:
        """Where a passage stands on the shelf, None when it is there no more."""
        desk = self._facts().desk
        seen = self._facts().opened_tunes | self._met_after_all
        seen |= {tune for course in desk.courses for tune in course.tunes}
        return self.passages.by_name([entry for entry in shelf() if entry.name in seen]).get(passage)


def _unseen(entry: ShelfEntry, neck_map: NeckMap, met: set[int]) -> UnseenTune:
    reach = {home.sounding: home.reach for home in neck_map.homes}
    pitches = {sounding for sounding, _ in entry.sounding(neck_map.reading)} - met
    return UnseenTune(
        name=entry.name,
        title=entry.title,
        difficulty=comparable_level(entry.difficulty),
        own=not entry.shipped,
        stretches=sum(reach.get(sounding) is not Reach.IN_POSITION for sounding in pitches),
    )


def _date(day: int) -> date:
    return date.fromordinal(day)


def comparable_level(difficulty: float) -> float:
    """The level of fresh lines that is about as difficult, 1 to 8 and a little beyond."""
    table = _DIFFICULTY_OF_LEVEL
    at = min(max(bisect_right(table, difficulty), 1), len(table) - 1)
    low, high = table[at - 1], table[at]
    return max(0.5, min(9.0, at + (difficulty - low) / (high - low)))
