"""Sections and endings of a page: which bars they hold, how often, and what there was to choose.

Pages are in the shorthand of `tests.music.order_pages`.
"""

import pytest

from game.music.score import OrderDoubt
from game.music.sections import MOST_BARS_BEHIND, Ending, Section, sections_of
from tests.music.order_pages import page


def read(text):
    return sections_of([bar.marks for bar in page(text)])


def told(section):
    """First and last bar, how often; then of each ending the same and its times through."""
    endings = [(ending.first, ending.last, ending.numbers) for ending in section.endings]
    return (section.first, section.last, section.times, *endings)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a b c", []),
        ("a|: b:| c", [(0, 1, 2)]),
        ("a:|3 b:|", [(0, 0, 3), (1, 1, 2)]),
        ("a|: b[1]:| c[2] d", [(0, 2, 2, (1, 1, (1,)), (2, 2, (2,)))]),
        ("a|: b[1] c:| d[2] e", [(0, 3, 2, (1, 2, (1,)), (3, 3, (2,)))]),
        ("a|: b[1]:| c", [(0, 1, 2, (1, 1, (1,)))]),
        ("a|: b[12]:| c", [(0, 1, 3, (1, 1, (1, 2)))]),
        ("a|: b[2]:| c[3]", [(0, 2, 2, (1, 1, (1,)), (2, 2, (2,)))]),
        ("a|: b[1]:| c[1]", [(0, 2, 2, (1, 1, (1,)), (2, 2, (2,)))]),
        ("a|: b[1]:| c[4]", [(0, 2, 4, (1, 1, (1, 2, 3)), (2, 2, (4,)))]),
        ("a|: b[13]:| c", [(0, 1, 4, (1, 1, (1, 2, 3)))]),
        ("a b[1] c", []),
        ("a|: b[1:| c d", [(0, 1, 2, (1, 1, (1,)))]),
    ],
)
def test_a_page_has_these_sections(text, expected):
    sections, _ = read(text)
    assert [told(section) for section in sections] == expected


@pytest.mark.parametrize("behind", [1, MOST_BARS_BEHIND, MOST_BARS_BEHIND + 1])
def test_a_first_bracket_reaches_to_a_sign_up_to_eight_bars_behind_it(behind):
    """The ninth is too far, unless a second ending stands right behind the sign."""
    bars = "a|: b[1] " + "c " * (behind - 1) + "d:| "
    (alone,), _ = read(bars + "e")
    (followed,), (found,) = read(bars + "e[2]")
    assert [(ending.first, ending.last) for ending in alone.endings] == [(1, 1 + behind)] * (behind <= 8)
    assert (alone.first, alone.last, alone.times) == (0, 1 + behind, 2)
    assert followed.endings[0].last == 1 + behind
    assert (found.doubt, found.bar, found.other) == (OrderDoubt.SHORT_BRACKET, 1, 1 + behind)


def test_a_last_ending_takes_a_sign_that_is_no_further_than_the_ending_before_is_long():
    near, _ = read("a|: b[1 c]:| d[2] e:| f")
    far, _ = read("a|: b[1]:| c[2] d:| e")
    assert [told(section)[:3] for section in near] == [(0, 4, 2)]
    assert [told(section)[:3] for section in far] == [(0, 2, 2), (3, 3, 2)]


def test_an_ending_is_known_by_its_bars_and_by_the_time_through():
    first, second = Ending(first=1, last=2, numbers=(1, 3)), Ending(first=3, last=3, numbers=(2,))
    section = Section(first=0, last=3, times=3, endings=(first, second), back_at=frozenset({(2, 1), (3, 2), (2, 3)}))
    assert [section.ending_at(bar) for bar in range(5)] == [None, first, first, second, None]
    assert [section.ending_for(time) for time in range(1, 5)] == [first, second, first, None]
    assert [section.goes_back(2, time) for time in (1, 2, 3)] == [True, False, False]
    assert section.goes_back(3, 2)


def test_a_section_without_endings_goes_back_at_its_last_bar_until_the_last_time():
    section = Section(first=0, last=1, times=3)
    assert [(bar, time) for bar in (0, 1) for time in (1, 2, 3) if section.goes_back(bar, time)] == [(1, 1), (1, 2)]
