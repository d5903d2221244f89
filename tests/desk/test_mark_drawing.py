"""Pencil marks stand in the lane below the print, tied to their notes."""

from itertools import product

import pygame
import pytest

from game.desk.mark_drawing import PencilLayer
from game.desk.mark_lanes import LaneType, LineInSight, NoteBox, PencilLane
from game.desk.theme import NIGHT, PAPER
from game.music.names import NoteNames
from game.music.pitch import pitch
from game.music.written import HeadId
from game.neck.tuning import Place
from game.practice.pencilled import (
    CountMark,
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlacedMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
    UnsureMark,
)

SPACE = 16
BOTTOM_LINE_Y = 200
HEAD, NEXT = HeadId(0, 0), HeadId(0, 1)
BOTTOM_STEP = pitch("E4").staff_step
TYPE = LaneType(20)
LANE_TOP = 280
SEEN = LineInSight(0, 0, 0, 400)

A_PLAYED = PlayedHead(pitch=pitch("A4"), show_sign=False)
MARKS = [
    NameMark(text="fa♯"),
    PlaceMark(place=Place(3, 5), home=True),
    MissedMark(),
    OffTimeMark(early=True),
    OffTimeMark(early=False),
    SaidWrongMark(),
    UnsureMark(),
    PaceMark("ahead"),
    A_PLAYED,
]


def step_y(step):
    return BOTTOM_LINE_Y - (step - BOTTOM_STEP) * SPACE / 2


def printed(name, x=150):
    """The box of a printed note, its stem up at its right."""
    head = pygame.Rect(0, 0, round(1.2 * SPACE), SPACE)
    head.center = (x, round(step_y(pitch(name).staff_step)))
    return NoteBox(
        head=head,
        group=head.union(head.move(0, -3 * SPACE)),
        bottom_line_y=BOTTOM_LINE_Y,
        space_px=SPACE,
        step_y=step_y,
    )


def stem_of(box):
    return pygame.Rect(box.head.right - 2, box.group.top, 2, box.head.centery - box.group.top)


def layer(*names, rows=3, apart=40, names_as=NoteNames.ENGLISH, more_print=(), lane_type=TYPE):
    """The pencil under a line of notes."""
    boxes = {HeadId(0, at): printed(name, 150 + at * apart) for at, name in enumerate(names)}
    print_ = (*(box.head for box in boxes.values()), *(stem_of(box) for box in boxes.values()), *more_print)
    # The clef is lower than any note here.
    clef = pygame.Rect(0, BOTTOM_LINE_Y - 5 * SPACE, 30, 8 * SPACE)
    lane = PencilLane(top=LANE_TOP, rows=rows, left=0, right=400, printed=(clef, *print_))
    return PencilLayer(lambda head: (0, boxes[head]), lambda _: lane, lane_type, names_as)


@pytest.fixture(autouse=True)
def surface():
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((400, 400))
    made = pygame.Surface((400, 400))
    made.fill(PAPER.paper)
    return made


def placed(*marks, head=HEAD):
    return [PlacedMark(head, mark) for mark in marks]


def rects(pencil_layer, marks):
    """Where each mark was laid, and each stroke under None."""
    return [(mark, rect) for _, mark, _, rect in pencil_layer.rects(marks, PAPER)]


def rect_of(pencil_layer, mark):
    return next(rect for laid, rect in rects(pencil_layer, placed(mark)) if laid == mark)


def drawn(surface, pencil_layer, marks):
    pencil_layer.draw(surface, marks, lambda _: SEEN, PAPER)
    mask = pygame.mask.from_threshold(surface, PAPER.paper, (6, 6, 6))
    mask.invert()
    boxes = mask.get_bounding_rects()
    return boxes[0].unionall(boxes[1:]) if boxes else None


@pytest.mark.parametrize(
    ("mark", "name"),
    [*product(MARKS, ("B4", "C4")), *((mark, "C6") for mark in MARKS if not isinstance(mark, PlayedHead))],
)
def test_every_mark_stands_in_the_lane_under_its_note_with_a_thin_stroke_between(mark, name):
    laid = dict(rects(layer(name), placed(mark)))
    where, stroke = laid[mark], laid[None]
    assert LANE_TOP <= where.top < where.bottom <= LANE_TOP + TYPE.row_px
    assert abs(where.centerx - 150) <= 2
    assert abs(stroke.centerx - 150) <= 2
    assert stroke.width < TYPE.px / 4
    note = printed(name)
    assert max(BOTTOM_LINE_Y, note.group.bottom) <= stroke.top < stroke.bottom <= where.top


