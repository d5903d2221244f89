"""The moving staff draws what the layout says, tints single notes, and keeps within its bounds."""

from itertools import pairwise

import pygame
import pytest

from game.desk.staff_text import rendered_on_staff
from game.engraving import sprites
from game.engraving.layout import lay_out_line
from game.engraving.raster import line_px
from game.engraving.staff import Staff, StaffView
from game.music.score import Reading
from game.music.written import HeadId

PAPER, INK, BLUE = (250, 244, 231), (32, 29, 26), (30, 66, 132)
AREA = pygame.Rect(0, 0, 1280, 400)


@pytest.fixture
def staff(screen, page):  # noqa: ARG001 - a mask takes the format of the screen
    return Staff(lay_out_line(page, Reading.GUITAR), 20, PAPER, INK, rendered_on_staff)


def _middle(rect):
    return rect.left + rect.width // 2, rect.top + rect.height // 2


def _pixels(surface, rect):
    return {
        tuple(surface.get_at((x, y)))[:3] for x in range(rect.left, rect.right) for y in range(rect.top, rect.bottom)
    }


def test_a_notehead_is_inked_where_its_box_says(staff, screen):
    view = StaffView(AREA, 160, 0)
    staff.draw(screen, view)
    for event in range(6):
        rect = staff.on_screen(staff.rect_of(HeadId(1, event)), view)
        assert tuple(screen.get_at(_middle(rect)))[:3] == INK


def test_colouring_one_note_changes_its_own_pixels_and_engraves_nothing(staff, screen, monkeypatch):
    view = StaffView(AREA, 160, 0)
    for _ in range(40):  # what lies ahead is made a little in each frame
        staff.draw(screen, view)
    before = screen.copy()

    def refuse(*_):
        raise AssertionError("engraved again")

    monkeypatch.setattr("game.engraving.layout.endless_svg", refuse)
    monkeypatch.setattr(sprites, "white_mask", refuse)
    head = HeadId(1, 4)
    staff.draw(screen, view, {head: BLUE})
    assert tuple(screen.get_at(_middle(staff.on_screen(staff.rect_of(head), view))))[:3] == BLUE
    changed = staff.on_screen(staff.group_rect_of(head), view)
    for surface in (before, screen):
        surface.fill(PAPER, changed)
    assert pygame.image.tobytes(before, "RGB") == pygame.image.tobytes(screen, "RGB")


def test_a_beam_takes_a_colour_when_all_its_notes_have_it(staff, screen):
    view = StaffView(AREA, 160, 0)
    heads = [HeadId(1, event) for event in range(4)]
    staff.draw(screen, view, dict.fromkeys(heads[:3], BLUE))
    under = staff.group_rect_of(heads[0]).bottom - 4, staff.group_rect_of(heads[1]).left + 30
    beam = staff.on_screen(pygame.Rect(under[1], under[0] - 4, 4, 4), view)
    assert BLUE not in _pixels(screen, beam)
    staff.draw(screen, view, dict.fromkeys(heads, BLUE))
    assert BLUE in _pixels(screen, beam)


