"""A page of the book as it is drawn: nothing leaves it, whatever is on it."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pygame
import pytest

from game.desk.kit.book_sheet import BOOK_SHEET
from game.desk.kit.canvas import Align, Canvas
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER
from game.music.meter import Meter
from game.player.kept_signature import PlayerSignature
from game.practice_log.queries.figure_records import PassageFigures
from game.screens.progress.book_drawing import ShownPage, draw_book_heading, draw_first_wanted, draw_page
from game.screens.progress.book_pages import BookPage
from game.screens.sheet_places import SheetPlaces
from game.text.language import languages
from tests.sampling import sample
from tests.speaking import speaking

DAY = date(2025, 11, 20)
FIGURES = PassageFigures(
    key="k",
    title="The Longest Title that Ever Stood above a Tune, in Two Parts",
    first="101",
    last="116",
    takes=1234,
    first_day=DAY,
    last_day=DAY,
    newest_bpm=60,
    clean_bpm=120,
    target_bpm=184,
    read_day=DAY,
    marks=(("in time", DAY),),
)
PAGES = {
    "signed": BookPage(figures=FIGURES, signed=DAY, named=DAY),
    "waiting": BookPage(figures=FIGURES, signed=None),
    "untitled": BookPage(figures=replace(FIGURES, title=""), signed=DAY),
}
STROKES = PlayerSignature(strokes=(((0.0, 0.5), (7.9, 0.1)), ((3.0, 0.9), (5.0, 0.0))))
AT = (60.0, 40.0)


@pytest.fixture(params=[((960, 600), PAPER), ((1280, 720), NIGHT)], ids=["small", "night"])
def canvas(request):
    pygame.font.init()
    size, theme = request.param
    pygame.display.set_mode((1, 1))
    surface = pygame.Surface(size)
    surface.fill(theme.paper)
    return Canvas(surface, Sheet(size), theme)


def stray(canvas):
    """What is drawn farther from the page than its shadow and outline reach."""
    page = canvas.rect(AT[0] - 8, AT[1] - 8, BOOK_SHEET[0] + 16, BOOK_SHEET[1] + 22)
    mask = pygame.mask.from_threshold(canvas.surface, canvas.theme.paper, (4, 4, 4, 255))
    mask.invert()
    mask.erase(pygame.Mask(page.size, fill=True), page.topleft)
    return mask.count()


@pytest.mark.parametrize("language", sample(["en", "de"], by_default=1))
@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("page", sample(PAGES, by_default=2))
@pytest.mark.parametrize(
    "signature", sample([STROKES, PlayerSignature(typed="Maximiliane Hohenstaufen-Wittelsbach"), None], by_default=2)
)
def test_nothing_leaves_the_page(canvas, page, turned, language, signature):
    shown = ShownPage(
        page=PAGES[page],
        meter=Meter(6, 8),
        signature=signature,
        chosen=True,
        turned=turned,
        gone=True,
        kept_bpms=tuple(range(100, 184, 12)),
        today=date(2026, 1, 1),
    )
    with speaking(language):
        draw_page(canvas, AT, shown)
    assert stray(canvas) == 0


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_place_of_the_first_page_holds_its_sentence(canvas, language):
    with speaking(language):
        draw_first_wanted(canvas, AT)
    assert stray(canvas) == 0


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("size", [(960, 600), (1280, 720), (2560, 1080)])
@pytest.mark.parametrize("out_of_sight", [(0, 0), (0, 9), (12, 0), (123, 456)])
def test_how_many_pages_are_above_and_below_has_room_beside_what_the_pages_come_to(
    size, language, out_of_sight, monkeypatch
):
    """The right edge of the sheet is where `SheetPlaces` has it; every kind of page is counted."""
    kinds = [PAGES["signed"], replace(PAGES["signed"], figures=replace(FIGURES, read_day=None)), PAGES["waiting"]]
    written, write = [], Canvas.write

    def noted(canvas, words, at, style, align=Align.LEFT):
        rect = write(canvas, words, at, style, align)
        written.extend([(rect, words)] if words else [])
        return rect

    monkeypatch.setattr(Canvas, "write", noted)
    sheet = Sheet(size)
    with speaking(language):
        canvas = Canvas(pygame.Surface(size), sheet, PAPER)
        above, below = draw_book_heading(canvas, SheetPlaces(sheet).right, (*kinds, *kinds * 40), out_of_sight)
    assert [rect.width > 0 for rect in (above, below)] == [count > 0 for count in out_of_sight]
    assert "…" not in "".join(words for _, words in written)
    in_order = sorted((rect for rect, _ in written), key=lambda rect: rect.left)
    assert all(one.right < other.left for one, other in pairwise(in_order))
    assert in_order[-1].right <= sheet.px(SheetPlaces(sheet).right) + 1
