"""The heading is one line in which nothing meets, however long the title and however many the marks."""

from dataclasses import replace
from itertools import pairwise

import pytest

from game.coach.shown_marks import READ, ShownMark
from game.coach.stages import Pulse, Stage
from game.desk.kit.canvas import Canvas
from game.desk.kit.mark_words import WordedMark
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.message import message
from game.neck.neck_map import standard_map
from game.practice.take_request import request_for
from game.screens.reading.passage_heading import PassageHeading, draw_passage_heading, played_in_words, worded_marks
from tests.made import score

LONG = "The Wild Mountain Thyme, or Will Ye Go, Lassie, Go? As Sung in the Hills"
MARKS = tuple(WordedMark(word, earned=True, new="new") for word in ("read", "found", "in time", "signed off"))


@pytest.fixture
def written(monkeypatch, table):  # noqa: ARG001 - a window has been opened
    texts = []
    write = Canvas.write

    def noted(self, text, *what):
        rect = write(self, text, *what)
        texts.append((text, rect))
        return rect

    monkeypatch.setattr(Canvas, "write", noted)
    return texts


@pytest.mark.parametrize("size", [(960, 600), (1280, 720)])
@pytest.mark.parametrize(("title", "marks"), [("Ode to Joy", ()), ("Ode to Joy", MARKS), (LONG, ()), (LONG, MARKS)])
def test_nothing_meets_and_of_the_title_enough_is_seen(table, written, size, title, marks):
    canvas = Canvas(table.app.surface.copy(), Sheet(size), PAPER)
    draw_passage_heading(canvas, PassageHeading(title=title, where="bars 9–12, at your own pace", marks=marks), 1005.0)
    rects = [rect for text, rect in written if text]
    assert all(one.right <= other.left for one, other in pairwise(rects))
    assert rects[-1].right <= canvas.sheet.text_area.right
    assert written[0][0] == title or written[0][1].width >= canvas.px(230)


@pytest.mark.parametrize("size", [(960, 600), (1280, 720)])
def test_beside_two_new_marks_a_title_of_five_words_is_set_smaller_and_not_cut(table, written, size):
    canvas = Canvas(table.app.surface.copy(), Sheet(size), PAPER)
    title, where = "The Ford at Low Water", "das ganze Stück, nur der Ton"
    marks = (*MARKS[:2], *(replace(mark, earned=False, new="") for mark in MARKS[2:]))
    draw_passage_heading(canvas, PassageHeading(title=title, where=where, marks=marks), 1212.0)
    assert [text for text, _ in written][:2] == [title, where]


def test_marks_just_earned_say_so_and_read_is_shown_only_where_it_was_earned():
    found = ShownMark(said=message("book.found"), earned=True, new=True)
    read = ShownMark(said=READ, earned=False, new=False)
    assert worded_marks((read, found)) == (WordedMark("found", earned=True, new="new"),)
    assert worded_marks((replace(read, earned=True),)) == (WordedMark("read", earned=True),)


def test_it_says_which_bars_and_how_they_were_played():
    request = request_for(score(*["F4 q, G4 q, A4 q, G4 q"] * 8), standard_map())
    assert played_in_words(request) == "bars 1–4, pitch only"
    timed = replace(request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=65)
    assert played_in_words(timed) == "bars 1–4 at 65"
    assert played_in_words(timed.whole_or_passages()) == "the whole tune at 65"
    assert played_in_words(replace(timed.whole_or_passages(), fresh=True)) == "the whole line at 65"
