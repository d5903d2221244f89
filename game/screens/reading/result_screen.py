"""After a take: the page with its pencil marks, three counts, why and what now, and the corner that does it."""

from collections.abc import Callable
from functools import cached_property

import pygame

from game.coach.events import Wish
from game.coach.marks import Mark
from game.coach.plan.plan_onward import Onward
from game.coach.shown_marks import shown_marks
from game.coach.stages import Pulse, Stage
from game.coach.tempo_ladder import LadderRung
from game.desk.kit.canvas import Canvas
from game.desk.kit.mark_words import WordedMark
from game.instrument.decoding.played import NoteStarted
from game.lines.titles import title_told
from game.music.written import HeadId
from game.practice.finished_take import FinishedTake, owed_soundings
from game.practice.hand_in_take import hand_in_take
from game.practice.page_positions import numerals_of
from game.screens.base_screen import BaseScreen
from game.screens.choosing.planned_route import then_in_plan
from game.screens.context import ScreenContext
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import MORE_KEYS, KeyHint, NamedKey, key_hints, on_sheet
from game.screens.reading.hand_on_neck import HandOnNeck
from game.screens.reading.known_by_ear_key import KNOWN_BY_EAR_KEY, known_by_ear_hint, toggle_known_by_ear
from game.screens.reading.ladder_rungs import drawn_rung, ladder_rungs
from game.screens.reading.margin_ladder import CLIMB_S, rung_climbs
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.next_in_set import next_in_set
from game.screens.reading.next_in_words import (
    advised_route,
    bars_after,
    corner_in_words,
    now_in_words,
    other_bars_route,
)
from game.screens.reading.page_keys import free_string_keys
from game.screens.reading.passage_heading import PassageHeading, played_in_words, worded_marks
from game.screens.reading.result_sheet import ResultSheet
from game.screens.reading.result_sounds import START_OR_STOP, ResultSounds
from game.screens.reading.result_words import is_by_word, result_words, run_underline
from game.screens.reading.slip_offer import SlipOffer, is_due
from game.screens.reading.take_in_words import marks_of_finished
from game.screens.reading.take_routes import overruled_route
from game.screens.routes import Back, Route, ToPage, ToResult, ToSibling, ToSigning, ToToday
from game.screens.shown_keys import draw_keys, draw_next, lay_paper
from game.text.catalogue import say, tell, tell_all

# A guitarist replays the bad spot at once: only a first note after this much silence begins again.
SILENCE_S = 1.0
# Until the last picture of what moves is drawn.
_A_LITTLE_S = 0.05
# Between the keys and the corner, in units.
_TO_CORNER = 24.0


