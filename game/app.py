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

from game.desk.sheet import Sheet
from game.errors import HomefretError
from game.instrument.decoding.played import BendRangeInferred, NoteRevised, NoteStarted, PedalPressed, RotatesChannels
from game.screens.base_screen import BaseScreen
from game.screens.choosing.first_screen import first_screen, never_played
from game.screens.choosing.import_words import import_told
from game.screens.choosing.today_screen import TodayScreen
from game.screens.context import ScreenContext
from game.screens.desk_motion import DeskMotion
from game.screens.key_hints import KeyHint
from game.screens.keys_sheet import draw_keys_sheet, keys_of
from game.screens.routes import Back, Route, ToAssignment, ToDamage, ToFirstStart, ToShelf, ToToday
from game.screens.ways_back import WaysBack
from game.screens.window_events import window_events
from game.screens.window_size import ORDINARY, back_to_window, fill_screen, fitted
from game.text.catalogue import as_sentence, say, tell

if TYPE_CHECKING:
    from game.instrument.ports.live_instrument import LiveEvent
    from game.screens.instrument_events import InstrumentEvents

FRAMES_A_SECOND = 60
_SWITCH_INTERVAL_S = 0.0005
_POLL_EVERY_MS = 1
# What changes by itself without moving, such as help that is due, is on screen after this at the latest.
_LOOK_EVERY_S = 0.2
# Five minutes' rest in each half hour is the usual advice (trade).
REST_AFTER_S = 25 * 60.0
AT_REST_AFTER_S = 10.0
"""On the shelf, or before the plan, for so long without a new screen: nobody is about to play this moment."""

_BY_HAND = (pygame.KEYDOWN, pygame.MOUSEBUTTONDOWN, pygame.VIDEORESIZE)
_ONLY_CLOSE = (pygame.K_ESCAPE, pygame.K_RETURN, pygame.K_KP_ENTER)


