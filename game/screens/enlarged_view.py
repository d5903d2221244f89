"""The part of a screen that the window shows where all of it is drawn larger than the window: the setting text size.

It follows what the screen says matters, until the mouse comes near an edge or a key moves it; then it stays there until
something else matters, or a key or a note brings it back.
"""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.part_in_view import between, kept_on, moved_to, pulled
from game.desk.sheet import Sheet
from game.screens.context import ScreenContext

STRIP_HEIGHT: Final = 56.0
"""What the strip of keys below the part in view takes, in units of the larger size."""

MOST_DOTS: Final = 15_000_000
"""A sheet with more dots than that is drawn with half as many each way, each of them two by two pixels: 7680x4320 would
take 133 MB, and as much again for its paper. Two 1440p windows side by side and high are just below.
"""

_GLIDE_S = 0.25
_AIR = 20.0
# In widths of the part: how far the mouse pulls it in a second, and how far it goes by a key, or on a still desk.
_PULL_PER_S, _BY_KEY = 1.2, 0.5
_STILL_PAUSE_S = 0.8
# After a frame that took long the part does not leap.
_LONGEST_PULL_S = 0.1
_KEYS: Final = {pygame.K_LEFT: (-1, 0), pygame.K_RIGHT: (1, 0), pygame.K_UP: (0, -1), pygame.K_DOWN: (0, 1)}


@dataclass
class _Glide:
    """The way of the part: where it comes from, where it goes, and since when."""

    came_from: pygame.Rect
    goes_to: pygame.Rect
    since_s: float = float("-inf")

    def part_at(self, now_s: float) -> pygame.Rect:
        """The part at a moment."""
        return between(self.came_from, self.goes_to, min(1.0, max(0.0, (now_s - self.since_s) / _GLIDE_S)))

    def moving(self, now_s: float) -> bool:
        """Whether it is still on its way."""
        return self.came_from != self.goes_to and now_s - self.since_s < _GLIDE_S + 0.05


