"""What every screen is: it is told what happens, and says where that leads, if anywhere."""

from collections.abc import Collection
from dataclasses import replace
from typing import ClassVar, Protocol

import pygame

from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.neck.neck_map import NeckMap
from game.practice.free_string import STOP_PLUCKS, FreeString
from game.screens.context import ScreenContext
from game.screens.look_keys import change_look
from game.screens.routes import Route
from game.screens.tabbed_sheet import ENTER, ESCAPE, SheetTab, route_of_tab
from game.text.catalogue import say

# More than begin before one of them is told for good.
_LATELY = 16


class ScreenView(Protocol):
    """What is seen of a screen whose picture is drawn by another."""

    @property
    def moving(self) -> bool:
        """Whether the picture changes from frame to frame now."""
        ...

    def resized(self) -> None:
        """The window or the look has changed."""
        ...

    def appearance_changed(self) -> None:
        """The look, the music face or the size of the staff was changed."""
        ...

    def draw(self, surface: pygame.Surface) -> bool:
        """Draw what has changed; returns whether the whole window was drawn anew."""
        ...


class NoteInput(Protocol):
    """How notes are played without an instrument."""

    def note_of_key(self, event: pygame.event.Event) -> PlayedNote | None:
        """The note of a key, None for a key that is none."""
        ...

    def note_of_click(self, at: tuple[int, int]) -> PlayedNote | None:
        """The note of a click, None for a click that is none."""
        ...


class _OwnPicture:
    """A screen that draws itself: it says so by a `draw` of its own."""

    moving = False

    def resized(self) -> None:
        """Nothing."""

    def appearance_changed(self) -> None:
        """Nothing."""

    def draw(self, surface: pygame.Surface) -> bool:
        """Of the screen itself."""
        raise NotImplementedError


class _NoInput:
    """Every key and click is a command."""

    def note_of_key(self, event: pygame.event.Event) -> PlayedNote | None:
        """None."""

    def note_of_click(self, at: tuple[int, int]) -> PlayedNote | None:
        """None."""


