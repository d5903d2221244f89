"""The neck of one's own notes."""

import itertools

import pygame
import pytest

from game.desk.kit.ink_neck import InkNeck, draw_ink_neck, draw_place
from game.desk.kit.note_fill import Fill, FilledPlace


@pytest.fixture(params=[(3, 9), (0, 12), (11, 17)], ids=str)
def frets(request):
    return request.param


@pytest.fixture(params=[False, True], ids=["right", "left"])
def neck(request, frets):
    first, last = frets
    room = {"left": 200.0, "top": 150.0, "width": 560.0, "height": 162.0}
    return InkNeck(**room, first=first, last=last, position=first + 2, left_handed=request.param)


def test_every_place_that_is_drawn_is_found_again_under_its_middle(neck):
    lowest = 0 if neck.first == 0 else neck.first + 1
    for string in range(1, 7):
        for fret in range(lowest, neck.last + 1):
            assert neck.place_at(neck.middle_of(string, fret)) == (string, fret)


def test_beside_the_neck_there_is_no_place(neck):
    assert neck.place_at((neck.left - 2, neck.top + 20)) is None
    assert neck.place_at((neck.left + 20, neck.top + neck.height + 2)) is None


def test_frets_come_closer_together_as_on_a_guitar(neck):
    """Each is the twelfth root of two nearer (equal temperament); from the right for a left hand."""
    widths = [abs(neck.fret_x(fret + 1) - neck.fret_x(fret)) for fret in range(neck.first, neck.last)]
    ratios = [before / after for before, after in itertools.pairwise(widths)]
    assert ratios == pytest.approx([2 ** (1 / 12)] * len(ratios))
    assert (neck.fret_x(neck.last) > neck.fret_x(neck.first)) != neck.left_handed


NECK = InkNeck(left=200, top=150, width=560, height=162, first=3, last=9, position=5)


def test_all_of_it_stays_in_its_room_but_for_numeral_and_inlays(canvas, drawn):
    neck = NECK
    places = [FilledPlace(string, neck.last, Fill.INK, "B♭") for string in range(1, 7)]
    draw_ink_neck(canvas, neck, places)
    allowed = canvas.rect(neck.left - 3, neck.top - 32, neck.width + 6, neck.height + 54)
    assert allowed.contains(drawn(canvas))


def test_a_place_in_ink_is_blue_and_one_not_met_is_empty(canvas):
    draw_ink_neck(canvas, NECK, [FilledPlace(1, 9, Fill.INK), FilledPlace(2, 9, Fill.EMPTY)])
    for string, colour in ((1, canvas.theme.read), (2, canvas.theme.paper)):
        seen = canvas.surface.get_at(canvas.point(NECK.middle_of(string, 9)))[:3]
        # Made small, a colour is rounded.
        assert all(abs(one - other) <= 4 for one, other in zip(seen, colour, strict=True))


@pytest.mark.parametrize("fill", Fill)
def test_letters_that_have_no_room_in_a_dot_have_a_wider_one(canvas, drawn, fill):
    draw_place(canvas, FilledPlace(1, 9, fill, "A"), (200, 200), 26)
    round_one = drawn(canvas).width
    draw_place(canvas, FilledPlace(1, 9, fill, "sol♯"), (200, 200), 26)
    assert drawn(canvas).width > round_one + canvas.px(10)


def test_what_is_known_in_work_and_not_met_are_told_by_shape_alone(canvas):
    """In one grey for all colours: a letter in what was met, ink that fills it, and the ring around what is due."""
    at, dot = (400.0, 300.0), 30.0
    box = canvas.rect(375, 275, 50, 50)
    shapes = {}
    for fill in (Fill.EMPTY, Fill.PENCIL, Fill.INK, Fill.DUE):
        canvas.surface.fill(canvas.theme.paper)
        draw_place(canvas, FilledPlace(3, 5, fill, "" if fill is Fill.EMPTY else "C"), at, dot)
        mask = pygame.mask.from_threshold(canvas.surface.subsurface(box), canvas.theme.paper, (24, 24, 24, 255))
        mask.invert()
        shapes[fill] = mask
    for one, other in itertools.combinations(shapes.values(), 2):
        differing = one.count() + other.count() - 2 * one.overlap_area(other, (0, 0))
        assert differing > 0.03 * box.width * box.height


@pytest.mark.parametrize("strings", [4, 5, 7, 8])
@pytest.mark.parametrize("left_handed", [False, True])
def test_every_string_of_other_instruments_is_found_under_its_places(strings, left_handed):
    neck = InkNeck(
        left=200, top=150, width=560, height=162, first=0, last=9, position=5, strings=strings, left_handed=left_handed
    )
    for string in range(1, strings + 1):
        for fret in range(10):
            assert neck.place_at(neck.middle_of(string, fret)) == (string, fret)
    assert neck.dot <= 40


@pytest.mark.parametrize("left_handed", [False, True])
def test_a_capo_is_a_bar_at_the_edge_from_which_frets_are_counted(canvas, left_handed):
    neck = InkNeck(
        left=200, top=150, width=560, height=162, first=0, last=9, position=5, left_handed=left_handed, capo=3
    )
    draw_ink_neck(canvas, neck, ())
    x = neck.fret_x(0) + (-4.5 if left_handed else 4.5)
    for y in (170, 200, 290):
        assert canvas.surface.get_at(canvas.point((x, y)))[:3] == canvas.theme.ink


@pytest.mark.parametrize(("span", "shaded"), [(3, [5, 6, 7]), (4, [5, 6, 7, 8]), (5, [5, 6, 7, 8, 9])])
def test_the_frets_under_the_fingers_of_this_hand_are_shaded_in_both_regions(canvas, span, shaded):
    neck = InkNeck(left=200, top=150, width=760, height=162, first=3, last=18, position=5, second=12, span=span)
    draw_ink_neck(canvas, neck, ())

    def ground(fret):
        x, y = neck.middle_of(3, fret)
        return canvas.surface.get_at(canvas.point((x, y + 162 / 12)))[:3]

    bare = ground(4)
    assert [fret for fret in range(4, 12) if ground(fret) != bare] == shaded
    assert [fret for fret in range(12, 19) if ground(fret) != bare] == [fret + 7 for fret in shaded]
