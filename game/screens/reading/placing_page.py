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
    begin_placing,
    line_read,
    next_question,
    note_answered,
    placement,
)
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import UntimedRules
from game.judging.verdicts import NoteVerdict, Verdict
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.music.keys import Key, spelled
from game.music.meter import Meter
from game.music.score import Bar, Note, NoteValue, Score
from game.practice.free_string import STOP_PLUCKS
from game.practice.places_take import PlacesTake
from game.practice.take_request import TakeRequest, request_for
from game.screens.base_screen import BaseScreen
from game.screens.choosing.fresh_requests import key_for_level
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.reading.manual_input import ManualInput
from game.screens.reading.page_view_for import page_view_for
from game.screens.routes import Route, ToPlacing, ToToday
from game.text.catalogue import say, tell

_LINE_BARS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is on the page, and the test that asks it. `asked` are the sounding pitches of the single notes so far."""

    test: PlacingTest
    request: TakeRequest
    asked: tuple[int, ...] = ()


def next_placing(context: ScreenContext, route: ToPlacing, chance: Random) -> Question:
    """The next page of the test, which is not over. Raises `TuneError` for a map with too few notes."""
    test, asked = route.test or begin_placing(), route.asked
    wanted = next_question(test)
    assert wanted is not None, "a test that is over leads elsewhere"
    neck_map = context.settings.neck_map()
    if isinstance(wanted, NoteQuestion):
        sounding = drawn_note(wanted.level, neck_map, asked, chance)
        return Question(test=test, request=request_for(_single(context, sounding), neck_map), asked=(*asked, sounding))
    level = level_of(wanted.level)
    score = fresh_line(level, neck_map, key=key_for_level(wanted.level, neck_map, chance), bars=_LINE_BARS, rng=chance)
    request = request_for(score, neck_map)
    return Question(test=test, request=replace(request, fresh=True).whole_or_passages(), asked=asked)


def _single(context: ScreenContext, sounding: int) -> Score:
    """A page with one note on it, in no key."""
    reading = context.settings.reading
    written = spelled(sounding + 12 * reading.octaves_down, Key(0))
    note = Note(onset=Fraction(0), length=Fraction(4), value=NoteValue(base=Fraction(4)), pitch=written)
    bar = Bar(number="1", meter=Meter(), key=Key(0), length=Fraction(4), events=(note,))
    return Score(title=say("placing.title"), reading=reading, bars=(bar,))


class PlacingPage(BaseScreen):
    """One question. Its first answers count; nothing is pencilled, and nothing goes into the log."""

    in_take = True
    free_string_commands = True
    in_line = True

    def __init__(self, context: ScreenContext, question: Question) -> None:
        super().__init__(context, question.request.neck_map, written=question.request.soundings)
        self.question = question
        now_s = context.clock.now_s()
        self.take = PlacesTake(
            question.request.passage, question.request.neck_map, now_s=now_s, rules=UntimedRules(waits=False)
        )
        line = isinstance(next_question(question.test), LineQuestion)
        # The test is of what is heard: where nothing listens the neck is played.
        self.view = self._picture = page_view_for(
            context, question.request, neck_shown=None if context.listens else True, asks=True
        )
        self._manual_input = ManualInput(context, self.view)
        self.view.facts = ""
        self.view.status = say("placing.line" if line else "placing.note")
        self.view.keys = key_hints(("keys.escape", "keys.today"))
        self._look()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        return ToToday() if event.key == pygame.K_ESCAPE else None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        return ToToday() if plucks == STOP_PLUCKS else None

    def on_played(self, played: PlayedNote) -> Route | None:
        self.take.hear(played)
        if played.place is not None:
            self.view.show_finger(played.place, self.context.clock.now_s())
        self._look()
        return self._over() if self.take.done else None

    def _look(self) -> None:
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.note.heads[0], self.context.clock.now_s())

    def _over(self) -> Route:
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
        settings = msgspec.structs.replace(self.context.settings, line_level=placed.level)
        self.context.change_settings(settings)
        self.context.say(tell(placed.reason))
        self.context.session.plan.replan()
        return ToToday()


def _is_good(verdict: NoteVerdict) -> bool:
    """Right, and found within the time of the table."""
    find_s = (verdict.time_to_find_ms or 0.0) / 1000
    return verdict.verdict is Verdict.CLEAN and find_s <= NUMBERS.placing_quick_s
