"""Each mark has a shape of its own, as large as the type of its lane."""

from itertools import combinations

import pygame
import pytest

from game.desk.mark_images import mark_image
from game.desk.theme import NIGHT, PAPER
from game.music.pitch import pitch
from game.neck.tuning import Place
from game.practice.pencilled import (
    CountMark,
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
    UnsureMark,
)

MARKS = [
    NameMark(text="F"),
    NameMark(text="F", struck=True),
    PlaceMark(place=Place(3, 5)),
    PlaceMark(place=Place(3, 15)),
    MissedMark(),
    SaidWrongMark(),
    UnsureMark(),
    OffTimeMark(early=True),
    OffTimeMark(early=False),
    PaceMark("ahead"),
    CountMark("&"),
    PlayedHead(pitch=pitch("C4"), show_sign=False),
]


@pytest.fixture(autouse=True, scope="module")
def screen():
    pygame.display.init()
    pygame.font.init()
    return pygame.display.set_mode((100, 100))


def image(mark, px=20, theme=PAPER, seed=1):
    return mark_image(mark, px, theme, seed, played="C")


def shape(mark):
    """Where it is inked, whatever the colour."""
    mask = pygame.mask.from_surface(image(mark).surface, 60)
    return mask.get_size(), pygame.image.tobytes(mask.to_surface(), "RGBA")


def test_no_two_marks_look_the_same_without_their_colour():
    for first, second in combinations(MARKS, 2):
        assert shape(first) != shape(second), (first, second)


@pytest.mark.parametrize("mark", MARKS)
@pytest.mark.parametrize("px", [15, 20, 60])
def test_every_mark_fills_its_row_and_stays_in_it(mark, px):
    found = image(mark, px)
    height = found.surface.get_height()
    assert -0.75 * px <= found.top
    assert found.top + height <= 0.75 * px
    assert max(found.surface.get_size()) >= 0.6 * px


@pytest.mark.parametrize("mark", MARKS)
def test_a_mark_is_cut_to_what_is_inked(mark):
    surface = image(mark).surface
    inked = surface.get_bounding_rect()
    assert inked.width >= surface.get_width() - 8
    assert inked.height >= surface.get_height() - 8


def test_the_ring_of_a_string_and_its_fret_stand_beside_each_other():
    """The columns between them are empty."""
    surface = image(PlaceMark(place=Place(3, 5)), 40).surface
    empty = [x for x in range(surface.get_width()) if surface.subsurface((x, 0, 1, surface.get_height()))
             .get_bounding_rect().width == 0]  # fmt: skip
    assert empty
    assert min(empty) > 40


def test_letters_share_a_base_line():
    bottoms = {text: image(NameMark(text=text), 40) for text in ("F", "E", "H")}
    assert len({one.top + one.surface.get_height() for one in bottoms.values()}) == 1


def test_the_same_mark_looks_the_same_again_and_by_night_it_is_lighter():
    day = [pygame.image.tobytes(image(mark).surface, "RGBA") for mark in MARKS]
    assert day == [pygame.image.tobytes(image(mark).surface, "RGBA") for mark in MARKS]
    for mark in MARKS:
        assert sum(image(mark, theme=NIGHT).colour) > sum(image(mark).colour)
