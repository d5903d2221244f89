"""The courses of a player: how far each has come, what it asks today, and what a take of its bars came to."""

from collections.abc import Callable, Mapping
from datetime import datetime

from game.coach.heard_enough import heard_enough
from game.coach.plan.course import Course, CourseBars, CoursePassage, CourseStanding, course_standing
from game.coach.plan.plan_steps import CourseToday, PlanStep
from game.judging.summary import Summary
from game.judging.verdicts import Verdict
from game.player.player_facts import PlayerFacts
from game.player.player_notes import PlayerNotes
from game.player.shelf_passages import ShelfPassages
from game.practice.finished_take import Finished, FinishedTake
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import shelf
from game.tunes.library.shelf_entry import ShelfEntry


class PlayerCourses:
    """`facts` are what the player said, chose and met, `passages` those of the shelf."""

    def __init__(self, facts: Callable[[], PlayerFacts], notes: PlayerNotes, passages: ShelfPassages) -> None:
        self._facts, self._notes, self._passages = facts, notes, passages

    def standings(self) -> tuple[CourseStanding, ...]:
        """How far each course has come, the one begun first at the head."""
        by_name = {entry.name: entry for entry in shelf()}
        desk = self._facts().desk
        return tuple(
            course_standing(course, self._passages_of(course, by_name), desk.course_bars(course.title), self._notes.day)
            for course in desk.courses
        )

    def today(self) -> CourseToday | None:
        """What the first course that has bars for today asks; None where none has."""
        for standing in self.standings():
            if standing.today and standing.stage is not None:
                next_one = standing.today[0]
                return CourseToday(
                    title=standing.course.title, passage=next_one.name, tune=next_one.tune, stage=standing.stage
                )
        return None

    def finish_take(self, step: PlanStep, finished: Finished, began: datetime) -> None:
        """A take of `step` is over: where it was the bars of a course as this time through asks for them, played to the
        end, what it came to is kept.
        """
        if not isinstance(finished, FinishedTake) or not _is_as_asked(finished, step):
            return
        for standing in self.standings():
            if step.passage in [passage.name for passage in standing.today]:
                bars = self._bars_played(standing, step, finished.summary, began)
                self._facts().play_course_bars(standing.course.title, bars)

    def _passages_of(self, course: Course, by_name: Mapping[str, ShelfEntry]) -> tuple[CoursePassage, ...]:
        there = [by_name[tune] for tune in course.tunes if tune in by_name]
        return tuple(
            CoursePassage(name=name, tune=entry.name, bars=place.bars)
            for entry in there
            for name, place in self._passages.of(entry)
        )

    def _bars_played(self, standing: CourseStanding, step: PlanStep, summary: Summary, began: datetime) -> CourseBars:
        return CourseBars(
            passage=step.passage or "",
            round=standing.round,
            wrong=summary.asked - summary.right_notes,
            notes=summary.asked,
            seconds=max((self._notes.now() - began).total_seconds(), 0.0),
            day=self._notes.day,
        )


def _is_as_asked(finished: FinishedTake, step: PlanStep) -> bool:
    if finished.free_reading:
        return False
    summary = finished.summary
    to_the_end = summary.counts[Verdict.UNREAD] == 0 and summary.asked > 0
    heard = heard_enough(summary.asked, summary.counts[Verdict.UNSURE])
    return to_the_end and heard and finished.stage is step.stage and passage_key(finished.passage) == step.passage