class BaseScreen:
    """One screen. By default nothing happens on it by itself, and noodling is heard and ignored.

    The app calls the methods of the first half. Screens say what things mean to them by the `on_…` of the second half:
    where a key, a note, a gesture of the guitar or the time leads, None for staying here.

    A page puts a picture that is drawn by another in the place of `_picture`, and in that of `_manual_input` how it is
    played without an instrument; other screens draw themselves, and every key and click is a command.

    `tab` is that of a sheet that has tabs: the letters of all tabs lead from there. `typing` while letters are words.
    `in_take` while a take is going on, `at_rest` where nobody plays at all. `free_string_commands` where the free open
    string is no note but a gesture; a pedal is one everywhere. `takes_unsure` where notes are wanted, too, of which
    nobody knows surely what they were; `in_line` while a line is being read, in which a string is touched by accident
    now and then.
    """

    tab: ClassVar[SheetTab | None] = None
    in_take = False
    at_rest = False
    free_string_commands = False
    takes_unsure = False

    def __init__(
        self, context: ScreenContext, neck_map: NeckMap | None = None, *, written: Collection[int] = ()
    ) -> None:
        """`written` are the sounding pitches that are asked for here: no string that sounds one is free."""
        self.context = context
        self._neck_map = neck_map
        self._picture: ScreenView = _OwnPicture()
        self._manual_input: NoteInput = _NoInput()
        self._string = FreeString(written)
        # What was heard of late on this screen, whatever it was taken for: only that can turn out otherwise here.
        self._heard_here: list[PlayedNote] = []
        # What is said while a take waits for its instrument.
        self._said_waiting: str | None = None

    @property
    def neck_map(self) -> NeckMap:
        """The map that holds on this screen."""
        return self._neck_map or self.context.settings.neck_map()

    @property
    def moving(self) -> bool:
        """Whether the picture changes from frame to frame now."""
        return self._picture.moving

    @property
    def part(self) -> str:
        """Which of its pictures is in sight, where a screen has several that leave different room for a message."""
        return ""

    @property
    def in_line(self) -> bool:
        """Whether a line is being read now. Of plucks of the free string that were only heard one is none there, and
        several are the command to stop: one of them may have been missed.
        """
        return False

    @property
    def typing(self) -> bool:
        """Whether letters are words now, and no commands."""
        return False

    def handle(self, event: pygame.event.Event) -> Route | None:
        """A key, a click or the wheel."""
        self.context.window.corner_taken = self.context.window.leads_by_corner(event)
        if change_look(event, self.context):
            self._picture.appearance_changed()
            self.resized()
            return None
        if event.type == pygame.KEYDOWN:
            if self.tab is not None and not self.typing and (route := route_of_tab(event.key)):
                return route
            played = self._manual_input.note_of_key(event)
            return self.on_key(event) if played is None else self.play(played)
        if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            played = self._manual_input.note_of_click(event.pos)
            return self.on_click(event.pos) if played is None else self.play(played)
        return self.on_wheel(event.y) if event.type == pygame.MOUSEWHEEL else None

    def note_started(self, event: NoteStarted) -> Route | None:
        """A note from whatever is played on."""
        self.context.window.corner_taken = False
        self._keep_in_mind(event.note)
        gesture = self.free_string_commands and self._string.hear_note(event.note, self.neck_map)
        return self.on_note(event) if not gesture and self._tells(event.note) else None

    def _keep_in_mind(self, note: PlayedNote) -> None:
        """What is heard here may turn out otherwise here."""
        if note.heard:
            self._heard_here = [*self._heard_here[1 - _LATELY :], note]

    def _tells(self, note: PlayedNote) -> bool:
        """Whether a note is known well enough to be one here."""
        return note.sure or self.takes_unsure

    def _is_gesture(self, note: PlayedNote) -> bool:
        return self.free_string_commands and self._string.is_free(note, self.neck_map)

    def play(self, played: PlayedNote) -> Route | None:
        """A note, by hand or from an instrument. Whatever plays on answers for an instrument that went away."""
        if self._said_waiting is not None:
            self._said_waiting = None
            self.on_instrument_back(played.started_s)
        return self.on_played(played)

    def note_revised(self, event: NoteRevised) -> None:
        """A note that was heard turns out to be another, or none: one that was none here may be one now, and the other
        way about.
        """
        before, after = event.before, event.after
        if before.heard and before not in self._heard_here:
            return
        if before.heard:
            self._heard_here.remove(before)
            self._heard_here += [after] if after else []
        if self.free_string_commands:
            self._string.revise(before, after, self.neck_map)
        if not before.heard:
            self.on_revised(event)
            return
        was_one = self._tells(before) and not self._is_gesture(before)
        is_one = after is not None and self._tells(after) and not self._is_gesture(after)
        if was_one:
            self.on_revised(event if is_one else replace(event, after=None))
        elif is_one and after is not None and self.in_take:
            self.on_note(NoteStarted(note=after, channel=event.channel))

    def pedal_pressed(self, at_s: float) -> None:
        """A pedal was pressed."""
        self.on_pedal(at_s)

    def midi_message(self, stamped: StampedMessage) -> None:
        """A message as an instrument sent it."""
        self.on_message(stamped)

    def device_lost(self, name: str, *, was_playing: bool) -> None:
        """An instrument went away; `was_playing` when it was the one listened to: then a take waits for it."""
        if self._said_waiting is not None or (was_playing and self.on_instrument_lost(self.context.clock.now_s())):
            self._said_waiting = self.waiting_words(name)
        self.context.say(self._said_waiting or say("device.lost", device=name))

    def waiting_words(self, device: str) -> str:
        """What is said while a take waits for its instrument, which was called `device`."""
        return say("page.waits", device=device)

    def device_to_be_wired(self, name: str) -> None:
        """A program came that is heard once somebody wires it to our port: until then a take waits on."""
        said = say("device.wire", device=name)
        if self._said_waiting is not None:
            self._said_waiting = said
        self.context.say(said)

    def device_found(self, name: str) -> None:
        """An instrument came, or came back."""
        if self._said_waiting is None:
            self.context.say(say("device.found", device=name))
            return
        self._said_waiting = None
        self.on_instrument_back(self.context.clock.now_s())
        self.context.say(say("page.back", device=name))

    def tick(self, now_s: float) -> Route | None:
        """Time has passed."""
        self.context.window.corner_taken = False
        plucks = self._string.command_by(now_s)
        if plucks and self.in_line and self._string.meant_by_sound:
            plucks = 0 if plucks == 1 else STOP_PLUCKS
        route = self.on_gesture(plucks, now_s) if plucks else None
        if self._said_waiting is not None:
            self.context.say(self._said_waiting)
        return route or self.on_tick(now_s)

    def resized(self) -> None:
        """The window or the look has changed; nothing of a take is lost."""
        self._picture.resized()

    def read_anew(self) -> None:
        """More is known of the player than before, and settings may be others: a screen that is `at_rest` shows it."""
        self.resized()

    def draw(self, surface: pygame.Surface) -> bool:
        """Draw what has changed; returns whether the whole window was drawn anew."""
        return self._picture.draw(surface)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        """A key."""

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """The left button of the mouse."""

    def on_wheel(self, up: int) -> Route | None:
        """The wheel, so many notches away from the player."""

    def on_note(self, event: NoteStarted) -> Route | None:
        """A note from an instrument that is no gesture."""
        return self.play(event.note)

    def on_played(self, played: PlayedNote) -> Route | None:
        """A note, by hand or from an instrument."""

    def on_revised(self, event: NoteRevised) -> None:
        """A note turns out to be another, or none."""

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - for the takes
        """The free string was plucked, or a pedal pressed, once, twice or three times: by default it does what the
        corner does, and goes back.
        """
        press = {1: ENTER, 2: ESCAPE}.get(plucks)
        return self.handle(press.event) if press else None

    def on_pedal(self, at_s: float) -> None:
        """A pedal: by default it counts as a pluck of the free string."""
        self._string.hear_pedal(at_s)

    def on_message(self, stamped: StampedMessage) -> None:
        """A message as an instrument sent it: for the screens that set instruments up."""

    def on_covered(self) -> None:
        """The sheet of all keys now lies on this screen."""

    def on_tick(self, now_s: float) -> Route | None:
        """Time has passed."""

    def on_instrument_lost(self, now_s: float) -> bool:  # noqa: ARG002 - for the takes
        """The instrument listened to went away. Whether a take waits for it now."""
        return False

    def on_instrument_back(self, now_s: float) -> None:
        """The instrument is back, or another plays on: a take that waited goes on."""
