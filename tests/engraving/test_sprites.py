"""The print of a system as small masks, tinted when drawn."""

import pygame
import pytest

from game.desk.staff_text import rendered_on_staff
from game.engraving import sprites
from game.engraving.layout import lay_out_line
from game.engraving.raster import Grid
from game.engraving.shapes import Box, Join, Shape, System
from game.engraving.sprites import Sprite, SpriteSheet, sprites_of
from game.engraving.staff import Staff, StaffView
from game.music.score import Reading
from game.music.written import HeadId

PAPER, INK, BLUE = (250, 244, 231), (32, 29, 26), (30, 66, 132)


AREA = pygame.Rect(0, 0, 1280, 400)


@pytest.fixture
def staff(screen, page):  # noqa: ARG001 - a mask takes the format of the screen
    return Staff(lay_out_line(page, Reading.GUITAR), 20, PAPER, INK, rendered_on_staff)


def test_kept_surfaces_stay_within_their_bounds_on_a_long_tune(screen, page, monkeypatch):
    monkeypatch.setattr(sprites, "MASK_BYTES", 400_000)
    monkeypatch.setattr(sprites, "TINT_BYTES", 400_000)
    staff = Staff(lay_out_line(page * 6, Reading.GUITAR), 20, PAPER, INK, rendered_on_staff)
    for scroll in range(0, staff.width_px, 150):
        staff.draw(screen, StaffView(AREA, 160, scroll))
        assert staff.held_bytes <= 800_000
    assert staff.held_bytes > 400_000


def test_sprites_ahead_of_the_edge_are_made_before_they_come_into_sight(staff, screen, monkeypatch):
    view = StaffView(AREA, 160, 0)
    for _ in range(40):
        staff.draw(screen, view)
    made = []
    original = sprites.white_mask
    monkeypatch.setattr(sprites, "white_mask", lambda *arguments: made.append(1) or original(*arguments))
    ahead = StaffView(AREA, 160, 200)
    staff._sheet.prepare(staff._sheet.between(200, 200 + AREA.width), INK, 100)
    assert made == []
    staff.draw(screen, ahead)
    assert len(made) <= 2


def shape(left, right):
    return Shape(f'<rect x="{left * 180}" y="0" width="{(right - left) * 180}" height="180"/>', Box(left, 0, right, 1))


def test_print_is_drawn_from_the_ground_up_and_beams_over_the_stems():
    head = HeadId(0, 0)
    system = System(
        opening=[shape(0, 2)],
        ground=[shape(9, 10)],
        groups={head: [shape(4, 5)]},
        joins=[Join((head,), (shape(4, 6),))],
    )
    heads = [sprite.heads for sprite in sprites_of(system, opening=True)]
    assert heads == [(), (), (head,), (head,)]
    assert len(sprites_of(system, opening=False)) == 3


def test_loose_print_that_lies_close_is_drawn_together_but_not_without_end():
    near, far = [shape(0, 1), shape(1.2, 2)], [shape(3, 4)]
    assert [len(sprite.shapes) for sprite in sprites_of(System(ground=near + far), opening=False)] == [2, 1]
    row = [shape(at, at + 1) for at in range(20)]
    assert max(len(sprite.shapes) for sprite in sprites_of(System(ground=row), opening=False)) <= 8


@pytest.fixture
def sheet(screen):  # noqa: ARG001 - a mask takes the format of the screen
    heads = [HeadId(0, event) for event in range(4)]
    notes = [Sprite((head,), (shape(10 * at, 10 * at + 1),)) for at, head in enumerate(heads)]
    return SpriteSheet([*notes, Sprite((heads[0], heads[1]), (shape(0, 11),))], Grid(10, 0.0, 0.0))


def test_only_what_touches_the_columns_is_drawn(sheet):
    assert sheet.between(0, 50) == [0, 4]
    assert sheet.between(105, 150) == [1, 4]
    assert sheet.between(350, 400) == []


def test_a_join_has_the_colour_its_notes_share_and_ink_where_they_differ(sheet):
    def colour(colours):
        ((image, _),) = sheet.drawn([4], colours, INK)
        return tuple(image.get_at((20, 5)))[:3]

    first, second = HeadId(0, 0), HeadId(0, 1)
    assert colour({first: BLUE, second: BLUE}) == BLUE
    assert colour({first: BLUE}) == INK


def test_what_hangs_on_a_note_is_found_by_it(sheet):
    assert len(sheet.touching(frozenset({HeadId(0, 0)}))) == 2
    assert len(sheet.touching(frozenset({HeadId(0, 3)}))) == 1


def test_no_more_masks_are_made_than_asked_for_and_none_twice(sheet):
    assert [sheet.prepare([0, 1, 2], INK, at_most=2) for _ in range(3)] == [2, 1, 0]
