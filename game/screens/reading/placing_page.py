"""A short test for a new player: some single notes, then two lines, pitch only. It says where to begin, and no more."""

from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

import msgspec
import pygame

from game.coach.numbers import NUMBERS
from game.coach.placing.placing_notes import drawn_note
from game.coach.placing.placing_test import (
    LineQuestion,
    NoteQuestion,
    PlacingTest,
    line_read,
    next_question,
    note_answered,
    placement,
)
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.judging.untimed import UntimedRules
from game.judging.verdicts import NoteVerdict, Verdict
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.music.keys import Key, spelled
from game.music.meter import Meter
from game.music.score import Bar, Note, NoteValue, Score
from game.practice.places_take import PlacesTake
from game.screens.choosing.line_on_desk import line_asked_for
from game.screens.context import ScreenContext
from game.screens.reading.page_screen import PageScreen
from game.screens.routes import Destination, TakeRequest, ToPlacing, ToToday, request_for
from game.text.catalogue import say, tell

_LINE_BARS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is on the page, and the test that asks it. `asked` are the sounding pitches of the single notes so far."""

    test: PlacingTest
    tune: TakeRequest
    asked: tuple[int, ...] = ()


def question_after(around: ScreenContext, test: PlacingTest, asked: tuple[int, ...], chance: Random) -> Question | None:
    """The next page of the test; None when it is over. Raises `TuneError` for a map with too few notes."""
    wanted = next_question(test)
    if wanted is None:
        return None
    neck_map = around.settings.neck_map()
    if isinstance(wanted, NoteQuestion):
        sounding = drawn_note(wanted.level, neck_map, asked, chance)
        return Question(test=test, tune=request_for(_single(around, sounding), neck_map), asked=(*asked, sounding))
    level = level_of(wanted.level)
    score = fresh_line(level, neck_map, key=line_asked_for(wanted.level, chance), bars=_LINE_BARS, rng=chance)
    tune = request_for(score, neck_map)
    return Question(test=test, tune=replace(tune, fresh=True).whole_or_passages(), asked=asked)


def _single(around: ScreenContext, sounding: int) -> Score:
    """A page with one note on it, in no key."""
    reading = around.settings.reading
    written = spelled(sounding + 12 * reading.octaves_down, Key(0))
    note = Note(onset=Fraction(0), length=Fraction(4), value=NoteValue(base=Fraction(4)), pitch=written)
    bar = Bar(number="1", meter=Meter(), key=Key(0), length=Fraction(4), events=(note,))
    return Score(title=say("placing.title"), reading=reading, bars=(bar,))


class PlacingPage(PageScreen):
    """One question. Its first answers count; nothing is pencilled, and nothing goes into the log."""

    def __init__(self, around: ScreenContext, question: Question) -> None:
        super().__init__(around, question.tune)
        self.question = question
        now_s = around.clock.now_s()
        self.take = PlacesTake(
            question.tune.passage, question.tune.neck_map, now_s=now_s, rules=UntimedRules(waits=False)
        )
        line = isinstance(next_question(question.test), LineQuestion)
        self.view.stage_name = ""
        self.view.aside = say("placing.line" if line else "placing.note")
        self.view.keys = ((say("keys.escape"), say("keys.today")),)
        self._look()

    def handle(self, event: pygame.event.Event) -> Destination | None:
        played = self.played_by_hand(event)
        if played is not None:
            return self._play(played)
        if event.type == pygame.KEYDOWN and event.key == pygame.K_ESCAPE:
            return self.stop()
        return None

    def heard(self, event: NoteStarted) -> Destination | None:
        return self._play(event.note)

    def _play(self, played: PlayedNote) -> Destination | None:
        self.take.hear(played)
        if played.place is not None:
            self.view.press(played.place, self.around.clock.now_s())
        self._look()
        return self._over() if self.take.done else None

    def _look(self) -> None:
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.note.heads[0], self.around.clock.now_s())

    def _over(self) -> Destination:
        """The answers go into the test; after the last question its outcome is settled."""
        test, verdicts = self.question.test, self.take.answered
        if isinstance(next_question(test), NoteQuestion):
            (verdict,) = verdicts
            find_s = (verdict.time_to_find_ms or 0.0) / 1000
            test = note_answered(test, right=verdict.verdict is Verdict.CLEAN, find_s=find_s)
        else:
            test = line_read(test, notes=len(verdicts), good=sum(map(_is_good, verdicts)))
        if next_question(test) is not None:
            return ToPlacing(test, self.question.asked)
        placed = placement(test)
        settings = msgspec.structs.replace(self.around.settings, line_level=placed.level)
        self.around.change_settings(settings)
        self.around.say(tell(placed.reason))
        if self.around.planning is not None:
            self.around.planning.plan_again()
        return ToToday()

    def stop(self) -> Destination:
        return ToToday()


def _is_good(verdict: NoteVerdict) -> bool:
    """Right, and found within the time of the table."""
    find_s = (verdict.time_to_find_ms or 0.0) / 1000
    return verdict.verdict is Verdict.CLEAN and find_s <= NUMBERS.placing_quick_s
