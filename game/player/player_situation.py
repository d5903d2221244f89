"""What the plan of a player is made from: their log, coach, notes, shelf and settings, as they stand now."""

from collections.abc import Callable, Container, Iterable
from dataclasses import replace
from datetime import date

from game.coach.marks import Mark
from game.coach.notes.ink import Ink
from game.coach.notes.ink_of_map import InkOfMap
from game.coach.notes.mastery import due_notes
from game.coach.notes.slow_notes import SlowHome
from game.coach.numbers import NUMBERS
from game.coach.plan.last_time import LastSitting
from game.coach.plan.plan_steps import BegunTune, FirstTune, PlanStep, Situation
from game.coach.plan.programme import ProgrammeStanding, programme_standing
from game.coach.records import CoachState, due_passages
from game.neck.neck_map import NeckMap
from game.player.done_today import MinutesOfDay
from game.player.maps_in_practice import MapsInPractice
from game.player.player_coach import PlayerCoach
from game.player.player_courses import PlayerCourses
from game.player.player_facts import PlayerFacts
from game.player.player_notes import PlayerNotes
from game.player.settings import Settings
from game.player.shelf_passages import ShelfPassage, ShelfPassages
from game.player.sitting_of_takes import sitting_of_takes
from game.player.unseen_tunes import unseen_tune
from game.tunes.library.library import offered, shelf
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.tune_readiness import pitch_costs

FIRST_TUNE = "65-ode-to-joy-in-c"
"""The tune to begin with: its first bars are made of five notes of C, none of which needs a stretch."""

_BEGINNER_LEVEL = 2
"""Lines of a higher level are for those who were placed there: they do not begin with five notes."""