@pytest.mark.parametrize("space_px", [18, 22, 25, 40])
def test_staff_lines_fill_whole_rows_and_leave_the_rows_between_clear(screen, bar, space_px):
    staff = Staff(lay_out_line((bar("W:4"), bar("W:4")), Reading.GUITAR), space_px, PAPER, INK, rendered_on_staff)
    top = 200
    staff.draw(screen, StaffView(pygame.Rect(0, 0, 1280, 720), top, 0))
    # A column beside the clef, where nothing but lines is drawn.
    x = staff.opening_px + space_px
    inked = [y for y in range(top - space_px, top + 5 * space_px) if tuple(screen.get_at((x, y)))[:3] == INK]
    thick = line_px(space_px)
    lines = [top + line * space_px - thick // 2 + row for line in range(5) for row in range(thick)]
    assert inked == lines
    assert all(tuple(screen.get_at((x, y)))[:3] == PAPER for y in range(top, top + 4 * space_px) if y not in lines)


def test_the_clef_stays_while_the_music_moves(staff, screen):
    staff.draw(screen, StaffView(AREA, 160, 0))
    clef = pygame.Rect(0, 60, 3 * 20, 240)
    still = screen.subsurface(clef).copy()
    staff.draw(screen, StaffView(AREA, 160, 700))
    assert pygame.image.tobytes(still, "RGB") == pygame.image.tobytes(screen.subsurface(clef), "RGB")


def test_the_signature_kept_at_the_left_is_the_one_in_force(staff, screen):
    """One flat before the change, three sharps once its bar line has passed under the clef."""
    opening = pygame.Rect(0, 60, round(6.5 * staff.space_px), 240)
    pictures = []
    change = round(staff.x_at(21.0)) - staff.opening_px
    for scroll in (change - 300, change - 200, change + 40):
        staff.draw(screen, StaffView(AREA, 160, scroll))
        pictures.append(pygame.image.tobytes(screen.subsurface(opening), "RGB"))
    assert pictures[0] == pictures[1] != pictures[2]


def test_nothing_is_drawn_outside_the_area(staff, screen):
    screen.fill((1, 2, 3))
    area = pygame.Rect(100, 50, 800, 300)
    staff.draw(screen, StaffView(area, 160, 300))
    screen.fill((1, 2, 3), area)
    assert _pixels(screen, pygame.Rect(0, 0, 1280, 380)) == {(1, 2, 3)}


def test_moments_are_placed_on_their_notes_and_between_them_in_proportion(staff):
    first, second = staff.rect_of(HeadId(1, 0)).centerx, staff.rect_of(HeadId(1, 1)).centerx
    assert staff.x_at(1) == pytest.approx(first, abs=1)
    assert staff.x_at(1.5) == pytest.approx(second, abs=1)
    assert staff.x_at(1.25) == pytest.approx((first + second) / 2, abs=1.5)


def test_moments_before_and_after_the_music_go_on_at_its_mean_pace(staff):
    xs = [staff.x_at(quarters / 4) for quarters in range(-32, 240)]
    assert all(before < after for before, after in pairwise(xs))
    assert staff.x_at(-2) - staff.x_at(-4) == pytest.approx(staff.x_at(60) - staff.x_at(58))


def test_music_that_begins_with_a_rest_starts_beside_the_signature(screen, bar):  # noqa: ARG001
    staff = Staff(lay_out_line((bar("W:4"), bar("C5:2 R:2")), Reading.GUITAR), 20, PAPER, INK, rendered_on_staff)
    assert staff.opening_px <= staff.x_at(0) < staff.x_at(2) < staff.x_at(4)
    assert staff.x_at(0) < staff.opening_px + 3 * 20
    assert staff.x_at(4) == pytest.approx(staff.rect_of(HeadId(1, 0)).centerx, abs=1)


def test_a_new_size_moves_everything_in_proportion(staff, screen):
    head = HeadId(3, 2)
    small = staff.rect_of(head)
    staff.resize(40)
    large = staff.rect_of(head)
    assert large.centerx == pytest.approx(2 * small.centerx, abs=3)
    assert large.width == pytest.approx(2 * small.width, abs=4)
    staff.draw(screen, StaffView(AREA, 160, large.centerx - 600))
    assert tuple(screen.get_at(_middle(staff.on_screen(large, StaffView(AREA, 160, large.centerx - 600)))))[:3] == INK


def test_a_new_theme_recolours_paper_and_ink(staff, screen):
    staff.recolour((36, 35, 33), (226, 219, 203))
    view = StaffView(AREA, 160, 0)
    staff.draw(screen, view)
    assert tuple(screen.get_at((700, 390)))[:3] == (36, 35, 33)
    assert tuple(screen.get_at(_middle(staff.on_screen(staff.rect_of(HeadId(1, 4)), view))))[:3] == (
        226,
        219,
        203,
    )


def test_pitches_that_are_not_written_have_a_height_too(staff):
    assert staff.step_y(38) == pytest.approx(0, abs=1)
    assert staff.step_y(30) == pytest.approx(4 * 20, abs=1)
    assert staff.step_y(28) == pytest.approx(5 * 20, abs=1)


def test_chord_symbols_are_lettered_by_what_is_handed_in(screen, page):
    asked = []

    def letterer(_kind, text, colour, space_px):
        asked.append((text, colour, space_px))
        return pygame.Surface((10, 10)), 8

    Staff(lay_out_line(page, Reading.GUITAR), 20, PAPER, INK, letterer).draw(screen, StaffView(AREA, 160, 0))
    assert asked == [("Bb7", INK, 20), ("Cm7/G", INK, 20)]


def test_a_chord_symbol_comes_and_leaves_whole(screen, page):
    """It is a block here, so that half of one would be seen."""
    block = pygame.Surface((60, 20))
    block.fill((200, 0, 200))
    staff = Staff(lay_out_line(page, Reading.GUITAR), 20, PAPER, INK, lambda *_: (block, 15))
    area = pygame.Rect(0, 0, 500, 400)
    seen = []
    for scroll_px in range(0, 1200, 7):
        screen.fill(PAPER)
        staff.draw(screen, StaffView(area, 160, scroll_px))
        seen.append(pygame.mask.from_threshold(screen, (200, 0, 200), (1, 1, 1)).count())
    assert {count % (60 * 20) for count in seen} == {0}
    assert len(set(seen)) > 2


def test_a_notehead_that_is_not_there_has_no_place(staff):
    with pytest.raises(KeyError):
        staff.rect_of(HeadId(99, 0))
