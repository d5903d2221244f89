"""The app: owns the step that everything happens in.

`step` takes in what happened since the last one, lets the screen answer, and draws. `run` only calls it; tests call it
themselves, with a clock of their own.
"""

import gc
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

import pygame

from game.errors import HomefretError
from game.instrument.decoding.played import BendRangeInferred, NoteRevised, NoteStarted, PedalPressed, RotatesChannels
from game.screens.base_screen import BaseScreen
from game.screens.choosing.first_screen import first_screen, never_played
from game.screens.choosing.today_screen import TodayScreen
from game.screens.context import ScreenContext
from game.screens.dropped_files import dropped, is_assignment
from game.screens.routes import Back, Route, ToDamage, ToFirstStart, ToShelf, ToToday
from game.screens.sound_device import SoundDevice
from game.screens.ways_back import WaysBack
from game.screens.window_events import window_events
from game.screens.window_picture import WindowPicture
from game.text.catalogue import as_sentence, say, tell

if TYPE_CHECKING:
    from game.instrument.ports.live_instrument import TakenEvent
    from game.screens.instrument_events import InstrumentEvents

_SWITCH_INTERVAL_S = 0.0005
_POLL_EVERY_MS = 1
# Five minutes' rest in each half hour is the usual advice (trade).
REST_AFTER_S = 25 * 60.0
AT_REST_AFTER_S = 10.0
"""On the shelf, or before the plan, for so long without a new screen: nobody is about to play this moment."""

_BY_HAND = (pygame.KEYDOWN, pygame.MOUSEBUTTONDOWN, pygame.VIDEORESIZE)