def open_window(size: tuple[int, int] = ORDINARY) -> pygame.Surface:
    """The window, drawn in software: the flip of an accelerated one costs several times as much for what we draw."""
    pygame.display.set_caption("Homefret")
    return pygame.display.set_mode(size, pygame.RESIZABLE)


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
        self.surface = surface
        self.context = context
        context.window.sheet = Sheet(surface.get_size())
        self.instrument_events: InstrumentEvents | None = None
        self._chance = chance or Random()
        self.screen = screen or first_screen(context)
        self.running = True
        self._keys_shown: tuple[KeyHint, ...] | None = None
        self._keys_drawn = False
        self._framed_size: tuple[int, int] | None = None
        self._ways_back = WaysBack()
        self._motion = DeskMotion(context)
        self._new_screen = False
        self._next_frame_s = self._next_look_s = 0.0
        self._rested_s = context.clock.now_s()
        self._sound_came = False
        self._crashed_here = False
        self._arrived_s: float | None = context.clock.now_s()

    def step(self, events: Iterable[pygame.event.Event]) -> None:
        """One frame: what happened, what it leads to, and the picture of it."""
        self.take_in(events)
        if self.running:
            self.draw()

    def turn(self) -> None:
        """One turn of the loop. Whatever nobody foresaw ends the screen, and not the game."""
        self._guarded(self._turn)

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
        now_s = self.context.clock.now_s()
        moving = now_s >= self._next_frame_s and (self.screen.moving or self._motion.moving(self.screen))
        if self.running and (happened or moving or now_s >= self._next_look_s):
            self.draw()
            pygame.display.flip()
            self._next_frame_s = now_s + 1 / FRAMES_A_SECOND
            self._next_look_s = now_s + _LOOK_EVERY_S
            self._tidy_memory()
        else:
            self._rest(now_s)
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
        self._motion.end()
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
            self._take(event)
            happened = True
        happened |= self._listen()
        arrived = self.context.window.look_at_imports(self.context.clock.now_s())
        if self.running:
            self.go(self.screen.tick(self.context.clock.now_s()))
            happened |= self._gather(resting=self.screen.at_rest and not happened)
        return happened or arrived

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
            self._motion.end()
        if event.type == pygame.QUIT:
            self.running = False
        elif event.type == pygame.VIDEORESIZE:
            self._resize()
        elif event.type == pygame.AUDIODEVICEREMOVED:
            self._sound_removed(event)
        elif event.type == pygame.AUDIODEVICEADDED:
            self._sound_came = not event.iscapture
            self._open_sound_again()
        elif event.type == pygame.DROPFILE:
            self._dropped(Path(event.file))
        else:
            self._handle(self._pressed(event))

    def _handle(self, event: pygame.event.Event) -> None:
        """A key, a click or the wheel, for the screen; or for the sheet of all keys, which goes with the next of them:
        a key that stands on it does what it says then.
        """
        pressed = event.type in (pygame.KEYDOWN, pygame.MOUSEBUTTONDOWN)
        if self._keys_shown is not None:
            if not pressed:
                return
            self._keys_shown = None
            self.screen.resized()
            if _asks_for_keys(event) or event.type == pygame.MOUSEBUTTONDOWN or event.key in _ONLY_CLOSE:
                return
        elif event.type == pygame.KEYDOWN and event.key == pygame.K_F11:
            self._turn_full_screen()
            return
        elif _asks_for_keys(event) and not (self.screen.typing and event.unicode):
            self._keys_shown, self._keys_drawn = keys_of(self.context), False
            self.screen.on_covered()
            return
        self.go(self.screen.handle(event))

    def _turn_full_screen(self) -> None:
        """The window fills the screen, or goes back to the size it had before."""
        if self._framed_size is None:
            self._framed_size = self.surface.get_size()
            fill_screen()
        else:
            back_to_window(self._framed_size)
            self._framed_size = None
        self._resize()

    def _pressed(self, event: pygame.event.Event) -> pygame.event.Event:
        """A click into the box of a key is the press of that key."""
        if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            press = self.context.window.press_at(event.pos)
            return press.event if press else event
        return event

    def open_files(self, paths: Iterable[Path]) -> None:
        """What the program was begun with: tunes as if dropped on the shelf, which opens them."""
        for path in paths:
            if not _is_assignment(path):
                self.go(ToShelf())
            self._dropped(path)

    def _dropped(self, path: Path) -> None:
        """Tunes are read beside whatever goes on; an assignment waits for the end of a take."""
        if not _is_assignment(path):
            self.context.say(import_told(self.context.window.imports.drop(path)))
        elif self.screen.in_take:
            self.context.say(say("assignment.later"))
        else:
            self.go(ToAssignment(path))

    def _sound_removed(self, event: pygame.event.Event) -> None:
        """A sound device was taken away: where it was ours, everything goes on in silence, and says so."""
        sound = self.context.devices.sound
        if sound.is_on(event.which, is_capture=bool(event.iscapture)):
            sound.device_lost()
            self.context.say_sound()

    def _open_sound_again(self) -> None:
        """A sound device came: where nothing is heard it is opened, but never in the middle of a take."""
        if not self._sound_came or self.screen.in_take:
            return
        self._sound_came = False
        devices = self.context.devices
        if not devices.sound.sounds:
            devices.sound = devices.sound.opened_again()
            if devices.sound.sounds:
                self.context.say(say("sound.back"))

    def _resize(self) -> None:
        surface = pygame.display.get_surface()
        size = fitted(surface.get_size())
        if size != surface.get_size():
            if size[0] < surface.get_width() or size[1] < surface.get_height():
                self.context.say(say("window.too_large", width=size[0], height=size[1]))
            surface = open_window(size)
        self.surface = surface
        self.context.window.sheet = Sheet(surface.get_size())
        self._keys_shown = None
        self.screen.resized()

    def _listen(self) -> bool:
        heard = False
        if self.instrument_events is not None:
            self.instrument_events.report_changes(self.screen)
            for event in self.instrument_events.events():
                self._take_played(event)
                heard = True
        return heard

    def _take_played(self, event: "LiveEvent") -> None:
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
        self._motion.end()
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
                self._motion.turn_page(self.surface, self.screen)
                self.context.window.corner_taken = False
            self.screen, self._crashed_here = screen, False
            self._ways_back = self._ways_back.gone(route)
            self._arrived_s = self.context.clock.now_s()
        self._mind_the_hands()
        self._open_sound_again()
        trouble = self.context.session.log.trouble
        if trouble:
            self.context.say(as_sentence(tell(trouble)))
        self._new_screen = True

    def _screen_for(self, route: Route) -> BaseScreen | None:
        """The screen there, None out of the game."""
        # The first frame needs the shelf alone: all others are loaded with the first of them.
        from game.screens.router import screen_for  # noqa: PLC0415

        return screen_for(self.context, route, self._chance)

    def _mind_the_hands(self) -> None:
        """Between takes, now and then, advise a break."""
        now_s = self.context.clock.now_s()
        if now_s - self._rested_s >= REST_AFTER_S and not self.screen.in_take:
            self._rested_s = now_s
            self.context.say(say("care.rest"))

    def draw(self) -> None:
        """The picture of now."""
        context = self.context
        if self._keys_shown is not None:
            if not self._keys_drawn:
                self._motion.draw(self.screen, self.surface)
                draw_keys_sheet(context, self.surface, self._keys_shown)
                self._keys_drawn = True
            return
        self._motion.draw(self.screen, self.surface)


def _is_assignment(path: Path) -> bool:
    return path.suffix.casefold() == ".toml"


def _asks_for_keys(event: pygame.event.Event) -> bool:
    """Whether a key asks for all keys of the screen."""
    return event.type == pygame.KEYDOWN and (event.key == pygame.K_F1 or event.unicode == "?")


def run(app: App) -> None:
    """Turn until the player leaves."""
    sys.setswitchinterval(_SWITCH_INTERVAL_S)
    pygame.event.set_blocked((pygame.MOUSEMOTION, pygame.ACTIVEEVENT))
    while app.running:
        app.turn()
