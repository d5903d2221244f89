"""Pencil marks stand where a teacher would write them beside the printed note."""

import pygame
import pytest

from game.desk.mark_drawing import NoteBox, draw_marks
from game.desk.theme import PAPER
from game.music.pitch import pitch
from game.music.written import HeadId
from game.neck.tuning import Place
from game.practice.pencilled import (
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlacedMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
)

SPACE = 16
BOTTOM_LINE_Y = 200
HEAD = HeadId(0, 0)
BOTTOM_STEP = pitch("E4").staff_step


def step_y(step):
    return BOTTOM_LINE_Y - (step - BOTTOM_STEP) * SPACE / 2


def printed(name):
    """The box of a printed note, its stem up."""
    head = pygame.Rect(0, 0, round(1.2 * SPACE), SPACE)
    head.center = (150, round(step_y(pitch(name).staff_step)))
    return NoteBox(
        head=head,
        group=head.union(head.move(0, -3 * SPACE)),
        bottom_line_y=BOTTOM_LINE_Y,
        space_px=SPACE,
        step_y=step_y,
    )


@pytest.fixture
def surface():
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((320, 320))
    made = pygame.Surface((320, 320))
    made.fill(PAPER.paper)
    return made


def drawn(surface, mark, name="G4", box=None):
    """Where something was drawn, and its first colour."""
    note = box or printed(name)
    draw_marks(surface, [PlacedMark(HEAD, mark)], lambda _: note, PAPER)
    mask = pygame.mask.from_threshold(surface, PAPER.paper, (6, 6, 6))
    mask.invert()
    boxes = mask.get_bounding_rects()
    return boxes[0].unionall(boxes[1:]), note


def played(name, *, sign=False):
    return PlayedHead(pitch=pitch(name), show_sign=sign)


def test_a_note_out_of_sight_has_no_mark(surface):
    blank = surface.copy()
    draw_marks(surface, [PlacedMark(HEAD, SaidWrongMark())], lambda _: None, PAPER)
    assert surface.get_view("2").raw == blank.get_view("2").raw


def test_the_note_played_stands_on_its_own_line_over_or_under_the_printed_one(surface):
    where, note = drawn(surface, played("D5"))
    assert where.centery == pytest.approx(step_y(pitch("D5").staff_step), abs=2)
    assert where.centerx == pytest.approx(note.head.centerx, abs=2)


def test_where_the_two_would_touch_it_stands_beside_with_its_sign(surface):
    plain, note = drawn(surface, played("A4"))
    assert plain.left >= note.head.right
    surface.fill(PAPER.paper)
    signed, _ = drawn(surface, played("Ab4", sign=True))
    assert signed.width > plain.width + SPACE // 3


def test_beyond_the_staff_it_has_its_ledger_lines(surface):
    """A5 is on the first one above (trade)."""
    on_staff, _ = drawn(surface, played("F5"), name="B4")
    surface.fill(PAPER.paper)
    above, _ = drawn(surface, played("A5"), name="B4")
    assert above.width > on_staff.width + SPACE // 4


@pytest.mark.parametrize("mark", [NameMark(text="fa♯"), PlaceMark(place=Place(3, 5), home=True)])
@pytest.mark.parametrize("name", ["B4", "C4"])
def test_names_and_places_stand_below_staff_and_note(surface, mark, name):
    where, note = drawn(surface, mark, name)
    assert where.top >= max(BOTTOM_LINE_Y, note.group.bottom)
    assert abs(where.centerx - note.head.centerx) < 1.5 * SPACE


def test_a_wrong_name_is_struck_through_and_further_ones_stand_below(surface):
    plain, _ = drawn(surface, NameMark(text="F"))
    surface.fill(PAPER.paper)
    struck, _ = drawn(surface, NameMark(text="F", struck=True))
    assert struck.width > plain.width
    surface.fill(PAPER.paper)
    lower, _ = drawn(surface, NameMark(text="F", row=1))
    assert lower.top > plain.top + SPACE


@pytest.mark.parametrize("mark", [MissedMark(), SaidWrongMark()])
@pytest.mark.parametrize("name", ["G4", "C6"])
def test_what_was_left_out_or_wrong_is_marked_above_staff_and_note(surface, mark, name):
    where, note = drawn(surface, mark, name)
    assert where.bottom <= min(BOTTOM_LINE_Y - 4 * SPACE, note.group.top)
    assert abs(where.centerx - note.head.centerx) < SPACE


@pytest.mark.parametrize("early", [True, False])
@pytest.mark.parametrize("name", ["G4", "C4"])
def test_what_was_off_time_is_marked_below_staff_and_note_where_no_chord_symbols_stand(surface, early, name):
    where, note = drawn(surface, OffTimeMark(early=early), name)
    assert where.top >= max(BOTTOM_LINE_Y, note.group.bottom)
    assert abs(where.centerx - note.head.centerx) < SPACE


def test_early_points_to_the_left_and_late_to_the_right(surface):
    """The barbs are where the arrow is highest."""
    tips = []
    for early in (True, False):
        surface.fill(PAPER.paper)
        where, _ = drawn(surface, OffTimeMark(early=early))
        columns = [
            sum(surface.get_at((x, y))[:3] != PAPER.paper for y in range(where.top, where.bottom))
            for x in range(where.left, where.right)
        ]
        half = len(columns) // 2
        tips.append("left" if sum(columns[:half]) > sum(columns[half:]) else "right")
    assert tips == ["left", "right"]


@pytest.mark.parametrize("name", ["B4", "C4"])
def test_a_word_on_the_pace_stands_below_the_place_of_its_note(surface, name):
    place, _ = drawn(surface, PlaceMark(place=Place(3, 5)), name)
    surface.fill(PAPER.paper)
    word, note = drawn(surface, PaceMark("ahead"), name)
    assert word.top >= place.bottom - SPACE // 4
    assert abs(word.centerx - note.head.centerx) < SPACE
