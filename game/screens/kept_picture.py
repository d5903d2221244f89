"""The picture of a screen that stands still: drawn when what it shows changes, and else only copied to the window."""

from collections.abc import Callable, Hashable

import pygame

from game.screens.context import ScreenContext


class KeptPicture:
    """One picture of one screen. What could be clicked on it and the keys it told stay as long as it does."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._shows: tuple[Hashable, ...] | None = None
        self._kept = pygame.Surface((1, 1))

    def forget(self) -> None:
        """Draw anew the next time: something else was drawn meanwhile, or the look has changed."""
        self._shows = None

    def show(self, surface: pygame.Surface, what: Hashable, draw: Callable[[pygame.Surface], None]) -> None:
        """Put the picture of `what` onto the window; `draw` makes it, in this size and look, where it is another."""
        shows = (what, surface.get_size(), self._context.theme)
        if shows == self._shows:
            surface.blit(self._kept, (0, 0))
            return
        self._context.window.begin_picture()
        draw(surface)
        self._kept, self._shows = surface.copy(), shows
