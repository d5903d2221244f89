"""First sight: a page that is covered until it is turned up, with its repeats as signs."""

from dataclasses import replace

import pygame
import pytest

from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.music.order_choices import read_next_way
from game.music.score import BarMarks
from game.music.written import HeadId
from game.practice.pencilled import MissedMark, PlacedMark
from game.practice.take_request import request_for
from game.screens.reading.notated_music import NotatedMusic
from game.screens.routes import ToPage
from tests.made import score
from tests.music.order_pages import page as page_of_signs
from tests.screens.table import Table
from tests.screens.timed_pages import sight_request


@pytest.fixture
def page(table):
    table.go(ToPage(sight_request(table), chosen=True))
    return table.screen


def test_the_page_is_covered_until_a_note_or_space_turns_it_up(table, page):
    assert page.view.covered
    table.play(53)
    assert not page.view.covered
    assert page.take.at == 0


def test_three_lines_are_in_sight_in_the_smallest_window(tmp_path):
    """The lowest clear of the sheet's edge, and of a longer tune three at a time."""
    table = Table(tmp_path, size=(960, 600), guitar=True)
    for bars in (12, 32):
        rows = ["F4 q, G4 q, A4 q, Bb4 q"] * bars
        request = request_for(score(*rows, key=-1), table.context.settings.neck_map()).at_sight()
        table.go(ToPage(request, chosen=True))
        table.key(pygame.K_RETURN)
        music = table.screen.view.music
        assert len(list(music._in_sight())) >= 3
        assert music.lowest_px <= table.context.sheet.paper.bottom


def test_space_turns_it_up_too(table, page):
    table.key(pygame.K_SPACE)
    assert not page.view.covered


def test_a_repeat_is_a_sign_on_the_page_and_its_notes_have_two_verdicts(table, page):
    assert isinstance(page.view.music, NotatedMusic)
    table.key(pygame.K_SPACE)
    page.view.draw(table.app.surface)
    assert page.view.music.note_box(HeadId(0, 0)).head == page.view.music.note_box(HeadId(1, 0)).head
    assert len(page.take.expected) == 9
    for note in page.take.expected:
        table.play(note.sounding + (2 if note.n == 6 else 0))
        table.wait(0.5)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    verdicts = {verdict.n: verdict.verdict for verdict in table.screen.finished.judgement.verdicts}
    assert verdicts[6] is Verdict.WRONG_PITCH
    assert verdicts[2] is not Verdict.WRONG_PITCH
    assert table.screen.finished.stage is Stage.SIGHT


def notated(table, tune, height):
    music = NotatedMusic(table.context, tune, pygame.Rect(70, 134, 1140, height))
    music.covered = False
    music.draw(table.app.surface, {}, 0.0)
    return music


def test_marks_of_both_rounds_stand_at_the_note_that_is_printed_once(table):
    tune = with_signs("a:| b c d e")
    music = notated(table, tune, 460)
    marks = [PlacedMark(HeadId(0, 0), MissedMark()), PlacedMark(HeadId(1, 0), MissedMark())]
    blank = table.app.surface.copy()
    music.draw_marks(table.app.surface, marks)
    assert table.app.surface.get_view("2").raw != blank.get_view("2").raw
    assert len([mark for _, mark, _, _ in music._pencil.rects(marks[:1], table.context.theme) if mark]) == 1
    music.covered = True
    covered = table.app.surface.copy()
    music.draw_marks(table.app.surface, marks)
    assert table.app.surface.get_view("2").raw == covered.get_view("2").raw


def test_a_repeat_brings_its_first_line_back_before_it_is_read(table, monkeypatch):
    """Twelve bars on three lines, of which two are in sight; all is repeated."""
    monkeypatch.setattr(NotatedMusic, "_least_lines", 2)
    made = score(*["F4 q, G4 q, A4 q, Bb4 q"] * 12, key=-1)
    last = replace(made.bars[-1], marks=BarMarks(repeat_end=2))
    music = notated(table, replace(made, bars=(*made.bars[:-1], last)), 460)
    lines = [[line for line, _ in music._in_sight()]]
    for bar in (0, 5, 6, 9, 10, 11, 12, 14):
        music.follow(4.0 * bar + 1)
        lines.append([line for line, _ in music._in_sight()])
    assert lines[1:] == [[0, 1], [0, 1], [2, 1], [2, 1], [2, 0], [2, 0], [2, 0], [1, 0]]


def drawn(table, tune):
    surface = pygame.Surface((1200, 500))
    surface.fill("white")
    music = NotatedMusic(table.context, tune, surface.get_rect())
    music.covered = False
    music.draw(surface, {}, 0.0)
    return pygame.image.tobytes(surface, "RGB")


def test_a_bracket_is_drawn_over_all_bars_that_are_read_as_its_own(table):
    """However short the file has it, unless the player reads it so."""
    short = with_signs("a|: b[1] c:| d[2] e")
    as_drawn = replace(short, bars=read_next_way(short.bars))
    assert drawn(table, short) == drawn(table, with_signs("a|: b[1 c]:| d[2] e"))
    assert drawn(table, as_drawn) != drawn(table, short)


def with_signs(text):
    """A tune of five bars that bear these signs."""
    plain = score("C4 w", "D4 w", "E4 w", "F4 w", "G4 w")
    marked = page_of_signs(text)
    return replace(
        plain, bars=tuple(replace(bar, marks=other.marks) for bar, other in zip(plain.bars, marked, strict=True))
    )
