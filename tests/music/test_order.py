"""Order of play, case by case.

Each page is in the shorthand of `tests.music.order_pages`; the expected order is by common practice (trade).
"""

import random

import pytest

from game.errors import TuneError
from game.music.order import MAX_BARS_PLAYED, order_of_play
from tests.music.order_pages import any_marks, bar_of, page
from tests.refusing import refusal

CASES = [
    ("no signs at all", "a b c", "abc"),
    ("a section between signs is played twice", "a b|: c:| d", "abcbcd"),
    ("a closing sign without an opening one goes back to the beginning", "a b:| c", "ababc"),
    ("a closing sign at the very end goes back to the beginning", "a b c:|", "abcabc"),
    ("a second closing sign without an opening one goes back to after the first", "a b:| c d:|", "ababcdcd"),
    ("a third one goes back to after the second", "a:| b:| c:|", "aabbcc"),
    ("an opening sign without a closing one does nothing", "a|: b c", "abc"),
    ("of two opening signs the nearer counts", "a|: b c|: d:|", "abcdcd"),
    (
        "signs do not nest: the outer closing sign repeats what follows the inner one",
        "a|: b|: c:| d:|",
        "abcbcdd",
    ),
    ("one bar repeated", "a b|::| c", "abbc"),
    ("times says how often in all", "a|: b:|3 c", "abababc"),
    ("times of four on a section in the middle", "a b|: c:|4 d", "abcbcbcbcd"),
    ("times 1 plays once", "a b:|1 c", "abc"),
    ("two endings", "a|: b c[1]:| d[2] e", "abcabde"),
    ("endings of two bars", "a|: b[1 c]:| d[2 e] f", "abcadef"),
    ("endings without an opening sign go back to the beginning", "a b[1]:| c[2]", "abac"),
    ("three endings", "a|: b[1]:| c[2]:| d[3] e", "abacade"),
    ("an ending for the first two times", "a|: b[12]:| c[3] d", "ababacd"),
    ("an ending for times one and three", "a|: b[13]:| c[2]:| d[4] e", "abacabade"),
    ("a second ending without a bracket", "a|: b[1]:| c d", "abacd"),
    ("a second ending whose bracket is never closed runs to the end", "a|: b[1]:| c[2 d", "abacd"),
    ("a closing sign on the last ending does not go back again", "a|: b[1]:| c[2]:| d", "abacd"),
    ("a first ending without its closing sign still goes back", "a|: b[1] c[2] d", "abacd"),
    ("a first ending for two times, the third without a bracket", "a|: b[12]:| c", "ababac"),
    ("a bracket alone without a sign is only a bracket", "a b[1] c", "abc"),
    ("two sections with endings", "a|: b[1]:| c[2] d|: e[1]:| f[2]", "abacdedf"),
    ("the second section needs no opening sign", "a|: b[1]:| c[2] d e[1]:| f[2]", "abacdedf"),
    ("a section with endings, then a plain one without an opening sign", "a|: b[1]:| c[2] d:|", "abacdd"),
    ("an opening sign ends an unclosed second ending", "a|: b[1]:| c[2 d|: e:|", "abacdede"),
    ("D.C. plays the whole again, once", "a b cDC", "abcabc"),
    ("D.C. al Fine", "a b! c dDCf", "abcdab"),
    ("Fine does not stop the first time", "a! b cDC", "abca"),
    ("D.C. does not take repeats again", "a|: b:| c! dDCf", "ababcdabc"),
    ("D.C. plays the last ending only", "a|: b[1]:| c[2]! dDCf", "abacdac"),
    ("D.C. leaves out a first ending whose second has no bracket", "a|: b[1]:| c! dDCf", "abacdac"),
    ("D.C. after a repeated last section", "a b! c|: d:|DCf", "abcdcdab"),
    ("D.C. al Coda", "a b>@ c dDCc e@ f", "abcdabef"),
    ("To Coda does not act the first time", "a>@ b cDCc d@", "abcad"),
    ("D.S. goes back to the sign", "a b$ c dDS", "abcdbcd"),
    ("D.S. al Fine", "a b$ c! d eDSf", "abcdebc"),
    ("D.S. al Coda", "a b$ c>@ d eDSc f@ g", "abcdebcfg"),
    (
        "D.S. to a sign inside a repeated section takes the last ending",
        "a|: b$ c[1]:| d[2]>@ eDSc f@",
        "abcabdebdf",
    ),
    ("the coda's own repeats are taken", "a>@ bDCc c@|: d:|", "abacdcd"),
    ("the music after D.C. al Fine is not reached", "a b! cDCf d", "abcab"),
    ("bare D.C. obeys Fine", "a! bDC", "aba"),
    ("bare D.C. obeys To Coda", "a>@ bDC c@", "abac"),
    ("al Fine passes To Coda over", "a>@ b! cDCf d@", "abcab"),
    ("al Coda passes Fine over", "a! b>@ cDCc d@", "abcabd"),
    ("two jumps, each taken once: al Coda, then from the coda al Fine", "a! b>@ cDCc d@DCf", "abcabda"),
    ("two D.S. with two signs, each to the nearest before it", "a$ bDS c$ dDS", "ababcdcd"),
    ("D.S. without a segno is passed over", "a bDS c", "abc"),
    ("To Coda without a coda is passed over", "a>@ b cDC", "abcabc"),
    ("a coda that nobody jumps to is played where it stands", "a b c@ d", "abcd"),
    ("without any jump To Coda acts the last time through its repeat", "a|: b>@ c:| d@", "abcabd"),
    ("a jump in a first ending comes before the second", "a|: b[1]DC c[2] d", "abacd"),
    ("repeats come before the jump at the same bar", "a|: b:|DC", "ababab"),
    ("Fine inside an ending", "a|: b[1]:| c[2]! d eDCf", "abacdeac"),
    ("segno on the first bar", "a$ b>@ cDSc d@", "abcabd"),
    ("coda before the jump that leads to it", "a c@ b>@ dDC", "acbdacb" + "c" + "bd"),
    ("the repeats behind a jump that was taken are taken", "a bDC c|: d:|", "ababcdcd"),
    ("a coda behind a last ending that nobody closed", "a$ b[1]>@:| c[2 dDSc e@", "abacd" + "abe"),
    ("a coda that begins with an ending", "a>@ bDCc c|: d[1]:| e[2]@ f", "abaef"),
    ("a last ending that is a repeated section itself", "a b[1]:| c|:[2] d:| e", "abacdcde"),
    ("an empty page", "", ""),
]


