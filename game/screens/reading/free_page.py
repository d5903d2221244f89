"""The stages `rhythm` and `time` at the player's own pace: no click, the pulse is inferred when the take is over."""

from collections.abc import Callable
from functools import partial

import pygame

from game.coach.events import Wish
from game.coach.reasons import without_report
from game.coach.stages import Stage
from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.player.settings import InstrumentKind
from game.practice.clock_gap import GapWatch
from game.practice.free_string import MOST_PLUCKS, STOP_PLUCKS
from game.practice.free_take import FreeTake
from game.practice.pencilled import CountMark, count_marks
from game.practice.take_request import TakeRequest
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, NamedKey
from game.screens.reading.manual_input import ManualInput
from game.screens.reading.music_view_for import music_view_for, toggle_setting
from game.screens.reading.page_keys import PageKeys, foot_keys, free_string_keys, key_meant, still_key
from game.screens.reading.page_view_for import page_view_for
from game.screens.reading.sight_steps import SightSteps
from game.screens.reading.take_routes import overruled_route, result_route
from game.screens.reading.timed_terms import timed_terms
from game.screens.reading.without_places import free_reading_begins, tell_what_is_heard
from game.screens.routes import Back, Route, ToMarking, ToResult
from game.text.catalogue import say, tell_all