class App:
    """The game in its window. Make it after the window is open. `instrument_events` once MIDI was looked for; `screen`
    is the first one, by default Today, or the first start.
    """

    def __init__(
        self,
        surface: pygame.Surface,
        context: ScreenContext,
        chance: Random | None = None,
        *,
        screen: BaseScreen | None = None,
    ) -> None:
        self.context = context
        self.picture = WindowPicture(context, surface)
        self.instrument_events: InstrumentEvents | None = None
        self._chance = chance or Random()
        self.screen = screen or first_screen(context)
        self.running = True
        self._sound_device = SoundDevice(context)
        self._ways_back = WaysBack()
        self._new_screen = False
        self._rested_s = context.clock.now_s()
        self._crashed_here = False
        self._arrived_s: float | None = context.clock.now_s()

    @property
    def surface(self) -> pygame.Surface:
        """The window."""
        return self.picture.surface

    def step(self, events: Iterable[pygame.event.Event]) -> None:
        """One frame: what happened, what it leads to, and the picture of it."""
        self.take_in(events)
        if self.running:
            self.draw()

    def turn(self) -> None:
        """One turn of the loop. Whatever nobody foresaw ends the screen, and not the game."""
        self._guarded(self._turn)

    def end(self) -> None:
        """The player leaves, by whichever way: the turn that is under way is the last."""
        self.running = False

    def begin(self) -> None:
        """The log is open: show what is wrong with it; the first note, to whoever has never played; else all of Today.
        A fault of that is one of the screen in sight, as in a turn.
        """
        self._guarded(self._begin)

    def _begin(self) -> None:
        on_today, newcomer = isinstance(self.screen, TodayScreen), never_played(self.context)
        if self.context.session.log.damage is not None:
            self.go(ToDamage())
        elif on_today and not newcomer:
            self.screen.read_anew()
        elif on_today or not newcomer:
            self.go(ToFirstStart() if newcomer else ToToday())

    def _guarded(self, what: Callable[[], None]) -> None:
        try:
            what()
        except Exception as fault:  # noqa: BLE001 - the game goes on, and a note tells what happened
            self._crashed(fault)

    def _turn(self) -> None:
        """A new picture at once when something happened, sixty a second while something moves, and otherwise only now
        and then; a note never waits for a frame.
        """
        happened = self.take_in(window_events())
        if self.running and self.picture.draw_if_due(self.screen, happened=happened):
            pygame.display.flip()
            self._tidy_memory()
        else:
            self._rest(self.context.clock.now_s())
            pygame.time.wait(_POLL_EVERY_MS)

    def _rest(self, now_s: float) -> None:
        """Where nobody plays for a while, other processes do what waited for that: once on each screen."""
        if self.screen.at_rest and self._arrived_s is not None and now_s - self._arrived_s >= AT_REST_AFTER_S:
            self._arrived_s = None
            self.context.session.rest()

    def _crashed(self, fault: Exception) -> None:
        """What was played is in the log, a note with the trace lies beside it, and Today comes back, or the shelf
        where Today itself failed. A second crash before anything was gone to is raised: that is broken, too.
        """
        note = self.context.session.write_crash_note(fault, screen=type(self.screen).__name__)
        if self._crashed_here:
            raise fault
        self._crashed_here = True
        self.context.session.log.flush()
        self.context.devices.sound.stop()
        self.picture.motion.end()
        self.screen = self._after_crash()
        self.screen.resized()
        said = say("crash.kept", file=note.name) if note else say("crash.not_kept")
        self.context.say(said)
        self._new_screen = True

    def _after_crash(self) -> BaseScreen:
        from game.screens.choosing.shelf_screen import ShelfScreen  # noqa: PLC0415 - the first frame does without

        return ShelfScreen(self.context) if isinstance(self.screen, TodayScreen) else TodayScreen(self.context)

    def _tidy_memory(self) -> None:
        """Collect garbage once a new screen stands, before anything is played on it: in the middle of a take a full
        collection would stop a frame for tens of milliseconds. What was laid out is then left alone.
        """
        if self._new_screen:
            self._new_screen = False
            gc.collect()
            gc.freeze()

    def take_in(self, events: Iterable[pygame.event.Event]) -> bool:
        """Let the screen answer what happened since the last call; returns whether anything did."""
        happened = False
        for event in events:
            meant = self.picture.on_screen(event)
            if meant is not None:
                self._take(meant)
                happened = True
        happened |= self._listen()
        arrived = self.context.window.look_at_imports(self.context.clock.now_s())
        if self.running:
            self.go(self.screen.tick(self.context.clock.now_s()))
            happened |= self._gather(resting=self.screen.at_rest and not happened)
            happened |= self._take_awaited()
        return happened or arrived

    def _take_awaited(self) -> bool:
        """Let files that an assignment waited for come in, never during a take; returns whether any did."""
        if not self.context.window.awaited.busy or self.screen.in_take:
            return False
        from game.screens.choosing.opened_assignment import take_awaited  # noqa: PLC0415 - the first frame needs none

        if not take_awaited(self.context):
            return False
        self.screen.read_anew()
        return True

    def _gather(self, *, resting: bool) -> bool:
        """Let what was done on the player's other computers, and what takes are judged to be by now, come in while the
        game rests; returns whether anything did.
        """
        session = self.context.session
        if not session.look_behind(self.context.clock.now_s(), resting=resting, in_take=self.screen.in_take):
            return False
        self.context.say_taken_over(session.begin_again())
        self.screen.read_anew()
        self._new_screen = True
        return True

    def _take(self, event: pygame.event.Event) -> None:
        if event.type in _BY_HAND:
            self.picture.motion.end()
        if event.type == pygame.QUIT:
            self.end()
        elif event.type == pygame.VIDEORESIZE:
            self.picture.resize(self.screen)
        elif event.type == pygame.AUDIODEVICEREMOVED:
            self._sound_device.removed(event)
        elif event.type == pygame.AUDIODEVICEADDED:
            self._sound_device.added(event, self.screen)
        elif event.type == pygame.DROPFILE:
            self.go(dropped(self.context, self.screen, Path(event.file)))
        elif not self.picture.take(event, self.screen):
            self.go(self.screen.handle(event))

    def open_files(self, paths: Iterable[Path]) -> None:
        """What the program was begun with: tunes as if dropped on the shelf, which opens them."""
        for path in paths:
            if not is_assignment(path):
                self.go(ToShelf())
            self.go(dropped(self.context, self.screen, path))

    def _listen(self) -> bool:
        heard = False
        if self.instrument_events is not None:
            self.instrument_events.report_changes(self.screen)
            for event in self.instrument_events.events():
                self._take_played(event)
                heard = True
        return heard

    def _take_played(self, event: "TakenEvent") -> None:
        """What happened on an instrument: the message goes first, then what it came to."""
        if isinstance(event, NoteStarted):
            self.note_started(event)
        elif isinstance(event, NoteRevised):
            self.screen.note_revised(event)
        elif isinstance(event, PedalPressed):
            self.screen.pedal_pressed(event.at_s)
        elif isinstance(event, RotatesChannels):
            self.context.say(say("device.mpe", device=event.device))
        elif isinstance(event, BendRangeInferred):
            self.context.say(say("device.bends_farther", device=event.device, semitones=event.semitones))
        else:
            self.screen.midi_message(event)

    def note_started(self, started: NoteStarted) -> None:
        """A note from an instrument."""
        self.picture.take_hold()
        self.go(self.screen.note_started(started))

    def go(self, route: Route | None) -> None:
        """Go where a screen leads; None stays."""
        if route is None:
            return
        if isinstance(route, Back):
            route = self._ways_back.back
        try:
            screen = self._screen_for(route)
        except HomefretError as error:
            self.context.say_error(error)
        else:
            if screen is None:
                self.running = False
                return
            if self.context.window.corner_taken:
                self.picture.turn_page(self.screen)
                self.context.window.corner_taken = False
            self.screen, self._crashed_here = screen, False
            self._ways_back = self._ways_back.gone(route)
            self._arrived_s = self.context.clock.now_s()
        self._hear_the_player_alone()
        self._mind_the_hands()
        self._sound_device.open_again(self.screen)
        trouble = self.context.session.log.trouble
        if trouble:
            self.context.say(as_sentence(tell(trouble)))
        self._new_screen = True

    def _screen_for(self, route: Route) -> BaseScreen | None:
        """The screen there, None out of the game."""
        # The first frame needs the shelf alone: all others are loaded with the first of them.
        from game.screens.router import screen_for  # noqa: PLC0415

        return screen_for(self.context, route, self._chance)

    def _hear_the_player_alone(self) -> None:
        """What still sounds of a line that was played ends where a take begins that would hear it."""
        if self.screen.in_take and self.context.hears_itself:
            self.context.devices.sound.strings.stop()

    def _mind_the_hands(self) -> None:
        """Between takes, now and then, advise a break."""
        now_s = self.context.clock.now_s()
        if now_s - self._rested_s >= REST_AFTER_S and not self.screen.in_take:
            self._rested_s = now_s
            self.context.say(say("care.rest"))

    def draw(self) -> None:
        """The picture of now."""
        self.picture.draw(self.screen)


def run(app: App, before_each_turn: Callable[[], None] = lambda: None) -> None:
    """Turn until the player leaves, or until what comes before a turn raises something."""
    sys.setswitchinterval(_SWITCH_INTERVAL_S)
    pygame.event.set_blocked(pygame.ACTIVEEVENT)
    pygame.event.set_allowed(pygame.MOUSEMOTION)
    while app.running:
        before_each_turn()
        app.turn()
