"""What the pages of both stages share: the view, the look, moving to other bars, leaving."""

from collections.abc import Callable
from dataclasses import replace

import pygame

from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.sources.computer_keys import ComputerKey, played_by
from game.neck.neck_map import NeckMap
from game.practice.free_string import FreeString
from game.practice.take_recorder import NECK_SOURCE
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.by_ear import BY_EAR_KEY, by_ear_keys, change_by_ear
from game.screens.reading.look_keys import change_look
from game.screens.reading.page_view import PageView, stage_in_words
from game.screens.routes import Destination, TakeRequest, ToPage
from game.text.catalogue import say


class PageScreen(BaseScreen):
    """A page being read. Stages say what their keys and notes mean."""

    reading = True

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        super().__init__(around)
        self.tune = tune
        self._string = FreeString()
        self._tell_how_by_hand()
        self.view = PageView(
            around=around,
            passage=tune.passage,
            neck_map=tune.neck_map,
            stage_name=stage_in_words(tune),
            neck_shown=not around.instrument_present,
        )

    @property
    def moving(self) -> bool:
        return self.view.moving

    def hear(self, event: NoteStarted) -> Destination | None:
        """A note from an instrument: the free open string commands, everything else is for the stage."""
        if self._string.took(event.note, self.tune.neck_map):
            return None
        return self.heard(event)

    def revise(self, event: NoteRevised) -> None:
        self._string.revised(event.before, event.after, self.tune.neck_map)
        self.revised(event)

    def revised(self, event: NoteRevised) -> None:
        """A note that may have answered something turns out to be another, or none."""

    def pressed(self, at_s: float) -> None:
        self._string.pressed(at_s)

    def heard(self, event: NoteStarted) -> Destination | None:
        """A note that may answer something."""
        raise NotImplementedError

    def tick(self, now_s: float) -> Destination | None:
        meant = self._string.meant(now_s)
        commanded = self.commanded(meant, now_s) if meant else None
        return commanded or self.passed(now_s)

    def commanded(self, plucks: int, now_s: float) -> Destination | None:  # noqa: ARG002 - for the stages
        """The free string was plucked so often: twice ends the take in every stage."""
        return self.stop() if plucks == _STOP_PLUCKS else None

    def passed(self, now_s: float) -> Destination | None:  # noqa: ARG002
        """Time has passed."""
        return None

    def stop(self) -> Destination:
        """Leave the take where it is; what was read is shown, and nothing read leads to the shelf."""
        raise NotImplementedError

    def _tell_how_by_hand(self) -> None:
        """Once, where no instrument is there and nothing more urgent is being said."""
        around = self.around
        silent = around.told_how_by_hand or around.instrument_present or around.message_shown
        if around.listens and not silent:
            around.told_how_by_hand = True
            around.say(say("page.by_hand"))

    def resized(self) -> None:
        self.view.resized()

    def tell_keys(self, *keys: tuple[str, str]) -> None:
        """Tell the keys at the foot: the stage's own, by `foot_keys`, then what fits of the rest."""
        self.view.keys = (*keys, *by_ear_keys(self.around, self.tune))

    def draw(self, surface: pygame.Surface) -> bool:
        return self.view.draw(surface)

    def handle_common(self, event: pygame.event.Event) -> Destination | None:
        """Keys that mean the same on every page."""
        if change_look(event, self.around):
            self.view.look_changed()
        elif event.type == pygame.KEYDOWN:
            return self._command(event.key)
        return None

    def _command(self, key: int) -> Destination | None:
        """The key's meaning: leave, show the neck, or another page of this tune."""
        if key == pygame.K_ESCAPE:
            return self.stop()
        if key == pygame.K_F1:
            self.view.neck_shown = not self.view.neck_shown
        if key == BY_EAR_KEY:
            # The page is laid anew: a take is one or the other from its beginning.
            return ToPage(self.tune, chosen=True) if change_by_ear(self.around, self.tune) else None
        turned = self._turned(key)
        if turned is None or (turned == self.tune and key != pygame.K_RETURN):
            return None
        return ToPage(turned, chosen=key not in (pygame.K_LEFT, pygame.K_RIGHT))

    def _turned(self, key: int) -> TakeRequest | None:
        """The tune as another key of the page wants it."""
        tune = self.tune
        turns: dict[int, Callable[[], TakeRequest]] = {
            pygame.K_F4: tune.whole_or_passages,
            pygame.K_TAB: tune.next_stage,
            pygame.K_RETURN: lambda: replace(tune, reason=()),
            pygame.K_LEFTBRACKET: lambda: tune.with_bars(-1),
            pygame.K_RIGHTBRACKET: lambda: tune.with_bars(1),
            pygame.K_j: tune.by_the_click,
            pygame.K_LEFT: lambda: tune.moved(-1),
            pygame.K_RIGHT: lambda: tune.moved(1),
        }
        return turns[key]() if key in turns else None

    def played_by_hand(self, event: pygame.event.Event) -> PlayedNote | None:
        """The note a click on the neck plays, or a key of the left half of the keyboard; None for everything else. It
        is heard, for no instrument sounds it.
        """
        played = self._by_key(event) if event.type == pygame.KEYDOWN else self._by_mouse(event)
        if played is not None and self.around.sound is not None:
            self.around.sound.pluck(played.sounding)
        return played

    def _by_key(self, event: pygame.event.Event) -> PlayedNote | None:
        neck_map = self.tune.neck_map
        return played_by(
            ComputerKey(event.scancode, shift=bool(event.mod & pygame.KMOD_SHIFT)),
            at_s=self.around.clock.now_s(),
            position=neck_map.position,
            tuning=neck_map.tuning,
            frets=neck_map.frets,
        )

    def _by_mouse(self, event: pygame.event.Event) -> PlayedNote | None:
        neck = self.view.neck
        if neck is None or event.type != pygame.MOUSEBUTTONDOWN or event.button != 1:
            return None
        place = neck.place_at(event.pos)
        if place is None:
            return None
        sounding = self.tune.neck_map.tuning.sounding(place)
        return PlayedNote(started_s=self.around.clock.now_s(), sounding=sounding, place=place, source=NECK_SOURCE)


_STOP_PLUCKS = 2

# The most needed first: at the foot of a small window there is not room for all.
COMMON_KEYS = (
    ("keys.escape", "keys.stop"),
    ("keys.tab", "keys.stage"),
    ("keys.arrows", "keys.passage"),
    ("F1", "keys.neck"),
    ("F4", "keys.whole"),
    ("[ ]", "keys.bars"),
    ("F2", "keys.look"),
)


def foot_keys(*own: tuple[str, str]) -> tuple[tuple[str, str], ...]:
    """The line of keys at the foot of a page: the stage's own first, then the common ones."""
    return tuple((say(key) if key.startswith("keys.") else key, say(meaning)) for key, meaning in (*own, *COMMON_KEYS))


def free_string_keys(around: ScreenContext, neck_map: NeckMap, meaning: str) -> tuple[tuple[str, str], ...]:
    """What the free open string does here, for a player with a guitar in hand; nothing where no string is free."""
    free = neck_map.free_string
    if free is None or not around.instrument_present:
        return ()
    return ((say("free.open", ordinal=say(f"ordinal.{free.string}")), say(meaning)),)