class FreePage(BaseScreen):
    """A take in free time, from its first note."""

    in_take = True
    free_string_commands = True
    takes_unsure = True

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context, request.neck_map, written=request.soundings)
        self.request = request
        self._recorder = context.session.recorder(
            request.passage, request.judged_on, timed_terms(request), zero_s=context.clock.now_s()
        )
        self._gaps = GapWatch(context.clock)
        self.take = FreeTake(request.passage, request.judged_on, request.stage, recorder=self._recorder)
        self.view = self._picture = page_view_for(context, request, partial(music_view_for, context, request))
        self._manual_input = ManualInput(context, self.view)
        self._keys = PageKeys(context, request, self.view, self.stop)
        self._free = self._string_told()
        self._sight: SightSteps | None = None
        self._tell_keys()
        self.view.status = (
            say("marked.free")
            if self._unheard
            else tell_all(without_report(request.reason))
            or free_reading_begins(request)
            or ("" if self.at_sight else say("time.begin_free" if request.stage is Stage.TIME else "rhythm.begin"))
        )
        self._look()
        tell_what_is_heard(context)
        by_word = say("corner.to_mark") if self._unheard else ""
        if self.at_sight:
            self._sight = SightSteps(context, request, self.view, self._free, read=by_word)

    @property
    def at_sight(self) -> bool:
        """Whether this is music met for the first time: once through, as notated, and no help."""
        return self.request.stage.once_through

    def _string_told(self) -> tuple[KeyHint, ...]:
        in_line = "keys.heard_stop" if self.context.settings.by_microphone else "keys.free_free"
        does = "keys.free_sight" if self.at_sight else in_line
        return free_string_keys(self.context, self.request.neck_map, does, self.request.soundings)

    @property
    def in_line(self) -> bool:
        return self.take.heard_anything or (self._sight is not None and self._sight.reading)

    def _tell_keys(self) -> None:
        mark: tuple[NamedKey, ...] = (("keys.space", "keys.mark"),) if self._unheard else ()
        enter: tuple[NamedKey, ...] = (("keys.enter", "keys.mark"),) if self._unheard else ()
        keys: tuple[NamedKey, ...] = (*mark, ("F5", "keys.count"), (".", "keys.metronome"))
        if self._sight is not None and self._sight.reading:
            keys = mark
        elif self.at_sight:
            enter = ()
            does = "keys.turn_up" if self.view.covered else "keys.begin"
            keys = (("keys.enter", does), ("keys.space", does))
        still = () if self.at_sight else (still_key(self.context),)
        again = ("keys.backspace", "keys.wrong_again" if self._unheard else "keys.again")
        self._keys.tell(*self._free, *foot_keys(*keys, last=(*enter, again, *still)))

    def on_key(self, event: pygame.event.Event) -> Route | None:
        command = self._commands.get(key_meant(event))
        return command() if command else self._keys.on_key(event)

    @property
    def _commands(self) -> dict[int, Callable[[], Route | None]]:
        if self.at_sight:
            return {pygame.K_SPACE: self._turn_up_or_begin, pygame.K_RETURN: self._turn_up_or_begin}
        commands: dict[int, Callable[[], Route | None]] = {
            pygame.K_F10: self._toggle_still,
            pygame.K_PERIOD: self._with_metronome,
            pygame.K_F5: self._count,
        }
        mark = partial(ToMarking, self.request)
        return {**commands, pygame.K_RETURN: mark, pygame.K_SPACE: mark} if self._unheard else commands

    @property
    def _unheard(self) -> bool:
        """Whether nothing listens to the player, who will mark the take when it is over."""
        return self.context.settings.instrument is InstrumentKind.NO_PICKUP

    def _turn_up_or_begin(self) -> Route | None:
        """The page is turned up and looked at in silence; then it is read, from its first note. What nothing listens to
        is marked after that.
        """
        assert self._sight is not None, "only first sight lies face down"
        if self.view.covered:
            self._sight.turn_up(self.context.clock.now_s())
            self._tell_keys()
        elif self._unheard and not self._sight.looking:
            return ToMarking(self.request)
        else:
            self._read(self._sight)
        return None

    def _read(self, sight: SightSteps) -> None:
        sight.read(self.context.clock.now_s())
        self._tell_keys()

    def _toggle_still(self) -> None:
        toggle_setting(self.context, "still")
        self.view.rebuild_music()
        self._tell_keys()

    def _with_metronome(self) -> Route:
        return overruled_route(self.context, self.request, Wish.METRONOME_NOW)

    def _count(self) -> None:
        """The counts under the notes, on request: 1 & 2 &."""
        shown = [mark for mark in self.view.marks if isinstance(mark.mark, CountMark)]
        self.view.marks = [] if shown else list(count_marks(self.request.passage.bars))

    def on_played(self, played: PlayedNote) -> Route | None:
        if not played.sure and not self.take.heard_anything:
            return None
        if self.view.covered:
            self._turn_up_or_begin()
            return None
        if self._sight is not None:
            self._read(self._sight)
        self.view.status = ""
        self.take.hear(played)
        if played.place is not None:
            self.view.show_finger(played.place, self.context.clock.now_s())
        self._look()
        return None

    def on_revised(self, event: NoteRevised) -> None:
        self.take.revise(event.before, event.after)
        self._look()

    def _look(self) -> None:
        if self.take.at < len(self.take.expected):
            head = self.take.expected[self.take.at].note.heads[0]
            self.view.look_at(head, self.context.clock.now_s())

    def on_instrument_lost(self, now_s: float) -> bool:
        if self.take.heard_anything:
            self.take.pause(now_s)
        return self.take.heard_anything

    def on_tick(self, now_s: float) -> Route | None:
        gap = self._gaps.gap()
        if gap is not None and self.take.stood_still(gap):
            self.view.status = say("free.stood_still")
        if self._sight is not None:
            self._sight.show(now_s)
            if self._sight.is_over(now_s):
                self._read(self._sight)
        return self.stop() if self.take.is_over(now_s) else None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        """The free string plucked once shows the counts, or turns the page up; twice stops; three times puts the
        metronome on.
        """
        if plucks == 1:
            self._commands[pygame.K_SPACE if self.at_sight else pygame.K_F5]()
            return None
        if plucks == STOP_PLUCKS:
            return self.stop()
        return self._with_metronome() if plucks == MOST_PLUCKS and not self.at_sight else None

    def stop(self) -> ToResult | Back:
        """Leave the take where it is; what was played is shown."""
        return result_route(self.context, self.request, self.take.end(), self._recorder) or Back()
