"""On a result nothing overlaps and nothing is cut, in every size and language, however much there is to say."""

from itertools import product

import pygame
import pytest

from game.coach.shown_marks import ShownMark
from game.coach.stages import Stage
from game.desk.kit.canvas import Canvas
from game.desk.kit.ladder import Rung, RungState
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.message import message
from game.practice.take_counts import TakeCounts
from game.screens.reading.counts_in_words import counts_in_words
from game.screens.reading.passage_heading import PassageHeading, worded_marks
from game.screens.reading.result_sheet import ResultSheet
from game.screens.reading.result_words import ResultWords
from game.text.language import languages
from tests.sampling import sample
from tests.speaking import speaking

SIZES = ((960, 600), (1280, 720), (1920, 1080), (2560, 1080), (3840, 2160))
RUNGS = tuple(
    Rung(tempo=bpm, state=RungState.NOW if bpm == 70 else RungState.AHEAD, takes=(True, False), target=bpm == 96)
    for bpm in (57, 61, 65, 70, 75, 81, 96)
)
SHORT, LONG = "All eighteen, and steady.", "The D in bar 11 was read as C, one step low. " * 3
NAMED = (("read", False, False), ("found", True, False), ("in time", True, True), ("signed off", False, False))
MARKS = tuple(ShownMark(said=message(f"book.{name}"), earned=earned, new=new) for name, earned, new in NAMED)
CASES = tuple(product(SIZES, languages(), ((), RUNGS), (SHORT, LONG), (False, True)))


@pytest.fixture(autouse=True, scope="module")
def _display():
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((64, 64))


def sheet(size, rungs, said, strings):
    surface = pygame.Surface(size)
    surface.fill(PAPER.paper)
    canvas = Canvas(surface, Sheet(size), PAPER)
    heading = PassageHeading(
        title="The Wild Mountain Thyme, or Will Ye Go, Lassie, Go?",
        where="bars 9–12 with the pickup at 65",
        marks=worded_marks(MARKS),
    )
    counts = counts_in_words(TakeCounts(asked=128, right=128, in_time=97, bars=32, bars_kept=32), Stage.TIME)
    words = ResultWords(counts=counts, why=said, now=said, beside=(SHORT,))
    return ResultSheet(canvas, heading, words, rungs, played_bpm=65, strings=strings)


@pytest.mark.parametrize(("size", "language", "rungs", "said", "strings"), sample(CASES, by_default=2))
def test_no_text_meets_another_and_all_of_it_is_on_the_paper(monkeypatch, size, language, rungs, said, strings):
    written = []
    write = Canvas.write

    def noted(self, *what):
        rect = write(self, *what)
        # The box of a text is higher than its letters: of two lines one may reach into the other's.
        written.append(rect.inflate(0, -round(rect.height * 0.5)))
        return rect

    monkeypatch.setattr(Canvas, "write", noted)
    with speaking(language):
        made = sheet(size, rungs, said, strings)
        made.draw()
    assert len(written) > 12
    for at, rect in enumerate(written):
        assert made.canvas.sheet.paper.contains(rect)
        assert not rect.colliderect(made.page_area)
        assert rect.collidelist(written[:at]) < 0


@pytest.mark.parametrize("size", SIZES)
def test_the_page_has_most_of_the_sheet_where_little_is_said(size):
    made = sheet(size, RUNGS, SHORT, strings=False)
    assert made.page_area.height >= made.canvas.px(220)


def test_where_it_is_low_nothing_is_told_beside():
    assert sheet((1280, 720), RUNGS, LONG, strings=True)._beside == ""
    assert sheet((960, 600), RUNGS, SHORT, strings=False)._beside == SHORT


@pytest.mark.parametrize("said", [SHORT, LONG])
def test_what_to_do_now_is_set_larger_than_any_count_and_why_as_large(monkeypatch, said):
    """The largest thing says what to do next, and is no score."""
    sizes = {}
    write = Canvas.write

    def noted(self, text, at, style, *more):
        sizes[text] = max(sizes.get(text, 0), style.size)
        return write(self, text, at, style, *more)

    monkeypatch.setattr(Canvas, "write", noted)
    made = sheet((1280, 720), (), said, strings=False)
    made.draw()
    why, now = made._paragraphs
    others = [
        size for text, size in sizes.items() if text not in (now.name, *now.lines) and not text.startswith("The W")
    ]
    assert now.name == "Now"
    assert len(others) >= 9
    assert now.size > max(others)
    assert why.size >= max(sizes[str(count.figure)] for count in made.words.counts)
