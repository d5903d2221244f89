"""Today's plan, for the app: made from what the log knows, followed step by step, and never in the way."""

from bisect import bisect_right
from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass
from math import ceil

from game.coach.notes.mastery import due_notes
from game.coach.numbers import NUMBERS
from game.coach.plan.plan_choices import passages_under_way
from game.coach.plan.plan_progress import (
    PlanProgress,
    StepOver,
    begin_plan,
    brought_forward,
    next_step,
    progress_after,
)
from game.coach.plan.plan_steps import PassageStanding, PlanStep, Situation, UnseenTune
from game.coach.plan.todays_plan import plan_for
from game.coach.records import PassageRecord, due_passages
from game.errors import HomefretError
from game.message import Message, message
from game.music.at_reading import at_reading
from game.music.passage import passages_of
from game.music.score import Reading
from game.music.written import written_out
from game.player.player_coach import PlayerCoach
from game.player.player_notes import PlayerNotes
from game.player.settings import Settings
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import ShelfEntry, open_entry, shelf

# The usual difficulty of fresh lines by level, 1 to 8 (medians of 45 lines each, `game.music.difficulty`): by it tunes
# and lines are compared.
_DIFFICULTY_OF_LEVEL = (1.1, 1.65, 1.85, 2.0, 2.4, 2.7, 3.35, 3.8)


@dataclass(frozen=True, slots=True)
class ShelfPassage:
    """Where a passage stands: the tune, the how-manieth of its passages, and which pitches sound in it."""

    entry: ShelfEntry
    index: int
    title: Message
    soundings: tuple[int, ...]