class ResultScreen(BaseScreen):
    """The page of a take that is over."""

    free_string_commands = True

    def __init__(self, context: ScreenContext, result: ToResult) -> None:
        super().__init__(context, result.request.neck_map, written=result.request.soundings)
        self.request, self.finished = result.request, result.finished
        self.decision = result.decision
        # Settled here: what is read is what Enter does, however long it is looked at.
        self._then = then_in_plan(context, self.request, self.decision) if self.request.planned else None
        self._over = bars_after(self.request, self.finished, self.decision)
        self._set = next_in_set(context, self.request)
        names = context.settings.note_names
        offered = not self._to_sign and not is_by_word(self.finished) and is_due(context, self.request)
        self._slip = SlipOffer(context) if offered else None
        coached = now_in_words(self.request, self.decision, self._then, self._over)
        now = (self._set.now,) if self._set else coached
        self._hand = hand_in_take(self.finished) if isinstance(self.finished, FinishedTake) else None
        said = say("now.sign") if self._to_sign else tell_all(now)
        self._words = result_words(self.finished, said, names, self._hand)
        # Which request it is takes a moment in a long one: not in every picture.
        self._by_ear = known_by_ear_hint(context, self.request)
        self._opened_s = self._last_heard_s = context.clock.now_s()
        self._owed = owed_soundings(self.finished)
        self._sounds = ResultSounds(context, self.finished)
        self._turned = False
        self._rung_hits: tuple[pygame.Rect, ...] = ()
        self._marks = marks_of_finished(self.finished, names)
        area, run = self._sheet_on(None).page_area, run_underline(self.finished)
        self._below_climb = KeptPicture(context)
        if self.decision.earned or self.decision.just_read:
            context.devices.sound.touch()
        passage = self.finished.passage
        at_homes = not self.request.free_reading
        numerals = numerals_of(passage, self.request.neck_map, self.request.stage) if at_homes else {}
        self.page = MarkedPage(context, passage, self._marks, area, run, numerals=numerals)

    def _sheet_on(self, surface: pygame.Surface | None) -> ResultSheet:
        """The sheet as it lies in the window now."""
        canvas = Canvas(surface or pygame.Surface((1, 1)), self.context.sheet, self.context.theme)
        rungs = tuple(map(drawn_rung, self._rungs))
        return ResultSheet(
            canvas,
            self._heading,
            self._words,
            rungs,
            played_bpm=self.request.tempo_bpm,
            climbing=self._climbed < 1,
            strings=bool(self._string_keys()),
            by_word=is_by_word(self.finished),
            hand=self._hand_on_neck,
        )

    @property
    def _hand_on_neck(self) -> HandOnNeck | None:
        shown, settings = None if self._hand is None else self._hand.shown, self.context.settings
        if shown is None:
            return None
        neck_map = self.request.neck_map
        return HandOnNeck(hand=shown, neck_map=neck_map, left_handed=settings.left_handed, capo=settings.capo_in_use)

    @cached_property
    def _climbs(self) -> bool:
        """Whether the red rung has a way to go; it has gone it already on a still desk."""
        rungs = tuple(map(drawn_rung, self._rungs))
        return not self.context.settings.still_desk and rung_climbs(rungs, self.request.tempo_bpm)

    @property
    def _climbed(self) -> float:
        """How far the red rung has come, 0 to 1."""
        share = (self.context.clock.now_s() - self._opened_s) / CLIMB_S if self._climbs else 1.0
        return 1.0 if share >= 1 else share * share * (3 - 2 * share)

    @property
    def moving(self) -> bool:
        return self._climbs and self.context.clock.now_s() - self._opened_s < CLIMB_S + _A_LITTLE_S

    @cached_property
    def _heading(self) -> PassageHeading:
        title = tell(title_told(self.finished.passage.score.title))
        return PassageHeading(title=title, where=played_in_words(self.request), marks=self._marks_earned)

    @cached_property
    def _rungs(self) -> tuple[LadderRung, ...]:
        """The ladder; none where no tempo is climbed."""
        decided = self.decision.stage is Stage.TIME and self.decision.pulse is Pulse.METRONOME
        played = self.request.stage is Stage.TIME and self.request.tempo_bpm is not None
        if self.request.free_reading or not (decided or played):
            return ()
        coach, request = self.context.session.coach, self.request
        return ladder_rungs(coach, self.decision, self.finished.passage, request.neck_map)

    @property
    def _marks_earned(self) -> tuple[WordedMark, ...]:
        """The marks that these bars have; a fresh line earns none, and free reading neither."""
        if self.request.fresh or self.request.free_reading:
            return ()
        record = self.context.session.coach.record_of(self.finished.passage)
        return worded_marks(shown_marks(record, self.decision))

    @cached_property
    def _clean_heads(self) -> frozenset[HeadId]:
        return frozenset() if is_by_word(self.finished) else self.finished.clean_heads

    def resized(self) -> None:
        self._below_climb.forget()
        self.page.fit(self._sheet_on(None).page_area)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        self._below_climb.forget()
        return self._command(event.key)

    def on_wheel(self, up: int) -> Route | None:
        self._below_climb.forget()
        self.page.turn(-up)
        return None

    def _command(self, key: int) -> Route | None:
        leads_to: dict[int, Callable[[], Route | None]] = {
            pygame.K_ESCAPE: self._back,
            pygame.K_RETURN: self._as_advised,
            **({} if self.request.planned else self._elsewhere),
        }
        if key in leads_to:
            return leads_to[key]()
        self._sounds.on_key(key)
        if self._slip is not None:
            self._slip.on_key(key)
        if key == KNOWN_BY_EAR_KEY and toggle_known_by_ear(self.context, self.request):
            self._by_ear = known_by_ear_hint(self.context, self.request)
        if key in (pygame.K_UP, pygame.K_DOWN):
            self.page.turn(1 if key == pygame.K_DOWN else -1)
            self._turned = True
        return None

    @property
    def _elsewhere(self) -> dict[int, Callable[[], Route | None]]:
        """Keys that leave for other music: inside a step of the plan there are none, and the corner goes on with it."""
        request = self.request
        return {
            pygame.K_RIGHT: lambda: self._on() if request.fresh or not request.is_last else None,
            pygame.K_LEFT: lambda: ToPage(request.moved(-1)) if request.index else None,
            pygame.K_TAB: lambda: ToPage(request.next_stage(), chosen=True),
            pygame.K_a: lambda: ToSibling(request),
            pygame.K_F4: lambda: ToPage(request.whole_or_passages(), chosen=True),
        }

    def _back(self) -> Route:
        return ToToday() if self.request.planned else Back()

    def _as_advised(self) -> Route:
        """What comes next, as it was set, or as the coach says."""
        if self._to_sign:
            return ToSigning(self.request, self.finished, self.decision, self._then)
        return self._set.route if self._set else advised_route(self.request, self.decision, self._then, self._over)

    @property
    def _corner(self) -> str:
        """The same in the few words of the corner."""
        if self._to_sign:
            return say("corner.sign_page")
        if self._set:
            return tell(self._set.corner)
        return tell(corner_in_words(self.request, self.decision, self._then, self._over))

    @property
    def _time_left(self) -> str:
        """How much there is left of the step of the plan; nothing outside of one, or when it is over."""
        left = self.context.session.plan.minutes_left if self.request.planned else None
        over = self._then is not None and self._then.onward is Onward.STEP_OVER
        return "" if left is None or over else say("result.time_left", minutes=left)

    @property
    def _to_sign(self) -> bool:
        """Whether the page was just signed off: then its player signs, whatever comes after."""
        return Mark.SIGNED_OFF in self.decision.earned and not self.request.fresh

    def _on(self) -> Route:
        return other_bars_route(self.request, self.decision, self._then)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a rung of the ladder is a wish for its tempo; inside a step the plan goes on as it says."""
        if self.request.planned:
            return None
        hit = next((rung for rung, box in zip(self._rungs, self._rung_hits, strict=True) if box.collidepoint(at)), None)
        if hit is None:
            return None
        return overruled_route(self.context, self.request, Wish.METRONOME_NOW, hit.tempo_bpm)

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        return None

    def on_note(self, event: NoteStarted) -> Route | None:
        """After a second of silence the first note at its home goes on as advised; noodling does nothing."""
        silent_s = event.note.started_s - self._last_heard_s
        self._last_heard_s = max(self._last_heard_s, event.note.started_s)
        first = (self._over or self.request).passage.notes[0]
        if event.note.started_s < self._opened_s or self._is_owed(event.note.sounding):
            return None
        home = self.request.judged_on.home_of(first.sounding)
        at_home = event.note.place is None or home is None or event.note.place == home.place
        begins = silent_s >= SILENCE_S and event.note.sounding == first.sounding and at_home
        self.context.window.corner_taken = begins
        return self._as_advised() if begins else None

    def _is_owed(self, sounding: int) -> bool:
        """Whether the take still waited for a note when it ended: such a note, come late, begins nothing."""
        if sounding not in self._owed:
            return False
        self._owed = self._owed[self._owed.index(sounding) + 1 :]
        return True

    def draw(self, surface: pygame.Surface) -> bool:
        """While the red rung climbs, all else is drawn once."""
        climbed = self._climbed
        if climbed >= 1:
            self._draw(surface)
            return True
        self._below_climb.show(surface, self._by_ear, self._draw)
        self._sheet_on(surface).draw_climbing(climbed)
        return True

    def _draw(self, surface: pygame.Surface) -> None:
        lay_paper(self.context, surface)
        self.page.draw(surface, dict.fromkeys(self._clean_heads, self.context.theme.read))
        sheet = self._sheet_on(surface)
        self._rung_hits = sheet.draw()
        self.context.window.follow(sheet.page_area if self._turned else sheet.words_area)
        right = draw_next(self.context, surface, self._corner, above=self._time_left) - _TO_CORNER
        strings, keys = self._string_keys(), self._keys()
        draw_keys(self.context, surface, tuple(key for key in keys if not key.on_sheet_only), right=right)
        self.context.window.tell_keys(tuple(key for key in keys if key.on_sheet_only))
        if strings:
            draw_keys(self.context, surface, strings, row=1, right=right)

    def _keys(self) -> tuple[KeyHint, ...]:
        """The keys: at the foot those most asked for, and where the others are told."""
        more: tuple[NamedKey, ...] = (("keys.updown", "keys.more_lines"),) if self.page.more else ()
        back = key_hints(("keys.escape", "keys.today" if self.request.planned else "keys.back"), MORE_KEYS)
        here = (*self._sounds.hints, *back)
        if self._slip is not None:
            # What is offered once comes first, and what may be heard waits.
            here = (*self._slip.hints, *back, *self._sounds.hints)
        if self.request.planned:
            told = (*key_hints(START_OR_STOP), *self._by_ear)
            return (*here, *key_hints(*more), *on_sheet(told))
        others: tuple[NamedKey, ...] = (("→", "keys.fresh_line"),) if self.request.fresh else ()
        if len(self.request.passages) > 1:
            others = (("keys.arrows", "keys.passage"),)
        elsewhere = (("A", "keys.bars_alike"), ("keys.tab", "keys.stage"), ("F4", "keys.whole"), START_OR_STOP)
        return (*here, *key_hints(*more, *others), *on_sheet((*key_hints(*elsewhere), *self._by_ear)))

    def _string_keys(self) -> tuple[KeyHint, ...]:
        """What a guitar in hand does, in a row of its own; nothing without one."""
        free = free_string_keys(self.context, self.request.neck_map, "keys.free_result", self.request.soundings)
        first = "free.first_note" if self.request.free_reading else "result.first_note"
        return (KeyHint((say(first),), say("keys.advised")), *free) if free else ()
