"""What the desk keeps of a player: the steps and the aim of a day, the signature and the signed pages, the programme,
the courses. As facts of the log, and what they come to. What makes no sense, from elsewhere, is passed over.
"""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from game.coach.events import PageCutAnew
from game.coach.notes.map_identity import LONGEST_MAP_TEXT
from game.coach.numbers import NUMBERS
from game.coach.plan.course import (
    FEWEST_BARS,
    MOST_BARS,
    MOST_TUNES,
    ROUNDS,
    USUAL_BARS,
    Course,
    CourseBars,
    bars_cut_anew,
)
from game.coach.plan.next_map import NextMapAnswer, NextMapSaid
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.programme import TUNES, Programme
from game.coach.plan.sitting_aim import AimKind, SittingAim
from game.coach.played_whole import PageOfWhole
from game.coach.renamed_passages import page_for_page
from game.player.kept_signature import PlayerSignature, told_signature
from game.practice_log.queries.facts import Fact
from game.practice_log.queries.passage_facts import said_of_passage, told_tune_pages
from game.practice_log.rows.entry_rows import About
from game.text.clean_text import cleaned

ABOUT_DESK = (
    About.PLAN_STEP,
    About.AIM,
    About.SIGNATURE,
    About.SIGNED_PAGE,
    About.PROGRAMME,
    About.PROGRAMME_PLAYED,
    About.COURSE,
    About.COURSE_BARS,
    About.SLIP_OFFERED,
    About.FLUENT_MAP,
    About.NEXT_MAP,
    About.CUT_ANEW,
    About.RENAMED_PASSAGE,
    About.TUNE_PAGES,
)
_MOST_MINUTES = 24 * 60.0

_TuneName = Annotated[str, Meta(pattern=r"\A[0-9a-z-]{1,80}\Z")]
_PassageName = Annotated[str, Meta(pattern=r"\A[0-9a-f]{32}\Z")]
_MapText = Annotated[str, Meta(min_length=1, max_length=LONGEST_MAP_TEXT)]
_Count = Annotated[int, Meta(ge=0, le=100_000)]


class _Step(msgspec.Struct):
    day: date
    kind: StepKind
    minutes: Annotated[float, Meta(ge=0, le=_MOST_MINUTES)]
    over: bool = True
    skipped: bool = False
    passage: _PassageName | None = None
    tune: _TuneName | None = None


class _Aim(msgspec.Struct):
    day: date
    kind: AimKind
    passage: _PassageName | None = None
    bpm: Annotated[int, Meta(ge=1, le=NUMBERS.highest_bpm)] | None = None
    count: _Count | None = None


class _SignedPage(msgspec.Struct):
    passage: _PassageName
    day: date


class _Programme(msgspec.Struct):
    tunes: Annotated[list[_TuneName], Meta(max_length=TUNES)]
    day: date | None = None


class _Course(msgspec.Struct):
    title: str
    tunes: Annotated[list[_TuneName], Meta(max_length=MOST_TUNES)]
    bars_a_day: Annotated[int, Meta(ge=FEWEST_BARS, le=MOST_BARS)] = USUAL_BARS


class _FluentMap(msgspec.Struct):
    map: _MapText
    day: date


class _NextMap(msgspec.Struct):
    map: _MapText
    day: date
    answer: NextMapAnswer


class _CourseBars(msgspec.Struct):
    course: str
    passage: _PassageName
    round: Annotated[int, Meta(ge=1, le=len(ROUNDS))]
    wrong: _Count
    notes: _Count
    seconds: Annotated[float, Meta(ge=0, le=60 * _MOST_MINUTES)]
    day: Annotated[int, Meta(ge=1, le=date.max.toordinal())]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDone:
    """Minutes that were spent on a step of the plan, which was left at its end (`over`), skipped, or on the way."""

    kind: StepKind
    minutes: float
    over: bool = True
    skipped: bool = False
    passage: str | None = None
    tune: str | None = None


