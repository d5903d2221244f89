"""Progress on screen: three figures, which are its chapters."""

from datetime import date, timedelta

import pygame
import pytest

from game.desk.kit import fitted_line
from game.desk.kit.canvas import Canvas
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, SightReading, SignedPace
from game.screens.choosing.lines_read import LineRead
from game.screens.progress.progress_figures import Progress
from game.screens.progress.progress_sheet import ProgressSheet
from game.screens.routes import ToProgress, ToShelf, ToToday, ToUnseenLine
from game.text import catalogue
from game.text.catalogue import catalogue_in
from game.text.language import languages
from tests.sampling import sample
from tests.screens.drawn_text import DrawnText
from tests.screens.table import Table


@pytest.fixture
def practised(tmp_path):
    """A passage read once with one note that took long."""
    from datetime import datetime

    table = Table(tmp_path)
    table.day = datetime.now().astimezone().date().toordinal()
    table.open("F4 q, G4 q, A4 q, G4 q", "F4 q, A4 q, G4 q, A4 q", "G4 q, F4 q, A4 q, F4 q")
    for note in table.screen.take.expected:
        table.wait(3.0 if note.sounding == 57 else 0.3, frame_s=0.1)
        table.play(note.sounding)
    table.wait(2.0)
    table.context.session.log.flush()
    table.go(ToShelf())
    return table


@pytest.fixture
def drawn(monkeypatch):
    """What is written from now on."""
    return DrawnText(monkeypatch)


def test_a_letter_leads_there_and_escape_and_the_corner_back_to_today(practised):
    for key in (pygame.K_ESCAPE, pygame.K_RETURN):
        practised.go(ToToday())
        practised.key(pygame.K_g)
        assert practised.screen_name == "ProgressScreen"
        practised.key(key)
        assert practised.screen_name == "TodayScreen"


def test_without_a_log_it_says_what_will_come(table):
    table.go(ToProgress())
    assert table.screen.progress == Progress()
    assert [chapter.figure for chapter in table.screen.chapters] == ["–"] * 3


def test_where_much_has_to_be_added_up_it_says_so_before_it_does(practised, drawn, monkeypatch):
    monkeypatch.setattr("game.screens.progress.progress_figures._AT_ONCE", 0)
    practised.go(ToProgress())
    assert practised.screen.progress == Progress()
    assert "The log is being added up: this takes a few seconds." in drawn.whole
    practised.wait(0.5)
    assert practised.screen.progress.slowest
    practised.go(ToProgress())
    assert practised.screen.progress.slowest, "nothing is left to be added up"


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (3840, 2160)], by_default=1))
def test_arrows_and_a_click_on_a_figure_open_its_chapter(tmp_path, size):
    table = Table(tmp_path, size=size)
    table.go(ToProgress())
    seen = []
    for _ in range(3):
        table.key(pygame.K_RIGHT)
        seen.append(table.screen.chosen)
    assert seen == [1, 2, 0]
    table.key(pygame.K_LEFT)
    assert table.screen.chosen == 2
    for number in (1, 0, 2):
        sheet = ProgressSheet(Canvas(table.app.surface, table.context.sheet, table.context.theme))
        table.click(sheet.figure_rect(number).center)
        assert table.screen.chosen == number


def test_an_unseen_line_that_was_read_makes_a_dot(practised):
    practised.go(ToUnseenLine("F"))
    practised.key(pygame.K_SPACE, " ")
    practised.play_through(each_s=0.4)
    practised.context.session.log.flush()
    practised.go(ToProgress())
    sight = practised.screen.chapters[0]
    assert [dot.inside for dot in sight.dots] == ["1"]
    assert sight.below[0] == "Five unseen lines make a curve; one is here."
    assert sight.below[1].startswith("Position V: 0 of 3 days with nine of ten right at first sight")


@pytest.mark.parametrize("language", sample(languages(), by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_nothing_is_cut_in_any_language_with_much_to_tell(tmp_path, monkeypatch, language, size):
    table = Table(tmp_path, size=size)
    monkeypatch.setattr(catalogue._Chosen, "catalogue", catalogue_in(language))
    table.go(ToProgress())
    table.screen.progress = much()
    cut = []
    monkeypatch.setattr(fitted_line, "shortened", lambda text, *_: cut.append(text) or text)
    for _ in range(3):
        table.key(pygame.K_RIGHT)
        found = [box for box, _ in table.context.window._boxes]
        assert all(box.collidelistall(found) == [number] for number, box in enumerate(found))
    assert cut == []


def much():
    """Weeks of practice, and notes with the longest that is told of them."""
    day = date(2026, 11, 1)
    lines = tuple(
        LineRead(
            level=1 + at // 12,
            key="F",
            sight=SightReading(day=day + timedelta(days=at), title="", stage="sight", notes=128, clean=100 + at),
        )
        for at in range(24)
    )
    days = tuple(
        DayFigures(day=day + timedelta(days=at), minutes=18, takes=9, read=60, clean=50, found=400, found_s=400.0)
        for at in range(20)
    )
    slow = tuple(
        NoteFigures(written=name, string=3, fret=5, read=9, clean=8, find_s=2.5, causes=(("octave", 2),))
        for name in ("Bb4", "Eb5", "A5")
    )
    pace = SignedPace(day=day, title="When the Saints Go Marching In", first="13", last="16", bpm=120, notes_per_beat=2)
    return Progress(lines=lines, days=days, slowest=slow, signed=(pace,) * 12)
