"""The staff by how quickly notes are found: each note in its place, dark when it is quick, ringed when it is slow."""

from itertools import pairwise, product

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.desk.shading import shaded
from game.desk.staff_drawing import StaffDrawing, draw_staff
from game.desk.theme import NIGHT, PAPER
from game.music.keys import Key, spelled
from game.music.pitch import pitch
from game.neck.neck_map import standard_map
from game.practice_log.queries.figure_records import NoteFigures

ROOM = pygame.Rect(40, 30, 1100, 180)


def figures(written, find_s, *, timed=5, string=3, fret=5):
    return NoteFigures(
        written=written,
        string=string,
        fret=fret,
        read=9,
        clean=8,
        timed=timed if find_s is not None else 0,
        find_s=find_s,
    )


def whole_map(position=5):
    return [
        figures(spelled(home.sounding + 12, Key(0)).name, 1.0, string=home.place.string, fret=home.place.fret)
        for home in standard_map(position=position).homes
    ]


def drawn(notes, theme=PAPER, room=ROOM):
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((1200, 260))
    surface = pygame.Surface((1200, 260))
    surface.fill(theme.paper)
    draw_staff(surface, room, notes, theme)
    return surface


def luminance(colour):
    """Relative luminance, gamma left out: enough to order greys (weights of ITU-R BT.709)."""
    return 0.2126 * colour[0] + 0.7152 * colour[1] + 0.0722 * colour[2]


@given(st.integers(1, 12), st.integers(300, 1300), st.integers(90, 400))
def test_every_note_of_a_map_has_room_whatever_the_room(position, width, height):
    room = pygame.Rect(10, 20, width, height)
    drawing = StaffDrawing(room=room, notes=shaded(whole_map(position)))
    centres = drawing.centres
    assert all(room.left < x < room.right and room.top < y < room.bottom for x, y in centres)
    gaps = [after[0] - before[0] for before, after in pairwise(centres)]
    assert min(gaps) > 1.5 * drawing.space_px


def test_notes_stand_on_the_lines_and_spaces_of_a_treble_staff():
    """F5 is the top line, E4 the bottom one, A5 the first ledger line above (trade)."""
    drawing = StaffDrawing(room=ROOM, notes=shaded([figures(name, 1.0) for name in ("E4", "B4", "F5", "A5")]))
    low, middle, top, ledger = (y for _, y in drawing.centres)
    assert low - top == pytest.approx(4 * drawing.space_px)
    assert middle == pytest.approx((low + top) / 2)
    assert top - ledger == pytest.approx(drawing.space_px)


@pytest.mark.parametrize("theme", [PAPER, NIGHT])
def test_quick_and_slow_notes_are_told_apart_by_their_greys(theme):
    notes = shaded([figures("G4", 0.5), figures("B4", 1.6), figures("D5", 2.6)])
    surface, drawing = drawn(notes, theme), StaffDrawing(room=ROOM, notes=notes)
    middles = [surface.get_at([round(at) for at in centre])[:3] for centre in drawing.centres]
    assert middles[0] == theme.read
    away = [abs(luminance(middle) - luminance(theme.paper)) for middle in middles]
    assert away[0] > away[1] + 10 > away[2] + 20


def test_only_what_is_ringed_has_the_accent_round_it():
    notes = shaded([figures("G4", 2.9), figures("D5", 0.5)], ringed=["G4"])
    surface, drawing = drawn(notes), StaffDrawing(room=ROOM, notes=notes)
    reddish = []
    for x, y in drawing.centres:
        around = pygame.Rect(0, 0, round(2.6 * drawing.space_px), round(2.6 * drawing.space_px))
        around.center = (round(x), round(y))
        columns, rows = range(around.left, around.right), range(around.top, around.bottom)
        pixels = [surface.get_at(at) for at in product(columns, rows)]
        reddish.append(sum(pixel[0] > pixel[2] + 60 for pixel in pixels))
    assert reddish[0] > 20
    assert reddish[1] == 0


def test_without_notes_there_is_a_staff_and_no_fault():
    drawing = StaffDrawing(room=ROOM, notes=())
    surface = drawn(())
    y = round(drawing.step_y(pitch("F5").staff_step))
    assert any(surface.get_at((600, row))[:3] != PAPER.paper for row in (y - 1, y, y + 1))