@pytest.mark.parametrize("mark", MARKS)
def test_what_is_drawn_is_what_was_laid_and_readable(surface, mark):
    pencil_layer = layer("B4")
    laid = rects(pencil_layer, placed(mark))
    where = drawn(surface, pencil_layer, placed(mark))
    assert laid[0][1].unionall([rect for _, rect in laid]).inflate(2, 2).contains(where)
    assert max(rect_of(pencil_layer, mark).size) >= TYPE.px * 0.6


def test_a_stroke_begins_below_all_print_in_its_column():
    """A tie, say, that hangs below the head."""
    arc = pygame.Rect(120, 220, 100, 12)
    stroke = dict(rects(layer("B4", more_print=(arc,)), placed(MissedMark())))[None]
    assert stroke.top >= arc.bottom


def test_a_note_out_of_sight_has_no_mark(surface):
    pencil_layer = layer("B4")
    for seen in (None, LineInSight(0, 0, 160, 400), LineInSight(0, 0, 0, 140)):
        pencil_layer.draw(surface, placed(SaidWrongMark()), lambda _, seen=seen: seen, PAPER)
    assert surface.get_bounding_rect() == surface.get_rect()
    blank = surface.copy()
    blank.fill(PAPER.paper)
    assert surface.get_view("2").raw == blank.get_view("2").raw


def test_marks_go_with_their_line(surface):
    pencil_layer = layer("B4")
    before = drawn(surface, pencil_layer, placed(MissedMark()))
    surface.fill(PAPER.paper)
    pencil_layer.draw(surface, placed(MissedMark()), lambda _: LineInSight(-30, 12, 0, 400), PAPER)
    mask = pygame.mask.from_threshold(surface, PAPER.paper, (6, 6, 6))
    mask.invert()
    boxes = mask.get_bounding_rects()
    assert boxes[0].unionall(boxes[1:]) == before.move(-30, 12)


def test_the_marks_of_one_note_stand_one_below_the_other():
    """The letter of help and the ring of a string, say, after a note that was played wrong."""
    marks = placed(PlaceMark(place=Place(3, 5), home=True), NameMark(text="F"), A_PLAYED)
    laid = [(mark, rect) for mark, rect in rects(layer("B4"), marks) if mark is not None]
    assert [type(mark) for mark, _ in sorted(laid, key=lambda one: one[1].top)] == [PlayedHead, NameMark, PlaceMark]
    where = [rect for _, rect in laid]
    assert all(rect.collidelist(where[:at]) < 0 for at, rect in enumerate(where))


def test_where_there_are_few_rows_the_mark_that_matters_most_stays():
    marks = placed(PaceMark("ahead"), PlaceMark(place=Place(3, 5)), A_PLAYED)
    left = [type(mark) for mark, _ in rects(layer("B4", rows=1), marks) if mark is not None]
    assert left == [PlayedHead]


def test_a_page_is_told_how_many_rows_its_marks_take():
    few, many = (
        placed(MissedMark()),
        placed(NameMark(text="F"), NameMark(text="G", struck=True, row=1), PaceMark("ahead")),
    )
    assert layer("B4").rows_wanted(few, PAPER) == {0: 1}
    assert layer("B4").rows_wanted(many, PAPER) == {0: 3}
    assert layer("B4").rows_wanted([], PAPER) == {}


def test_counts_stand_in_the_last_row_and_have_no_strokes():
    marks = [*placed(CountMark("1"), MissedMark()), *placed(CountMark("&"), head=NEXT)]
    laid = rects(layer("B4", "B4"), marks)
    counts = [rect for mark, rect in laid if isinstance(mark, CountMark)]
    assert len(counts) == 2
    assert all(LANE_TOP + 2 * TYPE.row_px <= rect.top < rect.bottom <= LANE_TOP + 3 * TYPE.row_px for rect in counts)
    assert sum(mark is None for mark, _ in laid) == 1


def test_where_counts_would_touch_the_beats_are_counted():
    marks = [*placed(CountMark("e")), *placed(CountMark("2"), head=NEXT)]
    assert [mark.text for mark, _ in rects(layer("B4", "B4", apart=8), marks)] == ["2"]


