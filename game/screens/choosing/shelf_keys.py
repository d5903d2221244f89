"""The keys of the shelf: where they lead, and how the foot of the page tells them."""

import pygame

from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import (
    Leave,
    Route,
    ToFreshLine,
    ToFromPaper,
    ToInstruments,
    ToMap,
    ToPlayers,
    ToProgress,
    ToSettings,
    ToToday,
)

ROUTE_OF_KEY: dict[int, Route] = {
    pygame.K_ESCAPE: Leave(),
    pygame.K_n: ToFreshLine(),
    pygame.K_e: ToFromPaper(),
    pygame.K_m: ToMap(),
    pygame.K_s: ToSettings(),
    pygame.K_i: ToInstruments(),
    pygame.K_p: ToPlayers(),
    pygame.K_t: ToToday(),
    pygame.K_g: ToProgress(),
}
_LEADING = (
    ("T", "keys.today"),
    ("N", "keys.fresh_line"),
    ("E", "keys.from_paper"),
    ("G", "keys.progress"),
    ("M", "keys.map"),
    ("I", "keys.instruments"),
    ("S", "keys.settings"),
)
_CHOOSING = (("keys.updown", "keys.choose"), ("keys.enter", "keys.open"))
_WITH_TUNES = (
    ("F", "keys.first_sight"),
    ("A", "keys.import_summary"),
    ("/", "keys.search"),
    ("O", "keys.order"),
    ("keys.ctrl_o", "keys.files"),
)


def route_hints(*, several_players: bool, refused: bool = False) -> tuple[KeyHint, ...]:
    """The row of other places to go; players are told of only where there are several, what was not read only where
    files were `refused`.
    """
    keys = (*_LEADING, ("P", "keys.players")) if several_players else _LEADING
    return key_hints(*keys, ("R", "keys.not_read")) if refused else key_hints(*keys)


def shelf_hints(*, typing: bool, searched: bool, reading: bool = False) -> tuple[KeyHint, ...]:
    """The row of what is done with the tunes. While a search is typed letters are words; Esc ends what was
    `searched`, then the `reading` of files, before it ends the game.
    """
    keys = _CHOOSING if typing else (*_CHOOSING, *_WITH_TUNES)
    ends = "keys.stop_reading" if reading else "keys.leave"
    return key_hints(*keys, ("keys.escape", "keys.all" if typing or searched else ends))
