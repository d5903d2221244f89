"""The letters of the computer's keys on the neck."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.neck_drawing import NeckDrawing
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.screens.reading import neck_letters
from game.screens.reading.neck_letters import draw_letters, letters_of_places, printed_on_keys


@pytest.mark.usefixtures("table")
def test_the_four_frets_of_the_position_have_the_four_rows_of_the_keyboard():
    """As on an American keyboard, which is what SDL has where no screen is."""
    letters = letters_of_places(standard_map(position=5))
    rows = ["".join(letters[Place(string, fret)] for string in range(6, 0, -1)) for fret in (5, 6, 7, 8)]
    assert rows == ["123456", "QWERTY", "ASDFGH", "ZXCVBN"]


@pytest.mark.usefixtures("table")
def test_the_stretches_beside_them_have_the_outer_rows_with_shift():
    letters = letters_of_places(standard_map(position=5))
    rows = [[letters[Place(string, fret)] for string in range(6, 0, -1)] for fret in (4, 9)]
    assert rows == [["↑1", "↑2", "↑3", "↑4", "↑5", "↑6"], ["↑Z", "↑X", "↑C", "↑V", "↑B", "↑N"]]


@pytest.mark.usefixtures("table")
def test_another_keyboard_has_its_own_letters_on_the_same_places(monkeypatch):
    """On a German one Y and Z have changed places."""
    code = pygame.key.key_code
    swapped = {"y": "z", "z": "y"}
    monkeypatch.setattr(neck_letters.pygame.key, "key_code", lambda letter: code(swapped.get(letter, letter)))
    letters = letters_of_places(standard_map(position=5))
    assert letters[Place(1, 6)] == "Z"
    assert letters[Place(6, 8)] == "Y"


@pytest.mark.usefixtures("table")
def test_the_digits_are_where_they_are_on_every_keyboard():
    assert [printed_on_keys()[scancode] for scancode in range(30, 36)] == list("123456")


def test_they_are_written_on_the_neck_and_on_nothing_else(table):
    surface, theme = table.app.surface, table.context.theme
    neck = NeckDrawing(room=pygame.Rect(100, 200, 800, 160), neck_map=standard_map(position=5))
    surface.fill(theme.paper)
    neck.draw(surface, theme, numbered=False)
    before = surface.copy()
    draw_letters(Canvas(surface, table.context.sheet, theme), neck, letters_of_places(neck.neck_map))
    changed = pygame.mask.from_threshold(surface, (0, 0, 0), (2, 2, 2, 255), before)
    changed.invert()
    rects = changed.get_bounding_rects()
    assert neck.room.inflate(0, 24).contains(rects[0].unionall(rects[1:]))


def test_a_place_in_ink_still_tells_its_letter(table):
    surface, theme, found = table.app.surface, table.context.theme, Place(4, 7)
    neck = NeckDrawing(room=pygame.Rect(100, 200, 800, 160), neck_map=standard_map(position=5))
    x, y = neck.centre_of(found)
    seen = []
    for letters in ({}, {found: "D"}):
        surface.fill(theme.read)
        draw_letters(Canvas(surface, table.context.sheet, theme), neck, letters, frozenset({found}))
        here = surface.subsurface(pygame.Rect(round(x) - 12, round(y) - 12, 24, 24))
        seen.append(pygame.mask.from_threshold(here, theme.read, (2, 2, 2, 255)).count())
    assert seen[0] == 24 * 24
    assert 10 < seen[0] - seen[1] < 24 * 24 / 2
