"""The keys that mean the same on every page, and how the foot of the page tells keys."""

from collections.abc import Callable, Collection
from dataclasses import replace

import pygame

from game.neck.neck_map import NeckMap
from game.practice.free_string import free_string_of
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.free_string_words import free_string_in_words
from game.screens.key_hints import MORE_KEYS, KeyHint, NamedKey, key_hints, on_sheet
from game.screens.reading.known_by_ear_key import KNOWN_BY_EAR_KEY, known_by_ear_hint, toggle_known_by_ear
from game.screens.reading.page_view import PageView
from game.screens.reading.without_places import no_free_reading, tells_places
from game.screens.routes import Route, ToPage
from game.text.catalogue import say

_STOP = ("keys.escape", "keys.stop")
COMMON_KEYS = (
    ("keys.tab", "keys.stage"),
    ("keys.arrows", "keys.passage"),
    ("F12", "keys.neck"),
    ("F4", "keys.whole"),
    ("[ ]", "keys.bars"),
    ("F2", "keys.look"),
    ("F3", "keys.face"),
    ("F6 F7", "keys.size"),
)

# Signs stand on other keys, some with Shift or AltGr, on other keyboards: they are known by what they write.
_SIGNS = "[]-=+.,;"


class PageKeys:
    """The common keys of one page. `stop` leaves the take where it is, and says where that leads."""

    def __init__(self, context: ScreenContext, request: TakeRequest, view: PageView, stop: Callable[[], Route]) -> None:
        self._context, self._request, self._view, self._stop = context, request, view, stop

    def tell(self, *keys: KeyHint) -> None:
        """Tell the keys, as `foot_keys` makes them, and that of what is known by ear."""
        self._view.keys = (*keys, *on_sheet((*self._free_reading, *known_by_ear_hint(self._context, self._request))))

    @property
    def _free_reading(self) -> tuple[KeyHint, ...]:
        """What the key of free reading does now; nothing where pitch and rhythm are not asked together."""
        if not self._request.can_be_free:
            return ()
        return key_hints((";", "keys.at_homes" if self._request.free_reading else "keys.any_place"))

    def on_key(self, event: pygame.event.Event) -> Route | None:
        """The key's meaning: leave, show the neck, or another page of this tune."""
        key, request = key_meant(event), self._request
        if key == pygame.K_ESCAPE:
            return self._stop()
        if key == pygame.K_F12:
            self._view.neck_shown = not self._view.neck_shown
            if request.tempo_bpm is not None:
                self._context.window.neck_in_time = self._view.neck_shown
        if key == pygame.K_SEMICOLON and request.can_be_free and not tells_places(self._context):
            self._view.status = no_free_reading(self._context)
            return None
        if key == KNOWN_BY_EAR_KEY:
            # The page is laid anew: a take is one or the other from its beginning.
            return ToPage(request, chosen=True) if toggle_known_by_ear(self._context, request) else None
        turned = self._turned(key)
        if turned is None or (turned == request and key != pygame.K_BACKSPACE):
            return None
        return ToPage(turned, chosen=key not in (pygame.K_LEFT, pygame.K_RIGHT))

    def _turned(self, key: int) -> TakeRequest | None:
        """What another key of the page asks for."""
        request = self._request
        turns: dict[int, Callable[[], TakeRequest]] = {
            pygame.K_F4: request.whole_or_passages,
            pygame.K_TAB: request.next_stage,
            pygame.K_BACKSPACE: lambda: replace(request, reason=()),
            pygame.K_LEFTBRACKET: lambda: request.with_bars(-1),
            pygame.K_RIGHTBRACKET: lambda: request.with_bars(1),
            pygame.K_PERIOD: request.by_the_click,
            pygame.K_SEMICOLON: request.freely,
            pygame.K_LEFT: lambda: request.moved(-1),
            pygame.K_RIGHT: lambda: request.moved(1),
        }
        if request.stage.once_through:
            del turns[pygame.K_PERIOD]
        return turns[key]() if key in turns else None


def key_meant(event: pygame.event.Event) -> int:
    """The key of a press, by its name on an American keyboard where it writes a sign. Both Enter keys are one; a plus
    shares its key with = there.
    """
    if event.key == pygame.K_KP_ENTER:
        return pygame.K_RETURN
    if event.unicode == "+":
        return pygame.K_EQUALS
    return ord(event.unicode) if event.unicode and event.unicode in _SIGNS else event.key


def foot_keys(*own: NamedKey, last: tuple[NamedKey, ...] = ()) -> tuple[KeyHint, ...]:
    """The keys of a page: at its foot the stage's own and the one that stops, and where the others are told: the common
    ones, and the stage's `last`.
    """
    others = (*(key for key in COMMON_KEYS if key not in own), *last)
    at_foot = (*own, *(key for key in (_STOP, MORE_KEYS) if key not in own))
    return (*key_hints(*at_foot), *on_sheet(key_hints(*others)))


def neck_key(context: ScreenContext) -> tuple[NamedKey, ...]:
    """The key of the neck, which `foot_keys` is to tell among the first where there is nothing else to play on."""
    return () if context.devices.instruments.present or not context.listens else (("F12", "keys.neck"),)


def still_key(context: ScreenContext) -> NamedKey:
    """The key that makes music stand still, or move again."""
    return "F10", "keys.moving" if context.settings.still else "keys.still"


def free_string_keys(
    context: ScreenContext, neck_map: NeckMap, meaning: str, written: Collection[int] = ()
) -> tuple[KeyHint, ...]:
    """What the free open string does here, for a player with a guitar in hand; nothing where no string is free, also
    because one of the pitches that are `written` is its own.
    """
    free = free_string_of(neck_map, written)
    if free is None or not context.devices.instruments.present:
        return ()
    return (KeyHint((free_string_in_words(context, neck_map, free),), say(meaning)),)


def string_keys(
    context: ScreenContext, neck_map: NeckMap, meaning: str, written: Collection[int] = (), *, begins: bool
) -> tuple[KeyHint, ...]:
    """The same, and before it that the first note begins, while it does."""
    free = free_string_keys(context, neck_map, meaning, written)
    begin = (
        (KeyHint((say("free.first_note"),), say("keys.begin")),)
        if begins and context.devices.instruments.present
        else ()
    )
    return (*begin, *free)
