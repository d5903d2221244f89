"""Prints what of the book today's plan offers, evening by evening: python -m tests.bench.book_evenings [EVENINGS]

Simulated readers sit down to the shipped book every evening and do what stands in the plan, take after take; no
screen, no log, no clock. A take of a page comes right with a chance of the reader's own (all figures of the readers
are ours and claim nothing of real players): right once it is found, and so many times more it is in time, half signed
and, on a later day, signed off. Who begins meets the new notes of each plan. Printed are the new tune of each evening
and what was read at sight, each with its kind (s song, L lead sheet, S study) and its level; dots are evenings on
which none came. Before that: how difficult fresh lines of each level are, which is what levels of tunes are told by.
"""

import sys
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random
from statistics import median

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2])]

from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.coach.plan.plan_choices import passages_under_way
from game.coach.plan.plan_lines import new_pitches
from game.coach.plan.plan_steps import BegunTune, FirstTune, PassageStanding, PlanStep, Situation, StepKind, UnseenTune
from game.coach.plan.todays_plan import plan_for
from game.coach.stages import Stage
from game.lines.fresh_line import fresh_line
from game.lines.key_ladder import ladder_keys
from game.lines.levels import LEVELS, Level
from game.message import verbatim
from game.music.tune_kind import TuneKind
from game.neck.neck_map import NeckMap, standard_map
from game.player.player_situation import FIRST_TUNE
from game.player.unseen_tunes import DIFFICULTY_OF_LEVEL, unseen_tune
from game.tunes.library.library import shipped_entries
from game.tunes.library.shelf_entry import ShelfEntry, entry_of
from game.tunes.library.tune_readiness import pitch_costs, tune_readiness

