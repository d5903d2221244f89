"""After a take a page is seen whole where it fits, else in whole lines."""

import pygame
import pytest

from game.music.passage import whole_tune
from game.music.written import HeadId
from game.neck.tuning import Place
from game.practice.pencilled import MissedMark, PlacedMark, PlaceMark
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.run_underline import RunUnderline
from tests.made import passage
from tests.sampling import sample
from tests.screens.faulty_takes import crowded_tune

AREA = pygame.Rect(50, 140, 1100, 380)
SHORT = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h", key=-1)
LONG = whole_tune(crowded_tune(16))


def all_lines(page):
    return range(len(page._page.lines))


def test_a_short_passage_is_seen_whole_and_at_the_size_that_is_set(table):
    page = MarkedPage(table.context, SHORT, [], AREA)
    assert (page.in_sight, page.more) == (all_lines(page), False)
    assert page._page.space_px == table.context.sheet.staff_space(table.context.settings.staff_space_px)


def test_of_a_long_one_only_whole_lines_are_in_sight_and_all_can_be_reached(table):
    page = MarkedPage(table.context, LONG, [], AREA)
    assert page.more
    seen = set()
    for _ in all_lines(page):
        first, last = (page._page.lines[line].band for line in (page.in_sight[0], page.in_sight[-1]))
        assert last[1] - first[0] <= AREA.height
        seen |= set(page.in_sight)
        page.turn(1)
    assert seen == set(all_lines(page))
    end = page.in_sight
    page.turn(1)
    assert page.in_sight == end
    page.turn(-100)
    assert page.in_sight[0] == 0


def test_lines_without_marks_stand_closer(table):
    bare, marked = (
        MarkedPage(table.context, SHORT, marks, AREA)._page.size[1]
        for marks in ([], [PlacedMark(HeadId(0, 0), MissedMark())])
    )
    assert marked > bare


def test_each_line_has_the_rows_its_marks_need(table):
    """A place under every sixteenth does not fit in one row."""
    line = passage("F4 s, G4 s, A4 s, Bb4 s, C5 q, A4 s, G4 s, F4 s, E4 s, F4 q", key=-1)
    marks = [PlacedMark(note.heads[0], PlaceMark(place=Place(6, 13))) for note in line.notes]
    page = MarkedPage(table.context, line, marks, pygame.Rect(50, 140, 500, 380))
    laid = [rect for _, mark, _, rect in page._pencil.rects(marks, table.context.theme) if mark is not None]
    assert len(laid) == len(line.notes)
    assert len({rect.centery for rect in laid}) > 1


@pytest.mark.parametrize("height", sample([40, 150, 380, 900], by_default=1))
def test_nothing_is_drawn_outside_its_area(table, height):
    area = pygame.Rect(AREA.left, AREA.top, AREA.width, height)
    surface = pygame.Surface((1280, 1100))
    surface.fill("white")
    marks = [PlacedMark(note.heads[0], MissedMark()) for note in LONG.notes]
    page = MarkedPage(table.context, LONG, marks, area)
    page.turn(1)
    page.draw(surface, {})
    surface.fill("white", area)
    blank = surface.copy()
    blank.fill("white")
    assert surface.get_view("2").raw == blank.get_view("2").raw


def test_marks_that_crowd_small_music_do_not_keep_it_small(table):
    """In music as wide as the page they have room in one row."""
    marks = [PlacedMark(note.heads[0], PlaceMark(place=Place(3, 7))) for note in SHORT.notes]
    page = MarkedPage(table.context, SHORT, marks, pygame.Rect(50, 140, 1100, 190))
    smallest = round(0.6 * table.context.sheet.staff_space(table.context.settings.staff_space_px))
    assert page._page.space_px > smallest


@pytest.mark.parametrize("height", [130, 300])
def test_the_stroke_of_a_run_is_seen_whole_with_its_words_or_not_at_all(table, height):
    marks = [PlacedMark(note.heads[0], PlaceMark(place=Place(3, 7))) for note in SHORT.notes]
    run = RunUnderline(tuple(head for note in SHORT.notes for head in note.heads), "all in one run")
    page = MarkedPage(table.context, SHORT, marks, pygame.Rect(50, 140, 1100, height), run)
    assert page._run is None or page._page.lines[0].band[1] <= height
    assert (page._run is not None) is (height > 130)
