"""Today's plan, for the app: made from what the log knows, followed step by step, and never in the way.

What was done of it stands in the log: a game that is left and begun again, on this computer or another, goes on where
the day stood. A step that is left on the way keeps its place and its minutes; time away from it counts for nothing.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from math import ceil

from game.coach.numbers import NUMBERS
from game.coach.plan.course import CourseStanding
from game.coach.plan.plan_choices import passages_under_way
from game.coach.plan.plan_progress import PlanProgress, StepOver, brought_forward, next_step, progress_after
from game.coach.plan.plan_steps import PassageStanding, PlanStep, Situation, StepKind
from game.coach.plan.todays_plan import plan_for
from game.player.desk_facts import StepDone
from game.player.done_today import MinutesOfDay, done_today, progress_of_day
from game.player.player_coach import PlayerCoach
from game.player.player_facts import PlayerFacts
from game.player.player_notes import PlayerNotes
from game.player.player_situation import PlayerSituation
from game.player.settings import Settings
from game.player.shelf_passages import ShelfPassage, ShelfPassages
from game.player.step_time import StepTime
from game.practice.finished_take import Finished, FinishedTake

_USUAL_MINUTES = NUMBERS.plan_minutes


class PlayerPlan:
    """One player's plan of today. `now_s` is the master clock, `facts` what they said, chose and met; `known` is what
    the plan is made from.
    """

    def __init__(
        self,
        coach: PlayerCoach,
        notes: PlayerNotes,
        settings: Callable[[], Settings],
        now_s: Callable[[], float],
        facts: Callable[[], PlayerFacts],
    ) -> None:
        self._coach, self._notes = coach, notes
        self._settings, self._facts = settings, facts
        self.known = PlayerSituation(coach, notes, settings, facts)
        self._courses = self.known.courses
        self._time = StepTime(now_s, notes.now)
        self._progress: PlanProgress | None = None
        self._progress_complete = True
        self._day = 0

    @property
    def passages(self) -> ShelfPassages:
        """The passages of the tunes on the shelf."""
        return self.known.passages

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
        self._time.clear()
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
        if self._time.running:
            return True
        return self._time.was_lately and (progress.at > 0 or self._time.begun)

    def replan(self) -> None:
        """Make the plan anew: the minutes have changed, or the player wants another. What was done stays done."""
        self.leave_step()
        self._progress = None
        self._time.clear()

    def play_in_other_order(self, tune: str) -> None:
        """A tune is read in another order from now on: its passages are others."""
        self.passages.forget(tune)
        self.begin_again()

    def begin_again(self) -> None:
        """More is known of the player than before: make the plan anew, unless it is under way."""
        self.known.forget_last_sitting()
        if self._progress is not None and not self._under_way(self._progress):
            self.replan()

    @property
    def running(self) -> bool:
        """Whether a step is being done right now, and its time runs."""
        return self._time.running

    def begin_step(self) -> None:
        """The step that stands next is being done from now on; one that was left goes on."""
        _ = self.progress
        self._time.begin()

    def leave_step(self) -> None:
        """The player goes elsewhere on the way: the step keeps its place, and its time stands still."""
        if not self._time.running or self._progress is None:
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
        self._progress = progress_after(progress, StepOver(minutes=self._time.ran_s / 60, skipped=skipped))
        self._time.clear()

    def _stop_clock(self) -> None:
        step = self.step
        self._time.stop(60 * NUMBERS.stretched_most * (step.minutes if step else 1))

    def _tell(self, step: PlanStep, *, over: bool, skipped: bool = False) -> None:
        since_s = self._time.to_tell_s()
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
        if step is None or not self._time.begun:
            return None
        return max(60.0 * step.minutes - self._time.ran_s, 0.0)

    def choose(self, index: int) -> None:
        """The step at this index of the plan comes next, skipped or not; one that is done stays so. What was spent on
        the one under way is spent, and it comes after.
        """
        if index != self.progress.at:
            self.leave_step()
            self._progress = brought_forward(self.progress, index, minutes=self._time.ran_s / 60)
            self._time.clear()

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
        """The steps that are left of the day; of a first day all that were not done, however long the others took. A
        tune that was met elsewhere, by another name, is not called new.
        """
        left = self.minutes - round(done.minutes)
        if done.by_kind and left < NUMBERS.plan_fewest and not self.first_day:
            return ()
        while True:
            steps = plan_for(self.situation(minutes=max(left, NUMBERS.plan_fewest)))
            if not self.known.find_met(steps):
                return steps

    @property
    def first_day(self) -> bool:
        """Whether nothing was practised on any day before, by somebody who begins at the beginning."""
        return self.known.first_day

    def situation(self, minutes: int | None = None) -> Situation:
        """What the plan is made from, as things stand now, for so many minutes."""
        return self.known.now(self.done_today, minutes)

    def situation_tomorrow(self) -> Situation:
        """What the plan of the next day will be made from, as things stand now: nothing is done of it yet."""
        return self.known.tomorrow(self.done_today)

    def course_standings(self) -> tuple[CourseStanding, ...]:
        """How far each course has come, the one begun first at the head."""
        return self._courses.standings()

    @property
    def course_goes_on(self) -> bool:
        """Whether a course has bars left for today, those that were not played to their end among them."""
        return self._courses.today() is not None

    def finish_take(self, finished: Finished, began: datetime) -> None:
        """A take is over: where it was of the bars of a course, the step goes on with those that come next today."""
        step = self.step if self.running else None
        if step is not None and step.kind is StepKind.COURSE and isinstance(finished, FinishedTake):
            self._courses.finish_take(step, finished, began)
            self._to_next_bars()

    def _to_next_bars(self) -> None:
        course = self._courses.today()
        if course is not None and self._progress is not None:
            steps, at = list(self._progress.steps), self._progress.at
            steps[at] = replace(steps[at], passage=course.passage, stage=course.stage)
            self._progress = replace(self._progress, steps=tuple(steps))

    @property
    def facts(self) -> PlayerFacts:
        """What the player said, chose and met."""
        return self._facts()

    def find_passage(self, passage: str) -> ShelfPassage | None:
        """Where a passage stands on the shelf, None when it is there no more."""
        return self.known.find_passage(passage)


def _date(day: int) -> date:
    return date.fromordinal(day)