class DeskFacts:
    """All that the facts handed in so far come to. `signed` are the days on which pages were signed, by passage,
    `tune_pages` the pages of tunes that were played whole; `slip_offered` is whether the slip of paper over the bar
    being played was offered. `fluent_maps` are the texts of the maps (`map_key`) of which it was said that they are
    fluent, with the day; `next_maps` what was said last to the next map that was proposed after each.
    """

    def __init__(self) -> None:
        self.signature: PlayerSignature | None = None
        self.signed: dict[str, date] = {}
        self.slip_offered = False
        self.fluent_maps: dict[str, date] = {}
        self.next_maps: dict[str, NextMapSaid] = {}
        self.programme: Programme | None = None
        self.tune_pages: dict[str, tuple[PageOfWhole, ...]] = {}
        self._courses: dict[str, Course] = {}
        self._bars: dict[str, list[CourseBars]] = {}
        self._steps: dict[date, list[StepDone]] = {}
        self._aims: dict[date, SittingAim] = {}

    def hear(self, fact: Fact) -> None:
        """Another fact, in the order of everything."""
        hears = {
            About.PLAN_STEP: self._step,
            About.AIM: self._aim,
            About.SIGNATURE: self._sign,
            About.SIGNED_PAGE: self._sign_page,
            About.PROGRAMME: self._pick,
            About.PROGRAMME_PLAYED: self._play,
            About.COURSE: self._course,
            About.COURSE_BARS: self._play_bars,
            About.SLIP_OFFERED: self._offer_slip,
            About.FLUENT_MAP: self._say_fluent,
            About.NEXT_MAP: self._answer_next_map,
            About.CUT_ANEW: self._cut_anew,
            About.RENAMED_PASSAGE: self._cut_anew,
            About.TUNE_PAGES: self._tell_pages,
        }
        heard = hears.get(fact.about)
        if heard is not None:
            try:
                heard(fact.content)
            except msgspec.ValidationError:
                return

    def steps_on(self, day: date) -> tuple[StepDone, ...]:
        """What was done of a day's plan, in order."""
        return tuple(self._steps.get(day, ()))

    def days_before(self, day: date) -> int:
        """On how many days before this one something of a plan was done."""
        return sum(one < day and any(not step.skipped for step in steps) for one, steps in self._steps.items())

    def aim_on(self, day: date) -> SittingAim | None:
        """The aim of a day, the one that was said first; None before it was."""
        return self._aims.get(day)

    @property
    def courses(self) -> tuple[Course, ...]:
        """The courses, the one begun first at the head."""
        return tuple(self._courses.values())

    def course_bars(self, title: str) -> tuple[CourseBars, ...]:
        """What was played of a course, in order."""
        return tuple(self._bars.get(title, ()))

    def _aim(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_Aim)
        aim = SittingAim(kind=told.kind, passage=told.passage, bpm=told.bpm, count=told.count)
        self._aims.setdefault(told.day, aim)

    def _step(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_Step)
        done = StepDone(
            kind=told.kind,
            minutes=told.minutes,
            over=told.over,
            skipped=told.skipped,
            passage=told.passage,
            tune=told.tune,
        )
        self._steps.setdefault(told.day, []).append(done)

    def _sign(self, content: dict[str, Any]) -> None:
        self.signature = told_signature(content) or self.signature

    def _sign_page(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_SignedPage)
        self.signed.setdefault(told.passage, told.day)

    def _offer_slip(self, _content: dict[str, Any]) -> None:
        self.slip_offered = True

    def _say_fluent(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_FluentMap)
        self.fluent_maps.setdefault(told.map, told.day)

    def _answer_next_map(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_NextMap)
        self.next_maps[told.map] = NextMapSaid(told.answer, told.day)

    def _pick(self, content: dict[str, Any]) -> None:
        tunes = tuple(dict.fromkeys(msgspec.convert(content, type=_Programme).tunes))
        if self.programme is None or self.programme.tunes != tunes:
            self.programme = Programme(tunes=tunes) if tunes else None

    def _play(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_Programme)
        if self.programme is not None and self.programme.tunes == tuple(told.tunes) and told.day is not None:
            self.programme = Programme(tunes=self.programme.tunes, played=(*self.programme.played, told.day))

    def _course(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_Course)
        title, tunes = cleaned(told.title), tuple(dict.fromkeys(told.tunes))
        if title and tunes:
            self._courses[title] = Course(title=title, tunes=tunes, bars_a_day=told.bars_a_day)
        else:
            self._courses.pop(title, None)

    def _play_bars(self, content: dict[str, Any]) -> None:
        told = msgspec.convert(content, type=_CourseBars)
        bars = CourseBars(
            passage=told.passage,
            round=told.round,
            wrong=min(told.wrong, told.notes),
            notes=told.notes,
            seconds=told.seconds,
            day=told.day,
        )
        self._bars.setdefault(cleaned(told.course), []).append(bars)

    def _tell_pages(self, content: dict[str, Any]) -> None:
        told = told_tune_pages(content)
        if told is not None:
            self.tune_pages[told.whole] = told.pages

    def _cut_anew(self, content: dict[str, Any]) -> None:
        """A page that all pages were signed, or played in a course, on which its notes stood, is so too."""
        for said in said_of_passage(content):
            anew = said if isinstance(said, PageCutAnew) else page_for_page(said)
            days = [self.signed.get(page.name) for page in anew.former]
            signed = [day for day in days if day is not None]
            if len(signed) == len(days):
                self.signed.setdefault(anew.is_now, max(signed))
            for played in self._bars.values():
                played += [bars for at in range(1, len(ROUNDS) + 1) for bars in bars_cut_anew(anew, played, at)]


def step_content(day: date, step: StepDone) -> dict[str, Any]:
    """What JSON can say of a step of the plan of `day`."""
    told = {"day": day.isoformat(), "kind": step.kind.value, "minutes": round(step.minutes, 2), "over": step.over}
    named = {"passage": step.passage, "tune": step.tune, "skipped": step.skipped or None}
    return told | {name: value for name, value in named.items() if value is not None}


def aim_content(day: date, aim: SittingAim) -> dict[str, Any]:
    """What JSON can say of the aim of `day`."""
    named = {"passage": aim.passage, "bpm": aim.bpm, "count": aim.count}
    told = {name: value for name, value in named.items() if value is not None}
    return {"day": day.isoformat(), "kind": aim.kind.value} | told


def course_content(course: Course) -> dict[str, Any]:
    """What JSON can say of a course."""
    return {"title": course.title, "tunes": list(course.tunes), "bars_a_day": course.bars_a_day}


def course_bars_content(title: str, bars: CourseBars) -> dict[str, Any]:
    """What JSON can say of bars of a course that were played."""
    return {
        "course": title,
        "passage": bars.passage,
        "round": bars.round,
        "wrong": bars.wrong,
        "notes": bars.notes,
        "seconds": round(bars.seconds, 1),
        "day": bars.day,
    }


def fluent_map_content(text: str, day: date) -> dict[str, Any]:
    """What JSON can say of a map that is fluent."""
    return {"map": text, "day": day.isoformat()}


def next_map_content(text: str, said: NextMapSaid) -> dict[str, Any]:
    """What JSON can say of the answer to the next map that was proposed after the one of that text."""
    return {"map": text, "day": said.day.isoformat(), "answer": said.answer.value}