POSITION_FIVE, OPEN_POSITION = standard_map(), standard_map(position=1)
FIRST_NOTES = frozenset((60, 62, 64, 65, 67))  # C to G, which the first tune begins with, sounding
TAKE_MINUTES = 1.2  # with the look at what came of it
PAGE_BARS = 4
FOUND, IN_TIME, HALF_SIGNED, SIGNED = 1, 4, 6, 7  # takes that came right
LINES = 90
SIGNS = {TuneKind.SONG: "s", TuneKind.LEAD_SHEET: "L", TuneKind.STUDY: "S"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReaderKind:
    """`comes_right` is the chance of a take; `new_notes` how many of the day's new notes are met; who `begins` knows
    none.
    """

    name: str
    comes_right: float
    level: int = 1
    begins: bool = True
    new_notes: int = NUMBERS.new_a_day
    neck_map: NeckMap = POSITION_FIVE


BEGINNER = ReaderKind(name="beginner, three notes of five right", comes_right=0.22, new_notes=1)
NEWCOMER = ReaderKind(name="newcomer, 85 % right", comes_right=0.45)
KINDS = (
    BEGINNER,
    NEWCOMER,
    ReaderKind(name="newcomer, 85 % right, open position", comes_right=0.45, neck_map=OPEN_POSITION),
    ReaderKind(name="newcomer placed on level 2", comes_right=0.6, level=2),
    ReaderKind(name="reads a little, level 3", comes_right=0.6, level=3, begins=False),
    ReaderKind(name="good reader, level 5", comes_right=0.8, level=5, begins=False),
    ReaderKind(
        name="good reader, level 5, open position", comes_right=0.8, level=5, begins=False, neck_map=OPEN_POSITION
    ),
    ReaderKind(name="fluent, level 7", comes_right=0.9, level=7, begins=False),
)


@dataclass(frozen=True, slots=True)
class Evening:
    """The tunes the plan offered: to be begun, and at sight."""

    new: UnseenTune | None
    sight: UnseenTune | None


@dataclass
class Page:
    """How a page stands: takes that came right, the last day, the takes of that day, when it was half signed."""

    right: int = 0
    day: int | None = None
    today: int = 0
    half_day: int | None = None


@dataclass
class Reader:
    """Somebody who does each evening what stands in the plan."""

    kind: ReaderKind
    chance: Random
    day: int = 0
    met: frozenset[int] = frozenset()
    begun: list[ShelfEntry] = field(default_factory=list)
    at_sight: set[str] = field(default_factory=set)
    pages: dict[str, list[Page]] = field(default_factory=dict)

    def situation(self) -> Situation:
        """What the plan of today is made from."""
        kind, gone = self.kind, {entry.name for entry in self.begun} | self.at_sight
        costs = pitch_costs(kind.neck_map)
        book = [entry for entry in shipped_entries() if not entry.retired]
        first = next(entry for entry in book if entry.name == FIRST_TUNE)
        on_map = kind.neck_map.places.keys() >= FIRST_NOTES and first.name not in gone
        return Situation(
            day=self.day,
            neck_map=kind.neck_map,
            level=kind.level,
            minutes=NUMBERS.first_day_minutes if self.day == 1 and kind.begins else NUMBERS.plan_minutes,
            passages=self._standings(),
            unseen=tuple(
                unseen_tune(entry, kind.neck_map, self.met, costs) for entry in book if entry.name not in gone
            ),
            first_day=self.day == 1 and kind.begins,
            first_tune=FirstTune(name=first.name, title=first.title, notes=tuple(("", one) for one in FIRST_NOTES))
            if on_map and kind.begins
            else None,
            met=len(self.met) if kind.begins else NUMBERS.sight_after_met,
            known=self.met if kind.begins else None,
            begun=tuple(BegunTune(name=entry.name, kind=entry.kind) for entry in self.begun),
            evening=self.day,
        )

    def sit_down(self) -> Evening:
        """An evening by the plan."""
        self.day += 1
        for page in (page for pages in self.pages.values() for page in pages):
            page.today = 0
        now = self.situation()
        offered = {tune.name: tune for tune in now.unseen}
        new = sight = None
        steps = plan_for(now)
        for step in steps:
            if step.kind is StepKind.FIRST_SIGHT and step.tune is not None:
                sight = offered[step.tune]
                self.at_sight.add(step.tune)
            elif step.kind is StepKind.NEW_TUNE and step.tune is not None:
                new = offered[step.tune]
                self._begin(step.tune)
            if step.kind in (StepKind.PASSAGE, StepKind.NEW_TUNE):
                self._practise(step)
        self._meet(now)
        return Evening(new, sight)

    def _begin(self, name: str) -> None:
        entry = next(entry for entry in shipped_entries() if entry.name == name)
        self.begun.append(entry)
        self.pages[name] = [Page() for _ in range(max(1, round(entry.plays / PAGE_BARS)))]

    def _practise(self, step: PlanStep) -> None:
        """Take after take, of the page that is asked for and then of those that go on."""
        pages = self.pages[step.tune] if step.tune else None
        for _ in range(round(step.minutes / TAKE_MINUTES)):
            page = next((one for one in pages or () if one.right < FOUND), None) or self._under_way()
            if page is None:
                return
            page.day, page.today = self.day, page.today + 1
            if self.chance.random() < self.kind.comes_right and (
                page.right != HALF_SIGNED or page.half_day != self.day
            ):
                page.right += 1
                page.half_day = self.day if page.right == HALF_SIGNED else page.half_day

    def _under_way(self) -> Page | None:
        on_desk = passages_under_way(self.situation())
        if not on_desk:
            return None
        return self.pages[on_desk[0].tune][on_desk[0].place]

    def _meet(self, now: Situation) -> None:
        """The new notes of the day, and those of the pages that were played."""
        if not self.kind.begins:
            return
        new = FIRST_NOTES if now.first_day else frozenset(sorted(new_pitches(now, NUMBERS))[: self.kind.new_notes])
        homes = self.kind.neck_map.places.keys()
        played = {pitch for one in self.begun for pitch, _ in one.sounding(self.kind.neck_map.reading)}
        self.met |= new | (played & homes)

    def _standings(self) -> tuple[PassageStanding, ...]:
        found = [
            self._standing(name, place, page) for name, pages in self.pages.items() for place, page in enumerate(pages)
        ]
        return tuple(sorted(found, key=lambda one: one.last_day or 0))

    @staticmethod
    def _standing(name: str, place: int, page: Page) -> PassageStanding:
        earned = ((FOUND, Mark.FOUND), (IN_TIME, Mark.IN_TIME), (SIGNED, Mark.SIGNED_OFF))
        return PassageStanding(
            name=f"{name} {place}",
            title=verbatim(name),
            tune=name,
            place=place,
            stage=Stage.TIME if page.right >= FOUND else Stage.PLACES,
            marks=tuple(mark for least, mark in earned if page.right >= least),
            tempo_bpm=80 if page.right >= FOUND else None,
            target_bpm=100,
            last_day=page.day,
            half_day=page.half_day,
            takes_today=page.today,
        )


def evenings(kind: ReaderKind, count: int, seed: int = 0) -> list[Evening]:
    """What the plan offers a reader on so many evenings."""
    reader = Reader(kind=kind, chance=Random(f"{kind.name} {seed}"))
    if not kind.begins:
        reader = replace(reader, met=frozenset(kind.neck_map.places))
    return [reader.sit_down() for _ in range(count)]


def difficulty_of_level(level: Level, lines: int) -> float:
    """The median difficulty of so many lines of a level in its keys, the hand included, on the map to begin with."""
    found = []
    for seed in range(lines):
        chance = Random(seed)
        key = chance.choice(ladder_keys(level.number, POSITION_FIVE))
        made = fresh_line(level, POSITION_FIVE, key=key, bars=8, rng=chance)
        found.append(tune_readiness(entry_of(made, name="line", file_name="line"), POSITION_FIVE).difficulty)
    return median(found)


def _told(tune: UnseenTune | None) -> str:
    return "." if tune is None else f"{SIGNS[tune.kind]} {tune.difficulty:.1f} {tune.name}"


def _print(kind: ReaderKind, offered: Sequence[Evening]) -> None:
    print(f"\n{kind.name}")
    for number, one in enumerate(offered, start=1):
        print(f"  {number:2}  {_told(one.new):44}  at sight {_told(one.sight)}")


def main(count: int) -> None:
    """Print the tables."""
    print("level", *(f"{level.number:5}" for level in LEVELS))
    print("lines", *(f"{difficulty_of_level(level, LINES):5.2f}" for level in LEVELS))
    print("table", *(f"{at:5.2f}" for at in DIFFICULTY_OF_LEVEL))
    for kind in KINDS:
        _print(kind, evenings(kind, count))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 14)