class EnlargedView:
    """The sheet, `surface`, and the part of it that is seen. At 100 % the sheet is the window itself."""

    def __init__(self, context: ScreenContext, window: pygame.Surface) -> None:
        self._context = context
        self.fit(window)

    def fit(self, window: pygame.Surface) -> None:
        """The window, or the text size, is another."""
        self._window, self.text_size = window, self._context.settings.text_size
        self.dots, self.surface = 1, window
        (width, height), factor = window.get_size(), self.text_size / 100
        self.enlarged_sheet = Sheet(window.get_size(), factor)
        """For what is drawn on the window itself, as large as what is seen of the sheet."""
        if self.enlarged:
            self.dots = 1 if width * height * factor * factor <= MOST_DOTS else 2
            size = round(width * factor / self.dots), round(height * factor / self.dots)
            self.surface = pygame.Surface(size, 0, window)
        self._context.window.sheet = Sheet(self.surface.get_size())
        seen = -(-width // self.dots), -(-self.height // self.dots)
        self._context.window.seen_px = seen if self.enlarged else None
        self._glide = _Glide(pygame.Rect((0, 0), seen), pygame.Rect((0, 0), seen))
        self._held = self._glide.goes_to
        self._screen: object = None
        self._told: object = None
        self._follows = True
        self._mouse: tuple[int, int] | None = None
        self._pulled_s = 0.0

    @property
    def enlarged(self) -> bool:
        """Whether the sheet is larger than the window."""
        return self.text_size > 100

    @property
    def outdated(self) -> bool:
        """Whether another text size is wished for than the one that is shown."""
        return self.text_size != self._context.settings.text_size

    @property
    def canvas(self) -> Canvas:
        """Where to draw on the window itself."""
        return Canvas(self._window, self.enlarged_sheet, self._context.theme)

    @property
    def height(self) -> int:
        """How many pixels of the window show the sheet: those below belong to the strip."""
        return self._window.get_height() - self.enlarged_sheet.px(STRIP_HEIGHT if self.enlarged else 0)

    @property
    def _sheet(self) -> pygame.Rect:
        return self.surface.get_rect()

    def moving(self, now_s: float) -> bool:
        """Whether the part is on its way."""
        return self.enlarged and (self._glide.moving(now_s) or self._mouse is not None)

    def part(self, now_s: float) -> pygame.Rect:
        """What is seen of the sheet, in its pixels."""
        return self._glide.part_at(now_s)

    def on_sheet(self, at: tuple[int, int], now_s: float) -> tuple[int, int]:
        """The pixel of the sheet under a pixel of the window."""
        part = self.part(now_s)
        return part.left + at[0] // self.dots, part.top + at[1] // self.dots

    def follow(self, screen: object, now_s: float) -> None:
        """Go where the screen that was drawn says that it matters. Another screen is seen from its beginning."""
        followed, glide = self._context.window.followed, self._glide
        new = screen is not self._screen
        if new:
            start = pygame.Rect((0, 0), glide.goes_to.size)
            glide.came_from = glide.goes_to = start
            self._screen, self._mouse = screen, None
        if new or followed != self._told:
            self._told, self._follows, self._held = followed, True, glide.goes_to
        self._pull(now_s)
        if self._follows and followed is not None:
            air = self._context.sheet.px(_AIR)
            self._held = moved_to(self._held, self._sheet, followed, air)
            self._go_to(self._held, now_s, at_once=new)

    def follow_again(self) -> None:
        """The player does something with the screen: the part in view goes back to where it followed what matters."""
        self._follows, self._mouse = True, None

    def mouse_at(self, at: tuple[int, int] | None, now_s: float) -> None:
        """The mouse was moved there, or out of the window: near an edge it pulls the part."""
        if self.enlarged:
            self._mouse = at if at is not None and any(pulled(at, self._pull_room)) else None
            self._pulled_s = max(self._pulled_s, now_s)

    def move_by_key(self, key: int, now_s: float) -> bool:
        """Move the part by an arrow; returns whether it was one."""
        way = _KEYS.get(key)
        if not self.enlarged or way is None:
            return False
        self._follows, self._mouse = False, None
        self._move(way, _BY_KEY, now_s)
        return True

    @property
    def _pull_room(self) -> tuple[int, int]:
        return self._window.get_width(), self.height

    def _move(self, way: tuple[float, float], by: float, now_s: float, *, at_once: bool = False) -> None:
        """Move the part by a share of what it shows."""
        goes_to = self._glide.goes_to
        moved = goes_to.move(round(way[0] * by * goes_to.width), round(way[1] * by * goes_to.height))
        self._go_to(kept_on(moved, self._sheet), now_s, at_once=at_once)

    def _pull(self, now_s: float) -> None:
        """The mouse near an edge moves the part as long as there is more; on a still desk half a part at a time."""
        if self._mouse is None or now_s < self._pulled_s:
            return
        way, before = pulled(self._mouse, self._pull_room), self._glide.goes_to
        if self._context.settings.still_desk:
            self._pulled_s = now_s + _STILL_PAUSE_S
            self._move(((way[0] > 0) - (way[0] < 0), (way[1] > 0) - (way[1] < 0)), _BY_KEY, now_s)
        else:
            by = _PULL_PER_S * min(_LONGEST_PULL_S, now_s - self._pulled_s)
            if max(abs(way[0]) * before.width, abs(way[1]) * before.height) * by < 1:
                # Not a pixel yet: the time is kept.
                return
            self._pulled_s = now_s
            self._move(way, by, now_s, at_once=True)
        if self._glide.goes_to == before:
            self._mouse = None
        else:
            self._follows = False

    def _go_to(self, part: pygame.Rect, now_s: float, *, at_once: bool) -> None:
        glide = self._glide
        if part == glide.goes_to:
            return
        at_once = at_once or self._context.settings.still_desk
        glide.came_from = part if at_once else glide.part_at(now_s)
        glide.goes_to, glide.since_s = part, now_s

    def show(self, now_s: float) -> None:
        """Put the part in view onto the window."""
        part, room = self.part(now_s), pygame.Rect(0, 0, self._window.get_width(), self.height)
        if self.dots == 1:
            self._window.blit(self.surface, room, part)
            return
        seen = self.surface.subsurface(part.clip(self._sheet))
        pygame.transform.scale(seen, room.size, self._window.subsurface(room))
