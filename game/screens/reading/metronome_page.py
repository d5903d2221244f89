"""A take with the metronome on screen: the stages `rhythm` and `time`, or one written note a click.

The first note at its home, after a second of silence, begins the count-in, and so does Space. While it is played, print
that was read turns to ink, and nothing else is shown, unless it is wished that a bar is pencilled once it was left.
The page waits for a player who is behind, and the click goes on (`game.practice.take_end`).
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import pygame

from game.audio.beats import ClickRow
from game.coach.events import Wish
from game.coach.reasons import without_report
from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.player.player_log import LogTakeRecorder
from game.player.settings import InstrumentKind
from game.practice.clock_gap import ClockGap, GapWatch
from game.practice.free_string import MOST_PLUCKS, STOP_PLUCKS
from game.practice.starting_bar import StartingBar
from game.practice.take_request import TakeRequest
from game.practice.timed_take import EARLY_S, TimedTake
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.bars_left import marks_of_left
from game.screens.reading.begun_timed_take import begun_timed_take, prepared_clicks
from game.screens.reading.late_round import LateRound
from game.screens.reading.manual_input import ManualInput
from game.screens.reading.metronome_keys import metronome_keys, metronome_strings
from game.screens.reading.music_view_for import music_view_for, toggle_setting
from game.screens.reading.page_glide import PageGlide
from game.screens.reading.page_keys import PageKeys, key_meant
from game.screens.reading.page_view_for import page_view_for
from game.screens.reading.passage_climb import climb_of
from game.screens.reading.scrolling_music import AHEAD_S
from game.screens.reading.shown_count import shown_count
from game.screens.reading.sight_steps import SightSteps
from game.screens.reading.take_routes import overruled_route, result_route
from game.screens.reading.without_places import free_reading_begins, tell_what_is_heard
from game.screens.routes import Back, Route, ToMarking, ToPage, ToResult
from game.text.catalogue import say, tell_all

SILENCE_S = 1.0
# A bar counts as left a little after its bar line, when its last note can no longer be answered.
_LEFT_AFTER_S = 0.25


class MetronomePage(BaseScreen):
    """A take against the click."""

    in_take = True
    free_string_commands = True
    takes_unsure = True

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context, request.neck_map, written=request.soundings)
        self.request, self.sound = request, context.devices.sound
        self._start = StartingBar(request)
        self._left_bars = 0
        self._glide = PageGlide()
        self._recorder, self.take = begun_timed_take(context, request)
        self._loop_s = self._prepare_clicks(first_bar=0).loop_s
        self._opened_s = context.clock.now_s()
        self._last_heard_s = self._opened_s - SILENCE_S
        self._gaps = GapWatch(context.clock)
        self._late_round = LateRound(self._ended)
        bar = 0.0 if request.one_a_click else float(request.passage.bars[0].meter.bar_length)
        ahead = max(AHEAD_S / self.take.quarter_s, bar) if bar else 0.0
        self.view = self._picture = page_view_for(
            context,
            request,
            partial(music_view_for, context, request, ahead_quarters=ahead),
            climb=climb_of(context, request),
        )
        self._manual_input = ManualInput(context, self.view)
        self._keys = PageKeys(context, request, self.view, self.stop)
        self._tell_keys()
        self.view.status = (
            tell_all(without_report(request.reason))
            or free_reading_begins(request)
            or ("" if self.at_sight else say("time.begin" if context.listens else "time.begin_unheard"))
        )
        self._follow(context.clock.now_s())
        hands = metronome_strings(context, request, running=False)
        tell_what_is_heard(context)
        self._sight = SightSteps(context, request, self.view, hands) if self.at_sight else None

    def _tell_keys(self) -> None:
        """What the keys do now."""
        covered = self.view.covered
        self._keys.tell(*metronome_keys(self.context, self.request, running=self.running, covered=covered))

    @property
    def in_line(self) -> bool:
        return self.running

    def _prepare_clicks(self, first_bar: int) -> ClickRow:
        return prepared_clicks(self.context, self.request, self.take, self._recorder, first_bar)

    @property
    def running(self) -> bool:
        """Whether the count-in has begun."""
        return self.take.zero_s is not None

    @property
    def at_sight(self) -> bool:
        """Whether this is music met for the first time: once through, as notated, and no help."""
        return self.request.stage.once_through

    @property
    def moving(self) -> bool:
        return self.running or self.view.moving

    def on_key(self, event: pygame.event.Event) -> Route | None:
        command = self._commands.get(key_meant(event))
        return command() if command else self._keys.on_key(event)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a rung of the ladder is a wish for its tempo."""
        bpm = self.view.rung_at(at)
        if bpm is None or bpm == self.request.tempo_bpm:
            return None
        return self._leave_for(overruled_route(self.context, self.request, Wish.METRONOME_NOW, bpm))

    @property
    def _commands(self) -> dict[int, Callable[[], Route | None]]:
        if self.at_sight:
            return {pygame.K_SPACE: self._turn_up_or_begin, pygame.K_RETURN: self._turn_up_or_begin}
        looped = replace(self.request, looping=not self.request.looping)
        return {
            pygame.K_F10: self._toggle_still,
            pygame.K_SPACE: self.pause,
            pygame.K_BACKSPACE: partial(self.pause, bars_back=1),
            pygame.K_F8: lambda: self._leave_for(ToPage(looped, chosen=True)),
            pygame.K_COMMA: self._mute,
            pygame.K_PERIOD: self._without_click,
            pygame.K_MINUS: partial(self._wish, Wish.SLOWER),
            pygame.K_EQUALS: partial(self._wish, Wish.FASTER),
        }

    def _turn_up_or_begin(self) -> None:
        """At first sight the page is turned up first, and looked at in silence."""
        if self._sight is not None and self.view.covered:
            self._sight.turn_up(self.context.clock.now_s())
            self._tell_keys()
        else:
            self.begin()

    def _toggle_still(self) -> None:
        toggle_setting(self.context, "still")
        self.view.rebuild_music()
        self._tell_keys()
        self._follow(self.context.clock.now_s())

    def _without_click(self) -> ToPage:
        """On at the player's own pace; the bridge of one note a click leads back to where it began."""
        if self.request.one_a_click:
            return self._leave_for(ToPage(self.request.by_the_click(), chosen=True))
        return self._wish(Wish.NO_METRONOME)

    def _wish(self, wish: Wish) -> ToPage:
        return self._leave_for(overruled_route(self.context, self.request, wish))

    def _leave_for(self, page: ToPage) -> ToPage:
        """Another take by the player's choice."""
        self.sound.metronome.stop()
        return page

    def _mute(self) -> None:
        self.sound.metronome.muted = not self.sound.metronome.muted

    def on_played(self, played: PlayedNote) -> Route | None:
        if not played.sure and not self.running:
            return None
        if self._start.is_count_in(played, self.take):
            return None
        silent_s = played.started_s - self._last_heard_s
        self._last_heard_s = max(self._last_heard_s, played.started_s)
        if played.place is not None:
            self.view.show_finger(played.place, self.context.clock.now_s())
        if self.take.zero_s is None:
            sounds_here = played.started_s >= self._opened_s
            if sounds_here and silent_s >= SILENCE_S and self._is_first_note(played):
                self._turn_up_or_begin()
            return None
        if self.request.looping:
            self._go_round(played.started_s)
        if not self._late_round.hear(played, self.take.zero_s, self.context.clock.now_s()):
            self.take.hear(played)
            self._ink()
        return None

    def on_revised(self, event: NoteRevised) -> None:
        if self._late_round.revise(event):
            return
        if self.take.revise(event.before, event.after):
            self._pencil_left()

    def _is_first_note(self, played: PlayedNote) -> bool:
        """Whether a note begins the take, or turns up the page."""
        return self.view.covered or self._start.is_begun_by(played, self.take.expected)

    def begin(self) -> None:
        """Begin the count-in, at the beginning or at the bar where the take was paused."""
        if self.running:
            return
        self.view.uncover()
        onset_s = self.sound.start_clicks(self.context.clock)
        self.take.start(onset_s - self._start.quarters * self.take.quarter_s)
        self.view.status = ""
        self._tell_keys()
        if self._sight is not None:
            self._sight.read(self.context.clock.now_s())
        self.context.say_sound()

    def pause(self, *, bars_back: int = 0) -> None:
        """Stop the clock, or start it again: the take goes on from the start of this bar, or of one before it, after
        a new count-in.
        """
        if not self.running:
            self.begin()
            return
        now_s = self.context.clock.now_s()
        self._wait_at(self.take.bar_at(now_s) - bars_back, now_s)

    def _wait_at(self, bar: int, now_s: float, said: str = "time.paused", *, by_player: bool = True) -> None:
        """The clock stops, and the take goes on from a bar when it is begun again."""
        self._start = self._start.at(bar)
        self.sound.metronome.stop()
        self._late_round.end(now_s)
        self.take.go_back(self._start.index, now_s, by_player=by_player)
        self._prepare_clicks(first_bar=self._start.index)
        self._left_bars = min(self._left_bars, self._start.index)
        self._pencil_left()
        self.view.count = None
        self.view.status = say(said, bar=self._start.number)
        self._tell_keys()
        self._follow(now_s)

    def on_tick(self, now_s: float) -> Route | None:
        gap = self._gaps.gap()
        if gap is not None and self.running:
            self._after_gap(gap)
        self.sound.tick(now_s)
        if self._sight is not None:
            self._sight.show(now_s)
            if self._sight.is_over(now_s):
                self.begin()
        if not self.running:
            return None
        if self.request.looping:
            self._go_round(now_s)
        self.take.tick(now_s)
        self._follow(now_s)
        self.view.count = shown_count(self.sound.metronome, self.take, self.request, now_s)
        left = self.take.bar_left(now_s - _LEFT_AFTER_S)
        if left > self._left_bars and not self.request.one_a_click:
            self._left_bars = left
            self._pencil_left()
        return self.stop() if self.take.is_over(now_s) and not self.request.looping else None

    def _after_gap(self, gap: ClockGap) -> None:
        """The game stood still. Who was heard meanwhile plays on; else the take waits at the bar it was in, and nothing
        is held against the player.
        """
        if gap.asleep or self.take.lost_between(gap.from_s, gap.until_s):
            self._wait_at(self.take.bar_at(gap.from_s), gap.until_s, "time.stood_still", by_player=False)

    def _go_round(self, now_s: float) -> None:
        """The loop begins again without a gap: each round is a take of its own. What the last is owed may come."""
        assert self.take.zero_s is not None
        self._late_round.tick(now_s)
        next_zero_s = self.take.zero_s + self._loop_s
        if now_s < next_zero_s - EARLY_S:
            return
        self._late_round.follow_on(self._recorder, self.take, now_s)
        self._recorder, self.take = begun_timed_take(self.context, self.request)
        self.take.start(next_zero_s)
        self._left_bars = 0
        self._pencil_left()

    def _ended(self, take: TimedTake, recorder: LogTakeRecorder, now_s: float) -> ToResult | None:
        """A take is over, in a loop a round: the ladder beside the next one stands as the coach has it now."""
        result = result_route(self.context, self.request, take.end(now_s), recorder)
        if result is not None and self.request.looping and self.view.climb is not None:
            self.view.climb = climb_of(self.context, self.request)
        return result

    def _follow(self, now_s: float) -> None:
        """Keep before the eyes what is read now; between takes the bar at which it goes on."""
        if self.running:
            self.view.music.follow(self._glide.position(self.take, now_s))
        else:
            self._glide.rest()
            self.view.music.follow(self._start.quarters)

    def _ink(self) -> None:
        """Print that was read turns to ink: that is all that is shown while one plays."""
        if not self.at_sight:
            self.view.mark_clean(self.take.to_ink())

    def _pencil_left(self) -> None:
        """Where it is wished, pencil what went wrong in the bars that have been left, and only there."""
        self._ink()
        if self.at_sight or not self.context.settings.marks_in_take:
            return
        self.view.marks = list(marks_of_left(self.take, self.request.passage, self._left_bars))

    def on_instrument_lost(self, now_s: float) -> bool:
        if not self.running:
            return False
        self._wait_at(self.take.bar_at(now_s), now_s, by_player=False)
        return True

    def waiting_words(self, device: str) -> str:
        """Which bar waits; below the music it is told how to go on."""
        return say("page.instrument_gone", device=device, bar=self._start.number)

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        """The free string plucked once pauses or goes on, twice stops, three times goes slower."""
        if plucks == 1:
            self._commands[pygame.K_SPACE]()
            return None
        return self.stop() if plucks == STOP_PLUCKS else self._wish(Wish.SLOWER) if plucks == MOST_PLUCKS else None

    def stop(self) -> Route:
        """Leave the take where it is; what was played is shown, or marked by the player where nothing listens."""
        self.sound.metronome.stop()
        now_s = self.context.clock.now_s()
        unheard = self.context.settings.instrument is InstrumentKind.NO_PICKUP and not self.request.one_a_click
        if unheard and self.take.is_over(now_s) and not self.take.heard_anything:
            return ToMarking(self.request)
        self._late_round.end(now_s)
        return self._ended(self.take, self._recorder, now_s) or self._late_round.result or Back()
