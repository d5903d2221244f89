"""What marks the start and the end of a bar."""

import pytest

from game.engraving.bar_words import moved_shape, place_ends, place_starts
from game.engraving.shapes import Box, Shape, System, TextExtent
from game.engraving.skyline import Skyline
from game.engraving.svg_reader import RawSign, RawText
from tests.engraving.touching import touch


def measure(_, text):
    return TextExtent(float(len(text)), 1.0, 0.0)


@pytest.fixture
def line():
    """Two bars, twenty spaces each, with the top line at 10."""
    return System(top_line=10.0, right=40.0, bars=[4, 5], bar_ends=[20.0, 40.0])


@pytest.fixture
def skyline():
    return Skyline(0.0, 40.0, 9.6)


def ended(line, skyline, *words):
    place_ends(line, [RawText("dir", bar, text, 0.0) for bar, text in words], measure, skyline)
    return line.texts


def test_words_of_a_jump_end_with_their_bar(line, skyline):
    (fine,) = ended(line, skyline, (4, "Fine"))
    assert (fine.box.left, fine.box.right) == (16.0, 20.0)


def test_words_rise_above_print_that_is_in_their_way_and_only_above_that(line, skyline):
    skyline.add([Box(18.0, 5.0, 19.0, 11.0)])
    first, second = ended(line, skyline, (4, "Fine"), (5, "Fine"))
    assert first.box.bottom < 5.0 < second.box.bottom


def test_several_words_of_one_bar_stand_one_above_the_other(line, skyline):
    first, second = ended(line, skyline, (4, "To Coda"), (4, "D.C."))
    assert second.box.bottom < first.box.top


def test_words_longer_than_their_bar_do_not_run_out_at_the_left(line, skyline):
    (words,) = ended(line, skyline, (4, "D.S. al Coda e poi la Fine"))
    assert words.box.left == 0.0


def test_a_section_word_stands_in_a_box_at_the_start_of_its_bar(line, skyline):
    place_starts(line, [RawText("reh", 5, "Chorus", 0.0)], [], measure, skyline)
    (word,) = line.texts
    left, right = min(shape.box.left for shape in line.ground), max(shape.box.right for shape in line.ground)
    assert left == 20.0
    assert left < word.box.left < word.box.right < right
    assert not any(touch(shape.box, word.box) for shape in line.ground)


def test_a_sign_stands_beside_the_section_word_of_its_bar(line, skyline):
    sign = RawSign(5, Shape("<path/>", Box(3.0, 1.0, 5.0, 4.0)))
    place_starts(line, [RawText("reh", 5, "B", 0.0)], [sign], measure, skyline)
    *frame, segno = line.ground
    assert segno.box.left > max(stroke.box.right for stroke in frame)
    assert segno.box.bottom == max(stroke.box.bottom for stroke in frame)


def test_a_section_word_too_long_for_the_rest_of_the_line_begins_before_its_bar(skyline):
    short = System(top_line=10.0, right=40.0, bars=[4, 5], bar_ends=[35.0, 40.0])
    place_starts(short, [RawText("reh", 5, "Interlude", 0.0)], [], measure, skyline)
    assert max(shape.box.right for shape in short.ground) == pytest.approx(40.0)


def test_a_shape_is_moved_with_its_box():
    moved = moved_shape(Shape("<path/>", Box(0.0, 0.0, 1.0, 2.0)), 3.0, -1.0)
    assert moved.box == Box(3.0, -1.0, 4.0, 1.0)
    assert moved.svg == '<g transform="translate(540,-180)"><path/></g>'