class PlayerSituation:
    """One player's; `facts` are what they said, chose and met. `passages` are those of the shelf as they read it."""

    def __init__(
        self,
        coach: PlayerCoach,
        notes: PlayerNotes,
        settings: Callable[[], Settings],
        facts: Callable[[], PlayerFacts],
    ) -> None:
        self._coach, self._notes = coach, notes
        self._settings, self._facts = settings, facts
        self._met_after_all: frozenset[str] = frozenset()
        self._last_sitting: tuple[int, LastSitting | None] | None = None
        self.passages = ShelfPassages(settings)
        self.courses = PlayerCourses(facts, notes, self.passages)
        self.maps = MapsInPractice(notes, settings, facts)

    @property
    def first_day(self) -> bool:
        """Whether nothing was practised on any day before, by somebody who begins at the beginning."""
        records, mastery, today = self._coach.state.records, self._notes.mastery, self._notes.day
        days = [record.practised_day for record in records.values() if record.practised_day is not None]
        before = any(day < today for day in days) or mastery.reviews or (mastery.items and mastery.day < today)
        return not before and self._settings().line_level <= _BEGINNER_LEVEL

    @property
    def _begins(self) -> bool:
        """Whether lines are made of notes that were met: of somebody who begins, or begins on another map."""
        return self._settings().line_level <= _BEGINNER_LEVEL or self.maps.begins_another

    def now(self, done: MinutesOfDay, minutes: int | None = None) -> Situation:
        """The situation after what was `done` today, for so many minutes."""
        settings, notes = self._settings(), self._notes
        mastery, neck_map = notes.mastery, settings.neck_map()
        seen = self._facts().opened_tunes | self._met_after_all
        entries = offered(shelf(), seen)
        of_player = [entry for entry in entries if entry.name in seen]
        self._take_over_former_pages(of_player)
        standings = self.passages.standings(of_player, self._coach.state.records, notes.day)
        begun = self._begun(entries, {standing.tune for standing in standings})
        met = frozenset(one.sounding for one in self.ink().pitches if one.ink is not Ink.NOT_MET)
        costs = pitch_costs(neck_map)
        in_courses = {tune for one in self._facts().desk.courses for tune in one.tunes}
        in_work = {one.name for one in begun} | self._met_after_all | in_courses
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
                unseen_tune(entry, neck_map, met, costs)
                for entry in entries
                if (entry.name not in seen or not entry.shipped) and entry.name not in in_work
            ),
            done=done.by_kind,
            skipped=done.skipped,
            ended=done.ended,
            names=settings.note_names,
            met=len(met) if self._begins else max(len(met), NUMBERS.sight_after_met),
            known=met if self._begins else None,
            met_today=notes.met_first_today(neck_map),
            first_day=self.first_day,
            first_tune=self._first_tune(entries, seen, neck_map),
            own_tunes=frozenset(entry.name for entry in entries if not entry.shipped),
            course=self.courses.today(),
            begun=begun,
            evening=1 + max(self._facts().desk.days_before(date.fromordinal(notes.day)), len(begun)),
            own_map=self.maps.own.name,
            fluent=self.maps.fluency.fluent,
            fluent_maps=self.maps.fluent_others,
            tells_places=settings.tells_places,
        )

    def _begun(self, entries: Iterable[ShelfEntry], names: Container[str]) -> tuple[BegunTune, ...]:
        """Those of the entries with these names, in the order in which they were opened first."""
        order = {name: at for at, name in enumerate(self._facts().opened_in_order)}
        begun = [entry for entry in entries if entry.name in names]
        begun.sort(key=lambda entry: order.get(entry.name, -1))
        return tuple(BegunTune(name=entry.name, kind=entry.kind) for entry in begun)

    def _take_over_former_pages(self, entries: Iterable[ShelfEntry]) -> None:
        """What pages earned before tunes were cut as their phrases fall, or corrected, goes over to those of now, once
        all is known that they earned; said once, however often it is looked at.
        """
        if self._coach.projection.complete:
            for said in self.passages.cut_anew(entries):
                self._coach.cut_anew(said)
            for page in self.passages.corrected(entries):
                self._coach.correct_passage(page.was, page.is_now)

    def tomorrow(self, done: MinutesOfDay) -> Situation:
        """What the plan of the next day will be made from, as things stand now: nothing is done of it yet."""
        now = self.now(done)
        return replace(
            now,
            day=now.day + 1,
            minutes=self._settings().plan_minutes,
            passages=tuple(replace(one, takes_today=0) for one in now.passages),
            done={},
            skipped=frozenset(),
            ended=frozenset(),
            met_today=frozenset(),
            first_day=False,
        )

    def find_met(self, steps: Iterable[PlanStep]) -> bool:
        """Whether a tune of these steps was met after all, elsewhere or by another name: then it is new no more."""
        named = {step.tune for step in steps if step.tune is not None} - self._met_after_all
        practised = self._practised
        met = {entry.name for entry in shelf() if entry.name in named and self.passages.was_met(entry, practised)}
        self._met_after_all |= met
        return bool(met)

    def find_passage(self, passage: str) -> ShelfPassage | None:
        """Where a passage stands on the shelf, None when it is there no more."""
        desk = self._facts().desk
        seen = self._facts().opened_tunes | self._met_after_all
        seen |= {tune for course in desk.courses for tune in course.tunes}
        return self.passages.by_name([entry for entry in shelf() if entry.name in seen]).get(passage)

    @property
    def coach_state(self) -> CoachState:
        """All the coach knows, each passage with the player's own target: a teacher's held for its takes alone."""
        state, own = self._coach.state, self._settings().target_bpm
        others = {
            name: replace(record, facts=replace(record.facts, target_bpm=own))
            for name, record in state.records.items()
            if record.facts.target_bpm != own
        }
        return replace(state, records={**state.records, **others}) if others else state

    @property
    def met(self) -> int:
        """How many pitches of the map were met so far."""
        counts = self.ink().counts
        return counts.ink + counts.pencil

    def pitches_of_a_beginner(self) -> frozenset[int] | None:
        """The pitches met so far by somebody who begins; None for everybody else."""
        if not self._begins:
            return None
        return frozenset(one.sounding for one in self.ink().pitches if one.ink is not Ink.NOT_MET)

    def slow_notes(self) -> tuple[SlowHome, ...]:
        """The slow notes of the map, the costliest first."""
        return self._notes.slow(self._settings().neck_map())

    def ink(self) -> InkOfMap:
        """The ink of the map."""
        return self._notes.ink(self._settings().neck_map())

    def new_ink(self, day: int) -> tuple[str, ...]:
        """The written notes that became ink on a day, from the lowest pitch on."""
        return tuple(
            spelling.written
            for one in self.ink().new_on(day)
            for spelling in one.spellings
            if spelling.inked_day == day
        )

    def last_sitting(self) -> LastSitting | None:
        """What the last day of practice came to; None before there was one."""
        day = self._notes.day
        if self._last_sitting is None or self._last_sitting[0] != day:
            self._last_sitting = day, sitting_of_takes(self._notes.takes_of_last_day(), self.find_passage)
        return self._last_sitting[1]

    def forget_last_sitting(self) -> None:
        """More came into the log: it is made again when asked for."""
        self._last_sitting = None

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

    @property
    def _practised(self) -> frozenset[str]:
        records = self._coach.state.records
        return frozenset(name for name, record in records.items() if record.practised_day is not None)

    def _first_tune(self, entries: tuple[ShelfEntry, ...], seen: frozenset[str], neck_map: NeckMap) -> FirstTune | None:
        """The first tune, where the map reaches its first notes; on the first day, though it was opened already."""
        entry = next((entry for entry in entries if entry.name == FIRST_TUNE), None)
        if entry is None or (entry.name in seen and not self.first_day):
            return None
        _, first = self.passages.of(entry)[0]
        notes = tuple(sorted(set(zip(first.written, first.soundings, strict=True)), key=lambda note: note[1]))
        reached = all(sounding in neck_map.places for _, sounding in notes)
        return FirstTune(name=entry.name, title=entry.title, notes=notes) if reached else None