@pytest.mark.parametrize(("text", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_bars_are_played_in_the_order_of_common_practice(text, expected):
    """Each page is played as its sentence says."""
    bars = page(text)
    assert "".join(bars[index].number for index in order_of_play(bars)) == expected


def test_there_are_enough_cases():
    """At least fifty pages, no two alike."""
    assert len({case[1] for case in CASES}) >= 50


def test_a_tune_whose_repeats_never_seem_to_end_is_refused():
    """More than 5,000 bars written out is one sentence, not a page without end."""
    bars = page("a|: b:|64 " * 45)
    with refusal(TuneError, "more than 5,000 bars when written out"):
        order_of_play(bars)


def test_a_tune_of_exactly_the_bound_is_played():
    """The bound itself is still allowed."""
    bars = page("a b c d e|:")[:4] * (MAX_BARS_PLAYED // 4)
    assert len(order_of_play(bars)) == MAX_BARS_PLAYED


def test_no_page_however_confused_plays_for_ever():
    """Random signs anywhere: the order ends, holds only bars of the page, and starts with the first bar it
    may.
    """
    rng = random.Random(7)
    for _ in range(3_000):
        bars = [bar_of(str(number), any_marks(rng)) for number in range(rng.randint(1, 9))]
        order = order_of_play(bars)
        assert set(order) <= set(range(len(bars)))
        assert len(order) <= MAX_BARS_PLAYED


def test_a_page_without_marks_is_played_as_it_stands():
    """Any number of plain bars is played once, in order."""
    bars = page("a b c d e f g")
    assert order_of_play(bars) == tuple(range(7))