class PlayerPlan:
    """One player's plan of today. `now_s` is the master clock, `opened` tells which tunes were ever opened."""

    def __init__(
        self,
        coach: PlayerCoach,
        notes: PlayerNotes,
        settings: Callable[[], Settings],
        now_s: Callable[[], float],
        opened: Callable[[], Container[str]],
    ) -> None:
        self._coach, self._notes = coach, notes
        self._settings, self._now_s, self._opened = settings, now_s, opened
        self._progress: PlanProgress | None = None
        self._began_s: float | None = None
        self._spent_s = 0.0
        self._made_on = notes.day
        self._progress_complete = True
        self._passages_of: dict[tuple[str, Reading], list[tuple[str, ShelfPassage]]] = {}

    @property
    def progress(self) -> PlanProgress:
        """The plan and how far it has come, made when first asked for: never during a take. One that was made of the
        last weeks only is made again, unless it is under way, once the whole log was gone through; and so is one of
        another day, for the game may lie open overnight, as soon as no step of it is being done.
        """
        if self._made_on != self._notes.day and self._began_s is None:
            self.replan()
        if self._progress is None or (
            self.complete and not self._progress_complete and not self._under_way(self._progress)
        ):
            self._progress, self._progress_complete = begin_plan(plan_for(self.situation())), self.complete
            self._made_on = self._notes.day
        return self._progress

    @property
    def complete(self) -> bool:
        """Whether the whole log stands behind what is known, and not for now its last weeks only."""
        return self._coach.projection.complete and self._notes.projection.complete

    @property
    def step(self) -> PlanStep | None:
        """What stands to be done, None when the plan is done."""
        return next_step(self.progress)

    def _under_way(self, progress: PlanProgress) -> bool:
        return self._step_begun or progress.at > 0

    @property
    def _step_begun(self) -> bool:
        return self._began_s is not None or self._spent_s > 0

    @property
    def _step_s(self) -> float:
        """The seconds spent on the step that stands next, up to now."""
        return self._spent_s + (0.0 if self._began_s is None else self._now_s() - self._began_s)

    def replan(self) -> None:
        """Make the plan anew: the minutes have changed, or the player wants another."""
        self._progress, self._began_s, self._spent_s = None, None, 0.0

    def play_in_other_order(self, tune: str) -> None:
        """A tune is read in another order from now on: its passages are others."""
        self._passages_of = {which: found for which, found in self._passages_of.items() if which[0] != tune}
        self.begin_again()

    def begin_again(self) -> None:
        """More is known of the player than before: make the plan anew, unless it is under way."""
        if self._progress is not None and not self._under_way(self._progress):
            self.replan()

    def begin_step(self) -> None:
        """The step that stands next is being done from now on; one under way goes on."""
        if self._began_s is None:
            self._began_s = self._now_s()

    def leave_step(self) -> None:
        """The step under way is left for a while: its time stands still until it is begun again."""
        self._spent_s, self._began_s = self._step_s, None

    def finish_step(self, *, skipped: bool = False) -> None:
        """The step is done, or skipped."""
        over = StepOver(minutes=self._step_s / 60, skipped=skipped)
        self._progress = progress_after(self.progress, over)
        self._began_s, self._spent_s = None, 0.0

    def choose(self, index: int) -> None:
        """The step at this index of the plan comes next, skipped or not; one that is done stays so. What was spent on
        the one under way is spent, and it comes after.
        """
        if index != self.progress.at:
            self._progress = brought_forward(self.progress, index, minutes=self._step_s / 60)
            self._began_s, self._spent_s = None, 0.0

    @property
    def minutes_left(self) -> int | None:
        """Whole minutes left of the step under way, begun or left for a while, 1 at least; None where it is not begun
        yet, or the plan is done.
        """
        step = self.step
        return max(1, ceil(step.minutes - self._step_s / 60)) if step is not None and self._step_begun else None

    @property
    def time_left(self) -> bool:
        """Whether the step under way has time for another take."""
        step = self.step
        return step is not None and self._began_s is not None and self._step_s < 60 * step.minutes

    def next_after(self, passage: str) -> PassageStanding | None:
        """The passage to go on with after one that is done for now: none that a later step of the plan is for."""
        ahead = {step.passage for step in self.progress.steps[self.progress.at + 1 :]}
        under_way = passages_under_way(self.situation())
        return next((one for one in under_way if one.name != passage and one.name not in ahead), None)

    def situation(self) -> Situation:
        """What the plan is made from, as things stand now."""
        settings, notes = self._settings(), self._notes
        mastery = notes.mastery
        seen, entries = self._opened(), shelf()
        return Situation(
            day=notes.day,
            neck_map=settings.neck_map(),
            level=settings.line_level,
            minutes=settings.plan_minutes,
            items=mastery.items,
            due_notes=due_notes(mastery, notes.day),
            due_passages=due_passages(self._coach.state, notes.day),
            passages=self._standings([entry for entry in entries if entry.name in seen]),
            unseen=tuple(
                UnseenTune(name=entry.name, title=entry.title, difficulty=comparable_level(entry.difficulty))
                for entry in entries
                if entry.name not in seen
            ),
            names=settings.note_names,
        )

    def find_passage(self, passage: str) -> ShelfPassage | None:
        """Where a passage stands on the shelf, None when it is there no more."""
        seen = self._opened()
        return self._by_key([entry for entry in shelf() if entry.name in seen]).get(passage)

    def _by_key(self, entries: list[ShelfEntry]) -> Mapping[str, ShelfPassage]:
        return {key: place for entry in entries for key, place in self._passages(entry)}

    def _passages(self, entry: ShelfEntry) -> list[tuple[str, ShelfPassage]]:
        """The passages of a tune by their names; of one that cannot be opened, none. Each is opened once."""
        which = (entry.name, self._settings().neck_map().reading)
        if which not in self._passages_of:
            self._passages_of[which] = _opened(entry, which[1])
        return self._passages_of[which]

    def _standings(self, entries: list[ShelfEntry]) -> tuple[PassageStanding, ...]:
        """How the passages stand of the tunes that were practised and are still on the shelf; of bars not begun yet
        those that the map reaches.
        """
        records = self._coach.state.records
        practised = {name: at for at, (name, record) in enumerate(records.items()) if record.practised_day is not None}
        if not practised:
            return ()
        homes, found = self._settings().neck_map().places, []
        for entry in entries:
            passages = self._passages(entry)
            if any(name in practised for name, _ in passages):
                reached = (
                    one for one in passages if one[0] in practised or not homes.keys().isdisjoint(one[1].soundings)
                )
                found += [self._standing(name, place, records.get(name)) for name, place in reached]
        return tuple(sorted(found, key=lambda one: practised.get(one.name, -1)))

    def _standing(self, name: str, place: ShelfPassage, record: PassageRecord | None) -> PassageStanding:
        homes = self._settings().neck_map().places
        if record is None or record.practised_day is None:
            return PassageStanding(name=name, title=place.title, tune=place.entry.name, last_day=None)
        return PassageStanding(
            name=name,
            title=place.title,
            tune=place.entry.name,
            stage=record.stage,
            marks=record.marks,
            tempo_bpm=record.last_bpm,
            target_bpm=record.facts.target_bpm,
            last_day=record.practised_day,
            half_day=record.sign_offs[-1].day if record.sign_offs else None,
            short=sum(sounding in homes for sounding in place.soundings) < NUMBERS.mark_notes,
            takes_today=record.takes_today if record.day == self._notes.day else 0,
        )


def _opened(entry: ShelfEntry, reading: Reading) -> list[tuple[str, ShelfPassage]]:
    try:
        score = written_out(at_reading(open_entry(entry), reading))
    except HomefretError:
        return []
    found = []
    for index, passage in enumerate(passages_of(score)):
        first, last = passage.bar_numbers
        title = message("passage.bars_of_tune", title=entry.title, first=first, last=last)
        soundings = tuple(note.sounding for note in passage.notes)
        found.append((passage_key(passage), ShelfPassage(entry, index, title, soundings)))
    return found


def comparable_level(difficulty: float) -> float:
    """The level of fresh lines that is about as difficult, 1 to 8 and a little beyond."""
    table = _DIFFICULTY_OF_LEVEL
    at = min(max(bisect_right(table, difficulty), 1), len(table) - 1)
    low, high = table[at - 1], table[at]
    return max(0.5, min(9.0, at + (difficulty - low) / (high - low)))