def test_a_wrong_name_is_struck_through_and_further_ones_stand_below():
    pencil_layer = layer("G4")
    plain, struck = rect_of(pencil_layer, NameMark(text="F")), rect_of(pencil_layer, NameMark(text="F", struck=True))
    assert struck.width > plain.width
    laid = dict(rects(pencil_layer, placed(NameMark(text="F"), NameMark(text="G", struck=True, row=1))))
    assert laid[NameMark(text="G", struck=True, row=1)].top > laid[NameMark(text="F")].top + SPACE


def test_a_note_played_a_third_or_more_away_stands_in_the_column_of_its_note_where_that_is_free():
    """Under a note whose stem goes up."""
    mark = PlayedHead(pitch=pitch("F4"), show_sign=True)
    laid = rects(layer("C5"), placed(mark))
    assert len(laid) == 1
    assert laid[0][1].centery == pytest.approx(step_y(pitch("F4").staff_step), abs=2)
    assert laid[0][1].right == pytest.approx(printed("C5").head.right, abs=4)


@pytest.mark.parametrize(
    ("name", "played"), [("C5", "B4"), ("C5", "D5"), ("C5", "G5"), ("A4", "A4"), ("F4", "C4"), ("C4", "A3")]
)
def test_nearer_or_where_print_is_in_the_way_its_letter_stands_in_the_lane(name, played):
    """A step away; up the stem; on the way of a beam below; below all print."""
    beam = pygame.Rect(140, BOTTOM_LINE_Y + 8, 40, 20)
    mark = PlayedHead(pitch=pitch(played), show_sign=False)
    where = rect_of(layer(name, more_print=(beam,)), mark)
    assert where.top >= LANE_TOP


def test_its_letter_is_in_the_names_of_the_player():
    """Beside the natural that B flat would otherwise be taken for; German has a name for each."""
    mark = PlayedHead(pitch=pitch("B4"), show_sign=True)
    widths = {names: rect_of(layer("B4", names_as=names), mark).width for names in NoteNames}
    assert widths[NoteNames.SOLFEGE] > widths[NoteNames.ENGLISH] > widths[NoteNames.GERMAN]


def test_its_own_letter_in_another_octave_says_so():
    """ "8va" (trade)."""
    beam = pygame.Rect(100, 0, 100, 140)
    up = rect_of(layer("B4", more_print=(beam,)), PlayedHead(pitch=pitch("B5"), show_sign=False))
    letter = rect_of(layer("B4"), PlayedHead(pitch=pitch("B4"), show_sign=False))
    assert up.width > 2 * letter.width


def test_where_the_staff_is_small_beside_the_type_its_letter_is_written():
    """A small head of less than three quarters of the type could not be read."""
    mark = PlayedHead(pitch=pitch("F4"), show_sign=False)
    assert rect_of(layer("C5"), mark).bottom < LANE_TOP
    assert rect_of(layer("C5", lane_type=LaneType(22)), mark).top >= LANE_TOP


def test_early_points_to_the_left_and_late_to_the_right(surface):
    """The barbs are where the arrow is highest."""
    tips = []
    for early in (True, False):
        surface.fill(PAPER.paper)
        mark = OffTimeMark(early=early)
        pencil_layer = layer("B4")
        drawn(surface, pencil_layer, placed(mark))
        where = rect_of(pencil_layer, mark)
        columns = [
            sum(surface.get_at((x, y))[:3] != PAPER.paper for y in range(where.top, where.bottom))
            for x in range(where.left, where.right)
        ]
        half = len(columns) // 2
        tips.append("left" if sum(columns[:half]) > sum(columns[half:]) else "right")
    assert tips == ["left", "right"]


def test_a_mark_at_the_end_of_a_line_ends_with_it():
    pencil_layer = layer("B4", "B4", apart=245)
    marks = placed(PaceMark("from here behind the click"), head=NEXT)
    assert max(rect.right for _, rect in rects(pencil_layer, marks)) <= 400


def test_other_colours_are_drawn_anew(surface):
    pencil_layer = layer("B4")
    drawn(surface, pencil_layer, placed(MissedMark()))
    day = surface.copy()
    pencil_layer.draw(surface, placed(MissedMark()), lambda _: SEEN, NIGHT)
    assert surface.get_view("2").raw != day.get_view("2").raw
