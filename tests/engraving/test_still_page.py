"""The still page: lines of bars, boxes for notes, single notes redrawn."""

import pygame
import pytest

from game.desk.staff_text import rendered_on_staff
from game.engraving import sprites
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.music.score import Reading
from game.music.written import HeadId

PAPER, INK, BLUE = (250, 244, 231), (32, 29, 26), (30, 66, 132)
AREA = pygame.Rect(20, 10, 1240, 700)


@pytest.fixture
def still(screen, page):  # noqa: ARG001 - a mask takes the format of the screen
    return StillPage(lay_out_page(page, Reading.GUITAR, 68), 18, PAPER, INK, rendered_on_staff)


def _colour_at(surface, rect):
    place = AREA.left + rect.left + rect.width // 2, AREA.top + rect.top + rect.height // 2
    return tuple(surface.get_at(place))[:3]


def test_noteheads_are_inked_where_their_boxes_say_on_every_line(still, screen):
    still.draw(screen, AREA)
    seen = set()
    for head in (HeadId(1, 0), HeadId(2, 2), HeadId(3, 0), HeadId(4, 0), HeadId(6, 0)):
        rect = still.rect_of(head)
        if rect.bottom < AREA.height:
            assert _colour_at(screen, rect) == INK
            seen.add(still.line_of(head))
    assert len(seen) >= 2


def test_a_colour_is_shown_and_taken_back_without_leaving_a_trace(still, screen):
    still.draw(screen, AREA)
    plain = pygame.image.tobytes(screen, "RGB")
    colours = {HeadId(1, 0): BLUE, HeadId(2, 5): BLUE, HeadId(3, 0): BLUE}
    still.draw(screen, AREA, colours)
    assert all(_colour_at(screen, still.rect_of(head)) == BLUE for head in colours)
    still.draw(screen, AREA, {})
    assert pygame.image.tobytes(screen, "RGB") == plain


def test_a_page_coloured_note_by_note_is_the_page_coloured_at_once(still, screen, page):
    colours = {}
    for event in range(6):
        colours[HeadId(1, event)] = BLUE
        still.draw(screen, AREA, colours)
    stepwise = pygame.image.tobytes(screen, "RGB")
    fresh = StillPage(lay_out_page(page, Reading.GUITAR, 68), 18, PAPER, INK, rendered_on_staff)
    fresh.draw(screen, AREA, colours)
    assert pygame.image.tobytes(screen, "RGB") == stepwise


def test_colouring_engraves_and_rasterises_nothing(still, screen, monkeypatch):
    still.draw(screen, AREA)

    def refuse(*_):
        raise AssertionError("drawn from outlines again")

    monkeypatch.setattr(sprites, "white_mask", refuse)
    still.draw(screen, AREA, {HeadId(1, 2): BLUE})
    assert _colour_at(screen, still.rect_of(HeadId(1, 2))) == BLUE


def test_lines_own_rows_that_do_not_overlap_and_hold_their_notes(still, page):
    bottom = 0
    for line in still.lines:
        assert line.band[0] == bottom
        bottom = line.band[1]
    assert still.size[1] == bottom
    for index, bar in enumerate(page):
        for position, event in enumerate(bar.events):
            if hasattr(event, "pitch"):
                head = HeadId(index, position)
                band = still.lines[still.line_of(head)].band
                rect = still.group_rect_of(head)
                assert band[0] <= rect.top
                assert rect.bottom <= band[1]


def test_bars_have_their_spans_on_their_line(still):
    line = still.lines[0]
    spans = [line.bar_span(bar) for bar in line.bars]
    assert all(left < right for left, right in spans)
    assert [right for _, right in spans[:-1]] == [left for left, _ in spans[1:]]
    with pytest.raises(ValueError, match="not in tuple"):
        line.bar_span(99)


def test_a_page_can_be_moved_up(still, screen):
    still.draw(screen, AREA, {}, scroll_y_px=still.lines[1].band[0])
    rect = still.rect_of(HeadId(still.lines[1].bars[0], 0)).move(0, -still.lines[1].band[0])
    assert _colour_at(screen, rect) == INK


def test_unwritten_pitches_have_a_height_on_each_line(still):
    for index, line in enumerate(still.lines):
        assert still.step_y(index, 38) == pytest.approx(line.top_line_y, abs=1)
        assert still.step_y(index, 28) == pytest.approx(line.top_line_y + 5 * 18, abs=1)


def with_room(page, *below):
    engraving = lay_out_page(page, Reading.GUITAR, 68)
    return StillPage(engraving, 18, PAPER, INK, rendered_on_staff, below=below or [0.0] * len(engraving.systems))


def test_room_asked_for_below_a_line_stays_free_of_all_print(still, page):
    lines = len(still.lines)
    for room in (1.0, 4.0, 9.0):
        roomy = with_room(page, *[room] * lines)
        for line, after in zip(roomy.lines, roomy.lines[1:], strict=False):
            lowest = max(rect.bottom for rect in line.print_rects())
            assert min(rect.top for rect in after.print_rects()) >= lowest + room * 18 - 6
            assert line.band[1] >= lowest + room * 18 - 6
        assert roomy.size[1] >= max(rect.bottom for rect in roomy.lines[-1].print_rects()) + room * 18 - 6


def test_only_lines_that_stand_too_close_move_apart_and_their_notes_with_them(still, page, screen):
    assert [line.band for line in with_room(page).lines] == [line.band for line in still.lines]
    roomy = with_room(page, 8.0, *[0.0] * (len(still.lines) - 1))
    roomy.draw(screen, AREA)
    first, second = HeadId(still.lines[0].bars[1], 0), HeadId(still.lines[1].bars[0], 0)
    assert roomy.rect_of(first) == still.rect_of(first)
    assert roomy.rect_of(second).top > still.rect_of(second).top
    assert _colour_at(screen, roomy.rect_of(second)) == INK


def test_nothing_is_inked_but_the_staff_lines_and_what_is_told_as_printed(still, screen):
    still.draw(screen, AREA)
    line = still.lines[0]
    seen = screen.subsurface((AREA.left, AREA.top, still.size[0], line.band[1])).copy()
    for rect in line.print_rects():
        seen.fill(PAPER, rect)
    inked = pygame.mask.from_threshold(seen, INK, (60, 60, 60))
    rows = {y for rect in inked.get_bounding_rects() for y in range(rect.top, rect.bottom)}
    assert rows
    assert all(any(abs(y - line.top_line_y - at * 18) <= 2 for at in range(5)) for y in rows)
