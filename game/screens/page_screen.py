"""What the pages of both stages share: the view, the look, moving to other bars, leaving."""

import pygame

from game.desk.surroundings import Surroundings
from game.desk.words import say
from game.neck.tuning import Place
from game.screens.commands import change_look
from game.screens.destinations import Destination, OpenTune, ToPage, ToResult, ToShelf
from game.screens.page_view import PageView
from game.screens.screen import Still


class PageScreen(Still):
    """A page being read. Stages say what their keys and notes mean."""

    reading = True

    def __init__(self, around: Surroundings, tune: OpenTune) -> None:
        super().__init__(around)
        self.tune = tune
        self.view = PageView(
            around=around,
            passage=tune.passage,
            neck_map=tune.neck_map,
            stage_name=say(f"{tune.stage.value}.name"),
            neck_shown=not around.instrument_present,
        )

    @property
    def moving(self) -> bool:
        return self.view.moving

    def stop(self) -> ToResult | ToShelf:
        """Leave the take where it is; what was read is shown, and nothing read leads to the shelf."""
        raise NotImplementedError

    def resized(self) -> None:
        self.view.resized()

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
        if key == pygame.K_ESCAPE:
            return self.stop()
        if key == pygame.K_F1:
            self.view.neck_shown = not self.view.neck_shown
        elif key == pygame.K_F4:
            return ToPage(self.tune.whole_or_passages())
        elif key == pygame.K_TAB:
            return ToPage(self.tune.other_stage())
        elif key == pygame.K_RETURN:
            return ToPage(self.tune)
        elif key in (pygame.K_LEFT, pygame.K_RIGHT):
            moved = self.tune.moved(1 if key == pygame.K_RIGHT else -1)
            return ToPage(moved) if moved.index != self.tune.index else None
        return None

    def clicked_place(self, event: pygame.event.Event) -> Place | None:
        """The place on the neck that was pressed with the mouse."""
        neck = self.view.neck
        if neck is None or event.type != pygame.MOUSEBUTTONDOWN or event.button != 1:
            return None
        return neck.place_at(event.pos)


COMMON_KEYS = (
    ("keys.tab", None),
    ("keys.arrows", "keys.passage"),
    ("F1", "keys.neck"),
    ("F2", "keys.look"),
    ("F4", "keys.whole"),
    ("keys.escape", "keys.stop"),
)


def foot_keys(*own: tuple[str, str], other_stage: str) -> tuple[tuple[str, str], ...]:
    """The line of keys at the foot of a page: the stage's own first, then the common ones."""
    common = ((key, meaning or other_stage) for key, meaning in COMMON_KEYS)
    return tuple((say(key) if key.startswith("keys.") else key, say(meaning)) for key, meaning in (*own, *common))
