"""A canvas of every size and look to draw the kit on."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.sheet import SMALLEST, Sheet
from game.desk.theme import NIGHT, PAPER
from tests.sampling import sample

_ORDINARY, _LARGEST = (1280, 720), (3840, 2160)
# In an order in which the sample has both looks.
WINDOWS = (
    (SMALLEST, PAPER),
    (SMALLEST, NIGHT),
    (_ORDINARY, NIGHT),
    (_ORDINARY, PAPER),
    (_LARGEST, PAPER),
    (_LARGEST, NIGHT),
)


def _named(window_and_look):
    (width, height), theme = window_and_look
    return f"{width}x{height}, {'night' if theme is NIGHT else 'paper'}"


@pytest.fixture(autouse=True, scope="session")
def _display():
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((64, 64))


@pytest.fixture(params=sample(WINDOWS, by_default=2), ids=_named)
def window_and_look(request):
    return request.param


@pytest.fixture
def size(window_and_look):
    return window_and_look[0]


@pytest.fixture
def theme(window_and_look):
    return window_and_look[1]


@pytest.fixture
def canvas(size, theme):
    """A blank sheet of the theme's paper."""
    surface = pygame.Surface(size)
    surface.fill(theme.paper)
    return Canvas(surface, Sheet(size), theme)


@pytest.fixture
def drawn():
    """Tells the rectangle in which anything was drawn on the blank paper."""

    def rect(canvas) -> pygame.Rect:
        mask = pygame.mask.from_threshold(canvas.surface, canvas.theme.paper, (1, 1, 1, 255))
        mask.invert()
        boxes = mask.get_bounding_rects()
        return boxes[0].unionall(boxes[1:]) if boxes else pygame.Rect(0, 0, 0, 0)

    return rect
