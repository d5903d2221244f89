"""Where things stand on the sheet: every measure follows from the window's size. Works from 960x600 to 4K."""

from dataclasses import dataclass
from functools import cached_property

import pygame

SMALLEST = (960, 600)
_DRAWN_AT = (1280, 720)
_FULL_HEIGHT = 1080
_FULL_WIDTH = 1920


@dataclass(frozen=True)
class Sheet:
    """Measures in pixels for a window of `size`; `enlarged` for what is set larger in the same window."""

    size: tuple[int, int]
    enlarged: float = 1.0

    @cached_property  # asked for by everything that is drawn
    def unit(self) -> float:
        """1 at 1280x720."""
        return max(0.6, min(self.size[0] / _DRAWN_AT[0], self.size[1] / _DRAWN_AT[1])) * self.enlarged

    @property
    def width(self) -> float:
        """Of the window, in units."""
        return self.size[0] / self.unit

    @property
    def height(self) -> float:
        """Of the window, in units."""
        return self.size[1] / self.unit

    def px(self, units: float) -> int:
        """Pixels for so many units of a 1280x720 window."""
        return round(units * self.unit)

    @property
    def paper(self) -> pygame.Rect:
        """The paper on the desk; the next sheet shows at its right and below."""
        left, right = self.px(26), self.size[0] - self.px(32)
        return pygame.Rect(left, left, right - left, self.size[1] - 2 * left)

    @property
    def text_area(self) -> pygame.Rect:
        """The paper inside its margins."""
        paper = self.paper
        left, top = paper.left + self.px(44), paper.top + self.px(24)
        return pygame.Rect(left, top, paper.right - self.px(36) - left, paper.height - 2 * self.px(24))

    def staff_space(self, at_full_height: int) -> int:
        """The distance of two staff lines, given what the player wants at 1920x1080."""
        return max(9, round(at_full_height * min(self.size[0] / _FULL_WIDTH, self.size[1] / _FULL_HEIGHT)))

    @property
    def title_px(self) -> int:
        """Size of titles."""
        return self.px(40)

    @property
    def text_px(self) -> int:
        """Size of running text."""
        return self.px(25)

    @property
    def small_px(self) -> int:
        """Size of what stands beside and below."""
        return max(14, self.px(19))

    @property
    def mark_px(self) -> int:
        """Size of what the pencil writes at notes, at least: it is read from where the music is."""
        return max(15, self.px(20))
