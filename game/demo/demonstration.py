"""A simulated learner at the real game, day after day: what `homefret demo` shows, and what tests drive."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

from game.coach.decisions import Decision, Offer
from game.coach.marks import Mark
from game.coach.stages import Stage
from game.coach.tempo.clean_takes import notes_needed
from game.demo.driven_game import DrivenGame
from game.demo.evenings import Evening, as_on, as_rested, at_first_sight, evening_of
from game.demo.learner import AnsweredNote, Learner, answers, on_day, practised
from game.judging.expected import ExpectedNote
from game.message import Message
from game.player.settings import Settings
from game.practice.finished_take import Finished, FinishedTake
from game.practice.take_request import TakeRequest, request_for
from game.practice.timed_take import TimedTake
from game.report.figure_words import bars_said
from game.screens.reading.free_page import FreePage
from game.screens.reading.metronome_page import MetronomePage
from game.screens.reading.places_page import PlacesPage
from game.screens.reading.result_screen import ResultScreen
from game.screens.routes import ToPage, ToShelf, ToToday
from game.screens.tabbed_sheet import ENTER
from game.screens.window_picture import FRAMES_A_SECOND
from game.text.catalogue import say
from game.tunes.library.library import open_entry, shipped_entries

TUNE = "Ode to Joy"
TARGET_BPM = 96
MOST_DAYS = 21
# A made-up learner: sure of foot at 66, able to reach 130 with this passage, a little early, not quite steady.
LEARNER = Learner(
    steady_bpm=66,
    ceiling_bpm=132,
    learning=0.07,
    fatigue=0.01,
    bias_ms=-18,
    spread_ms=16,
    find_s=0.55,
    free_wrong=0.015,
    lapse=0.004,
)
# The learner's own pace in free time, and how unevenly it goes.
_OWN_QUARTER_S, _OWN_SPREAD_S = 0.95, 0.03
_WRONG_BY = (-2, -1, 1, 2)
# How long a result is looked at, and the next page, before anything is played.
_LOOKS_S = (6.0, 16.0)
# More sheets than an evening has: so a sheet whose corner leads nowhere ends it.
_MOST_SHEETS = 200
_FRAME_S = 1 / FRAMES_A_SECOND


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoTake:
    """One take of the demo, as its answer tells it."""

    day: int
    stage: Stage
    tempo_bpm: float | None
    notes: int
    clean: int
    reason: tuple[Message, ...]
    tune: str = TUNE
    right_and_in_time: bool = False


class Demonstration:
    """One run of the demo. `takes` and `files` grow while it plays; the practice log and pictures lie in `folder`.

    `game` is what the learner sits at. It lasts until the passage is signed off; or for so many `days` on which the
    learner practises as people do, along the plan of each (`game.demo.evenings`).
    """

    def __init__(
        self, folder: Path, chance: Random, *, fast: bool, learner: Learner = LEARNER, days: int | None = None
    ) -> None:
        self._folder, self._chance, self._learner = folder, chance, learner
        self._days = days
        self.takes: list[DemoTake] = []
        self.files: list[Path] = []
        self.signed_off_bpm: float | None = None
        # The music that is made comes of the same seed, and takes nothing from the chance of the playing.
        made = Random(repr(chance.getstate()))
        self.game = DrivenGame(folder, Settings(target_bpm=TARGET_BPM), made, fast=fast)

    def play(self) -> None:
        """Day after day, until the passage is signed off or the days are over; then the game is left."""
        self.practise()
        self._draw_tempo(self._request)
        self.leave()

    def leave(self) -> None:
        """Leave the game."""
        self.files.append(self.game.leave())

    @property
    def _request(self) -> TakeRequest:
        """The tune at its first bars."""
        (entry,) = (entry for entry in shipped_entries() if entry.title == TUNE)
        return request_for(open_entry(entry), self.game.app.context.settings.neck_map())

    def practise(self) -> None:
        """Day after day; the game stays open."""
        self.game.app.go(ToShelf())
        self.game.step()
        self._keep_picture("shelf")
        while self._goes_on():
            self._begin_day()
            if self._days is None:
                self._practise(self._request)
            else:
                self._follow_plan(evening_of(self.game.day, self._chance))
            self.game.app.go(ToToday())

    def _begin_day(self) -> None:
        self.game.begin_day()
        self._learner = on_day(self._learner, self.game.day)

    def _goes_on(self) -> bool:
        if self._days is not None:
            return self.game.day < self._days
        return self.signed_off_bpm is None and self.game.day < MOST_DAYS

    def _follow_plan(self, evening: Evening) -> None:
        """What the corner of each sheet leads to, as long as the evening is; nothing on an evening without practice."""
        well, self._learner = self._learner, as_on(self._learner, evening)
        ends_s = self.game.clock.now_s() + 60 * evening.minutes
        self.game.app.go(ToToday())
        for _ in range(_MOST_SHEETS):
            if self.game.clock.now_s() >= ends_s or self.game.session.plan.step is None:
                break
            self.game.step([ENTER.event])
            if isinstance(self.game.app.screen, PlacesPage | FreePage | MetronomePage):
                self._read(evening)
        self._learner = as_rested(well, self._learner)

    def _read(self, evening: Evening) -> None:
        """The page that was opened, with pictures of the first of its kind; at first sight less comes right."""
        asked, well = self._page.request, self._learner
        picture = self._is_new(asked.stage, asked.tempo_bpm)
        if asked.stage.once_through:
            self._learner = at_first_sight(well, evening)
        if picture:
            self._keep_picture(f"{picture}-before")
        self._take()
        if picture:
            self._keep_picture(f"{picture}-after")
        self._learner = as_rested(well, self._learner)
        self.game.wait(self._chance.uniform(*_LOOKS_S))

    def _practise(self, request: TakeRequest) -> None:
        """One day: what the coach asks for, until it asks for other music."""
        self.game.app.go(ToPage(request))
        while True:
            self.game.step()
            asked = self._page.request
            picture = self._is_new(asked.stage, asked.tempo_bpm)
            self.game.wait(0.3)
            if picture:
                self._keep_picture(f"{picture}-before")
            decision = self._take()
            if picture:
                self._keep_picture(f"{picture}-after")
            self.game.wait(2.0)
            if decision.offer is not Offer.AGAIN or Mark.SIGNED_OFF in decision.earned:
                return
            self.game.app.go(ToPage(asked.as_decided(decision), chosen=True))

    @property
    def _page(self) -> PlacesPage | FreePage | MetronomePage:
        page = self.game.app.screen
        assert isinstance(page, PlacesPage | FreePage | MetronomePage)
        return page

    def _is_new(self, stage: Stage, tempo_bpm: float | None) -> str:
        """A name for the pictures of the first take of a kind; empty for takes of a kind seen before."""
        known = any(take.stage is stage and (take.tempo_bpm is None) == (tempo_bpm is None) for take in self.takes)
        return "" if known else f"{stage.value}-{'free' if tempo_bpm is None else 'click'}"

    def _take(self) -> Decision:
        """One take, played to its end; what the coach says of it."""
        page = self._page
        asked = page.request
        if page.view.covered:
            page.view.uncover()
        if isinstance(page, PlacesPage):
            self._find_places(page)
        else:
            self._play_line(page)
        while not isinstance(self.game.app.screen, ResultScreen):
            self.game.wait(_FRAME_S * 6)
        finished, decision = self.game.app.screen.finished, self.game.app.screen.decision
        self.game.step()
        self._learner = practised(self._learner)
        self.takes.append(
            DemoTake(
                day=self.game.day,
                stage=asked.stage,
                tempo_bpm=asked.tempo_bpm,
                notes=finished.note_count,
                clean=finished.clean_count,
                reason=asked.reason,
                tune=asked.score.title,
                right_and_in_time=_is_clean(finished),
            )
        )
        if Mark.SIGNED_OFF in decision.earned and self.signed_off_bpm is None:
            self.signed_off_bpm = asked.tempo_bpm
            self._keep_picture("signed-off")
        return decision

    def _find_places(self, page: PlacesPage) -> None:
        """Each note found in turn; a wrong one is put right."""
        given = iter(answers(self._learner, len(page.take.expected), None, self._chance))
        while page.take.asked is not None:
            asked, answer = page.take.asked, next(given)
            self.game.wait(answer.find_s or 0.0)
            if not answer.right:
                self.game.hear(self._wrong(asked))
                self.game.wait(0.4)
            self.game.hear(asked.sounding)

    def _play_line(self, page: FreePage | MetronomePage) -> None:
        """The line against the click, or at the learner's own pace."""
        if isinstance(page, MetronomePage):
            page.begin()
        for due_s, sounding in self._line(page):
            self.game.wait(due_s - self.game.clock.now_s())
            self.game.hear(sounding, at_s=due_s)

    def _line(self, page: FreePage | MetronomePage) -> Iterator[tuple[float, int]]:
        """When the learner plays which pitch."""
        take = page.take
        if isinstance(take, TimedTake):
            assert take.zero_s is not None
            start_s, quarter_s, bpm = take.zero_s, take.quarter_s, take.terms.tempo_bpm
        else:
            start_s, quarter_s, bpm = self.game.clock.now_s() + _OWN_QUARTER_S, _OWN_QUARTER_S, None
        given = answers(self._learner, len(take.expected), bpm, self._chance)
        for note, answer in zip(take.expected, given, strict=True):
            off_s = self._chance.gauss(0, _OWN_SPREAD_S) if answer.offset_ms is None else answer.offset_ms / 1000
            yield start_s + float(note.note.onset) * quarter_s + off_s, self._sounding(note, answer)

    def _sounding(self, note: ExpectedNote, answer: AnsweredNote) -> int:
        return note.sounding if answer.right else self._wrong(note)

    def _wrong(self, note: ExpectedNote) -> int:
        return note.sounding + self._chance.choice(_WRONG_BY)

    def _keep_picture(self, name: str) -> None:
        path = self._folder / f"{len(self.files) + 1:02}-{name}.png"
        self.game.save_picture(path)
        self.files.append(path)

    def _draw_tempo(self, request: TakeRequest) -> None:
        from game.report.tempo_curve import TempoPoint, draw_tempo_curve  # noqa: PLC0415 - slow to load

        points = [
            TempoPoint(day=take.day, tempo_bpm=take.tempo_bpm, clean=take.right_and_in_time)
            for take in self.takes
            if take.tempo_bpm is not None and take.stage is Stage.TIME and take.tune == TUNE
        ]
        path = self._folder / f"{len(self.files) + 1:02}-tempo.png"
        draw_tempo_curve(
            points,
            target_bpm=TARGET_BPM,
            title=say("report.page.where", title=request.score.title, bars=bars_said("1", "4")),
            out=path,
        )
        self.files.append(path)


def _is_clean(finished: Finished) -> bool:
    if not isinstance(finished, FinishedTake):
        return False
    told = finished.summary
    needed = notes_needed(told.asked)
    return told.right_notes >= needed and (told.in_time is None or told.in_time >= needed)
