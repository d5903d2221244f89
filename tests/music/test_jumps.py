"""Where jumps lead and are taken, and where Fine and To Coda act.

Pages are in the shorthand of `tests.music.order_pages`.
"""

import pytest

from game.music.jumps import EndSigns, jump_target, with_jumps_meant
from game.music.score import OrderDoubt, Until
from game.music.sections import sections_of
from tests.music.order_pages import page


def marks_of_page(text):
    return [bar.marks for bar in page(text)]


@pytest.mark.parametrize(
    ("text", "bar", "target"),
    [
        ("a bDC", 1, 0),
        ("a b$ cDS", 2, 1),
        ("a$ b$ cDS", 2, 1),
        ("a bDS c$", 1, 2),
        ("a bDS", 1, None),
    ],
)
def test_a_jump_leads_to_the_beginning_or_to_the_nearest_segno_before_it(text, bar, target):
    """Failing that to the first one behind it."""
    assert jump_target(marks_of_page(text), bar) == target


@pytest.mark.parametrize(
    ("text", "taken_at", "doubts"),
    [
        ("a b! cDC", [2], []),
        ("a>@ bDCc c d@", [2], [(OrderDoubt.EARLY_JUMP, 1, 2)]),
        ("a>@ bDCc c d e f g h@", [1], []),
        ("a>@ bDCf c d@", [1], []),
        ("a bDCc c d@", [1], []),
        ("a! bDC c", [1], [(OrderDoubt.BARS_BEHIND_JUMP, 1, 2)]),
        ("a! bDC c:|", [1], []),
        ("a bDC c", [1], []),
        ("a! b>@ cDCc d", [2], []),
        ("a! bDC cDC", [1, 2], []),
        ("a|:$ bDS:|", [1], [(OrderDoubt.REPEAT_AND_JUMP, 1, 1)]),
        ("a$ b:| cDS:|", [2], []),
    ],
)
def test_a_jump_is_taken_where_it_stands_or_where_its_bars_would_not_be_lost(text, taken_at, doubts):
    meant, found = with_jumps_meant(marks_of_page(text))
    assert [bar for bar, mark in enumerate(meant) if mark.jump] == taken_at
    assert [(one.doubt, one.bar, one.other) for one in found] == doubts


def end_signs(text):
    marks = marks_of_page(text)
    sections, _ = sections_of(marks)
    return EndSigns(marks, sections), sections


@pytest.mark.parametrize(
    ("text", "heading", "time"),
    [
        ("a b[1]!:| c[2] dDC", Until.FINE, 1),
        ("a b[1]!:| c[2] dDC", None, 1),
        ("a b[1]!:| c[2] dDC", Until.CODA, 2),
        ("a b[1]>@:| c[2] dDC e@", Until.CODA, 1),
        ("a b[1]>@:| c[2] dDC e@", Until.FINE, 2),
        ("a b[1]!:| c[2]! dDC", Until.FINE, 2),
        ("a! b[1]!:| c[2] dDC", Until.FINE, 2),
        ("a b[1]:| c[2]!:| d[3] eDC", Until.FINE, 2),
    ],
)
def test_after_a_jump_the_ending_is_played_that_alone_holds_the_sign(text, heading, time):
    signs, (section, *_) = end_signs(text)
    assert signs.time_after_jump(section, heading) == time


def test_without_a_jump_the_signs_act_the_last_time_through_a_repeat():
    signs, (section,) = end_signs("a b! c:|3")
    assert not signs.jumps_at_all
    assert [signs.ends_repeat(1, section, time) for time in (1, 2, 3)] == [False, False, True]
    assert not signs.ends_repeat(1, None, 1)
    assert signs.ends_page(section)
    assert [found.doubt for found in signs.doubts] == [OrderDoubt.FINE_ALONE]


def test_a_section_with_music_behind_it_does_not_end_the_page():
    signs, (section,) = end_signs("a b! c:| d")
    assert not signs.ends_page(section)
    assert not signs.ends_page(None)
    assert signs.doubts == []
