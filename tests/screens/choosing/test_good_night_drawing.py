"""The picture of the end of a sitting, with as much to say as there can be."""

from dataclasses import replace

import pygame
import pytest

from game.coach.plan.day_facts import AimAnswer, NoteGain, SittingEnd
from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.message import message, verbatim
from game.screens.choosing.good_night_drawing import DIVIDE, SLIP_LEFT, GoodNightDrawing
from game.screens.choosing.good_night_words import good_night_sheet
from game.screens.ink_sheet import ink_sheet
from game.text.catalogue import catalogue_in, choose
from tests.sampling import sample
from tests.screens.table import Table

LONG = "The Very Long and Winding Air of the Three Ravens and of the Old Grey Mare that Went to the Mill by Night"
FULL = SittingEnd(
    minutes=59,
    takes=31,
    pages_signed=4,
    notes_read=900,
    quicker=tuple(NoteGain(written=name, string=6, fret=6, before_s=9.9, now_s=4.2) for name in ("Bb3", "C6", "B4")),
    new_ink=("Bb4", "F5", "C#5", "Eb5"),
    aim=AimAnswer(reached=True, said=verbatim(LONG)),
    tomorrow=((message("passage.bars_of_tune", title=LONG, first="9", last="12"), verbatim(LONG)),) * 2,
)


@pytest.fixture(params=["en", "de"])
def context(tmp_path, request):
    choose(catalogue_in(request.param))
    return Table(tmp_path).context


def changed(canvas, before):
    """The rectangle of what was drawn since."""
    mask = pygame.mask.from_threshold(canvas.surface, (0, 0, 0), (1, 1, 1, 255), before)
    mask.invert()
    boxes = mask.get_bounding_rects()
    return boxes[0].unionall(boxes[1:])


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (1920, 1080), (3440, 1440)], by_default=1))
def test_each_part_stays_in_its_room(context, size):
    canvas = Canvas(pygame.Surface(size), Sheet(size), context.theme)
    page = GoodNightDrawing(canvas, good_night_sheet(context, FULL), ink_sheet(context))
    rooms = {
        page._draw_title: canvas.rect(60, 40, size[0] / canvas.sheet.unit - 120, 96),
        page._draw_quicker: canvas.rect(60, 140, DIVIDE - 62, page._foot - 44 - 140),
        page._draw_ink: canvas.rect(670, 140, size[0] / canvas.sheet.unit - 725, page._foot - 44 - 140),
        page._draw_tomorrow: canvas.rect(60, page._foot - 28, SLIP_LEFT - 70, 160),
    }
    for draw, room in rooms.items():
        canvas.surface.fill(context.theme.paper)
        before = canvas.surface.copy()
        draw()
        assert room.contains(changed(canvas, before)), draw.__name__
        assert room.bottom <= size[1] - canvas.px(26) + 1 or draw == page._draw_tomorrow


DAYS = {
    "three quicker": {"quicker": 3, "signed": 5},
    "two quicker": {"quicker": 2, "signed": 5},
    "one quicker": {"quicker": 1, "signed": 5},
    "none quicker": {"quicker": 0, "signed": 5},
    "nothing signed": {"quicker": 0, "signed": 0},
}


def day(quicker, signed):
    """A day on which as many notes were read as a map has, far above and below the staff."""
    return replace(
        FULL,
        quicker=FULL.quicker[:quicker],
        read=("E3", "F3", "C4", "Eb4", "F#4", "A4", "Bb4", "C5", "E5", "G#5", "C6", "E6"),
        signed=(message("passage.bars_of_tune", title=LONG, first="9", last="12"),) * signed,
    )


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (1920, 1080), (3440, 1440)], by_default=1))
@pytest.mark.parametrize("which", sample(DAYS, by_default=2))
def test_the_day_stands_below_its_quicker_notes_left_of_the_ink_and_above_tomorrow(context, size, which):
    canvas = Canvas(pygame.Surface(size), Sheet(size), context.theme)
    page = GoodNightDrawing(canvas, good_night_sheet(context, day(**DAYS[which])), ink_sheet(context))
    canvas.surface.fill(context.theme.paper)
    page._draw_quicker()
    before = canvas.surface.copy()
    page._draw_day()
    if canvas.surface.get_view("2").raw == before.get_view("2").raw:
        # Three of them fill a low window.
        assert which == "three quicker"
        return
    drawn = changed(canvas, before)
    assert canvas.rect(60, 196, DIVIDE - 62, page._foot - 44 - 196).contains(drawn)
    canvas.surface.fill(context.theme.paper)
    blank = canvas.surface.copy()
    page._draw_quicker()
    assert changed(canvas, blank).bottom <= drawn.top + canvas.px(12)


def test_who_read_nothing_sees_the_ink_over_the_whole_sheet(context):
    canvas = Canvas(pygame.Surface((1280, 720)), Sheet((1280, 720)), context.theme)
    nothing = replace(FULL, takes=0, notes_read=0, quicker=(), new_ink=(), aim=None, pages_signed=0)
    page = GoodNightDrawing(canvas, good_night_sheet(context, nothing), ink_sheet(context))
    assert page.draw().left == canvas.px(70)
    full = GoodNightDrawing(canvas, good_night_sheet(context, FULL), ink_sheet(context))
    assert full.draw().left > canvas.px(DIVIDE)


def test_the_last_line_of_tomorrow_stands_on_the_paper(context):
    canvas = Canvas(pygame.Surface((1280, 720)), Sheet((1280, 720)), context.theme)
    canvas.surface.fill(context.theme.paper)
    before = canvas.surface.copy()
    GoodNightDrawing(canvas, good_night_sheet(context, FULL), ink_sheet(context))._draw_tomorrow()
    assert changed(canvas, before).bottom <= 690
