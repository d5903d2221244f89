"""Days of practice from left to right, each value with where it surely lies."""

from datetime import date, timedelta

import pygame
import pytest

from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.practice_log.queries.figure_records import DayFigures
from game.screens.progress.days_drawing import DaysDrawing
from game.screens.progress.progress_figures import DAYS_SHOWN

FIRST = date(2026, 11, 2)
ROOM = pygame.Rect(60, 60, 630, 300)


def day(number, *, read=0, clean=0, minutes=10.0):
    at = FIRST + timedelta(days=number)
    return DayFigures(day=at, minutes=minutes, takes=3, read=read, clean=clean, found=0, found_s=0.0)


@pytest.fixture
def surface():
    pygame.display.init()
    pygame.font.init()
    return pygame.Surface((1280, 720))


def drawn(surface, days):
    surface.fill(PAPER.paper)
    DaysDrawing(days=days, sheet=Sheet((1280, 720)), theme=PAPER).draw(surface, ROOM)
    return surface


def boxes(surface, colour):
    """Where there is something in a colour, from left to right, what hangs together as one."""
    mask = pygame.mask.from_threshold(surface, colour, (4, 4, 4))
    return sorted(mask.get_bounding_rects(), key=lambda box: box.left)


def dots(surface):
    return [box for box in boxes(surface, PAPER.read) if box.width > 5]


def bars(surface):
    """Columns of minutes: as wide as each other, and wider than a letter's stem."""
    width = round(2 * ROOM.width / DAYS_SHOWN * 0.3)
    return [box for box in boxes(surface, PAPER.faded) if abs(box.width - width) <= 1 and box.top > ROOM.top + 200]


def test_a_higher_share_stands_higher_and_a_later_day_further_right(surface):
    low, high = dots(drawn(surface, [day(0, read=100, clean=55), day(1, read=100, clean=95)]))
    assert high.centery < low.centery
    assert high.centerx - low.centerx == pytest.approx(ROOM.width / DAYS_SHOWN, abs=1)


def test_a_day_that_tells_nothing_has_no_dot_but_its_minutes(surface):
    drawn(surface, [day(0, read=100, clean=80), day(1)])
    assert len(dots(surface)) == 1
    assert len(bars(surface)) == 2


def test_the_height_of_a_bar_is_its_minutes(surface):
    short, long = bars(drawn(surface, [day(0, minutes=10.0), day(1, minutes=30.0)]))
    assert long.height == pytest.approx(3 * short.height, abs=2)
    assert long.bottom == short.bottom


def test_few_notes_leave_more_in_doubt(surface):
    """The stroke is the interval: ten notes say less than two hundred (Wilson 1927)."""
    heights = []
    for read in (10, 200):
        drawn(surface, [day(0, read=read, clean=read * 9 // 10)])
        (dot,) = dots(surface)
        column = [surface.get_at((dot.centerx, y))[:3] for y in range(ROOM.top + 30, ROOM.top + 100)]
        heights.append(sum(colour in (PAPER.pencil, PAPER.read) for colour in column))
    few, many = heights
    assert few > 2 * many


def test_all_stays_in_its_room(surface):
    drawn(surface, [day(number, read=50, clean=number * 2, minutes=number) for number in range(DAYS_SHOWN)])
    mask = pygame.mask.from_threshold(surface, PAPER.paper, (1, 1, 1))
    mask.invert()
    found = mask.get_bounding_rects()
    assert ROOM.inflate(12, 12).contains(found[0].unionall(found[1:]))
