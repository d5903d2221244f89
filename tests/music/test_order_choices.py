"""Pages as notation programs really write them, read as they are meant, and the other reading where there is one.

Each page is in the shorthand of `tests.music.order_pages`. What is written so, and what it means, was seen in lead
sheets of several programs: brackets drawn over one bar only, numbered from 2, numbered alike, without their sign. The
order expected is common practice (trade), worked out by hand.
"""

import random
from dataclasses import replace

import pytest

from game.music.order import MAX_BARS_PLAYED, doubts_of, order_of_play
from game.music.order_choices import (
    choices_told,
    order_choices,
    order_runs,
    order_told,
    read_next_way,
    straight_on,
    with_brackets_read,
)
from game.music.score import OrderDoubt
from game.text.catalogue import in_english
from tests.music.order_pages import any_marks, bar_of, page
from tests.sampling import how_many

# Sentence, page, order, and the orders of the other readings.
CASES = [
    ("a bracket stops one bar before its sign", "a|: b c[1] d:| e[2] f", "abcdabef", ["abcdabdef"]),
    ("it stops two bars before", "a|: b[1] c d:| e[2]", "abcdae", ["abcdacde"]),
    ("it stops five bars before", "a|: b[1] c d e f g:| h[2] i", "abcdefgahi", ["abcdefgacdefghi"]),
    (
        "it stops eight bars before, and the second has no bracket",
        "a|: b[1] c d e f g h i j:| k",
        "abcdefghijak",
        ["abcdefghijacdefghijk"],
    ),
    (
        "it stops nine bars before with no second: the bracket is left alone",
        "a|: b[1] c d e f g h i j k:| l",
        "abcdefghijk" * 2 + "l",
        ["abcdefghijkal"],
    ),
    (
        "a second ending stands right behind the sign, however far",
        "a|: b[1] c d e f g h i j k:| l[2]",
        "abcdefghijkal",
        ["abcdefghijkacdefghijkl"],
    ),
    ("behind a double bar line", "a b c d|| e f g h:| i", "abcdefghefghi", ["abcdefgh" * 2 + "i"]),
    ("behind a section's name", 'a b c" d e f:| g', "abcdefcdefg", ["abcdefabcdefg"]),
    ("the last of two, to a first ending", "a|| b|| c d e f[1]:| g[2]", "abcdefcdeg", ["abcdefabcdeg"]),
    ("a bar set off before the section", "a|| b c d e:| f", "abcdebcdef", ["abcdeabcdef"]),
    ("three bars are too few", "a b c d e|| f g h:| i", "abcdefgh" * 2 + "i", ["abcdefghfghi"]),
    ("behind a double bar line and Fine", "a b||! c d e f:|", "abcdefab", ["abcdefabcdef", "abcdefcdef"]),
    ("without an opening sign", "a b[1] c:| d[2]", "abcad", ["abcacd"]),
    ("after an upbeat and an opening sign", "a b|: c[1] d:| e[2]", "abcdbe", ["abcdbde"]),
    ("a bracket of two bars that stops a bar too soon", "a|: b[1 c] d:| e[2]", "abcdae", ["abcdade"]),
    ("both brackets are short", "a|: b c[1] d:| e[2] f", "abcdabef", ["abcdabdef"]),
    (
        "the bridge stands under the second of three endings",
        "a|: b c[1] d:| e[2] f g h i j k l m n:| o[3] p",
        "abcdab" + "efghijklmn" + "abop",
        ["abcdabdefghijklmn" + "abdop", "abcdabefghijklmnabfghijklmnop"],
    ),
    (
        "two sections, both with short brackets",
        "a|: b[1] c:| d[2] e|: f[1] g:| h[2]",
        "abcadefgeh",
        ["abcacdefgeh", "abcadefgegh"],
    ),
    ("an opening sign comes first: the bracket is only a bracket", "a b[1] c d|: e:|", "abcdede", ["abacdede"]),
    (
        "a short last ending whose sign is near belongs to it",
        "a|: b[1] c:| d[2] e:| f",
        "abcadef",
        ["abcacdef", "abcadeef"],
    ),
    (
        "a sign far behind a last ending closes a section of its own",
        "a|: b[1]:| c[2] d e f:| g",
        "abacdefdefg",
        ["abacdefg"],
    ),
    (
        "a sign twelve bars behind a last ending: as in brackets that are never closed",
        "a|: b[1]:| c[2] d e f g h i j k l m n o:| p",
        "abac" + "defghijklmno" * 2 + "p",
        ["abacdefghijklmnop"],
    ),
    ("a first ending without its sign, the second beside it", "a|: b[1] c[2] d", "abacd", ["abcd"]),
    ("a first ending without its sign, the second two bars on", "a|: b[1] c d[2] e", "abcade", ["abcde"]),
    ("three endings, the second without its sign", "a|: b[1]:| c[2] d[3] e", "abacade", ["abacde"]),
    ("a section without an opening sign whose ending has no sign", "a:| b c[1] d[2]", "aabcbd", ["aabcd"]),
    ("a first ending alone, without any sign", "a b[1] c", "abc", ["abac"]),
    ("a bracket behind a sign is no first ending", "a b:| c[1] d", "ababcd", []),
    ("a second ending alone behind a sign", "a b:| c[2] d", "ababcd", []),
    ("two brackets numbered 1", "a|: b[1]:| c[1] d", "abacd", []),
    ("two brackets numbered 2", "a|: b[2]:| c[2] d", "abacd", []),
    ("two brackets numbered 1, and a third one numbered 2", "a|: b[1]:| c[1]:| d[2] e", "abacade", ["abacde"]),
    ("a bracket numbered 2 alone", "a|: b[2]:| c", "abac", []),
    ("endings numbered 2 and 3", "a|: b[2]:| c[3] d", "abacd", []),
    ("endings numbered 1 and 3: the first is played twice", "a|: b[1]:| c[3] d", "ababacd", ["abacd"]),
    ("endings numbered 1 and 4", "a|: b[1]:| c[4]", "abababac", ["abac"]),
    ("endings 1, 2 and 4: the second is played twice", "a|: b[1]:| c[2]:| d[4]", "abacacad", ["abacad"]),
    ("Fine in a first ending, which D.C. therefore plays", "a b[1]!:| c[2] d|: eDCf", "abacdeab", ["abacdeacde"]),
    ("Fine in a last ending", "a b[1]:| c[2]! d eDCf", "abacdeac", []),
    ("Fine in both endings: after D.C. the last one", "a b[1]!:| c[2]! dDCf", "abacdac", []),
    (
        "Fine in a first ending, the jump in a section with endings",
        "a b[1]!:| c[2] d|: e[1]:| f[2]DCf",
        "abacdedfab",
        ["abacdedfacdf"],
    ),
    ("To Coda in a first ending, which D.S. therefore plays", "a$ b[1]>@:| c[2] dDSc e@", "abacdabe", ["abacdacde"]),
    ("D.S. al Fine in a first ending, Fine in the second", "a$ b[1]DSf c[2]!", "abac", ["ababc"]),
    ("a repeat sign and D.S. in one bar that lead to one place", "a b|:$ c>@ d:|DSc e@", "abcdbcdbce", ["abcdbce"]),
    ("a repeat sign and D.C. in one bar, the repeat of the whole", "a! b:|DCf", "ababa", ["aba"]),
    ("a repeat sign and D.C. in one bar, the repeat of the end", "a! b|: c:|DCf", "abcbca", []),
    ("Fine without any jump ends the last repeat", "a b! c d:|", "abcdab", ["abcdabcd"]),
    ("Fine without any jump does nothing where music would be lost", "a|: b! c:| d", "abcabcd", []),
    ("To Coda without any jump", "a b>@ c:| d@", "abcabd", ["abcabcd"]),
    ("D.C. al Coda written two bars too early", "a b>@ c dDCc e f g@", "abcdefabg", ["abcdabg"]),
    ("D.S. al Coda written a bar too early, the segno inside", "a b$ c>@ dDSc e f@", "abcdebcf", ["abcdbcf"]),
    ("a bar behind the last D.C. is never played", "a b! c dDCf e", "abcdab", ["abcdeab"]),
    ("five bars behind the last D.C. are another piece", "a! bDCf c d e f g", "aba", []),
]


def letters(bars):
    return "".join(bars[index].number for index in order_of_play(bars))


def other_orders(bars):
    """The orders of all other readings, in the order in which the key goes through them."""
    orders = []
    at = read_next_way(bars)
    while at is not None and letters(at) != letters(bars):
        orders.append(letters(at))
        at = read_next_way(at)
    return orders


@pytest.mark.parametrize(("text", "order"), [case[1:3] for case in CASES], ids=[case[0] for case in CASES])
def test_signs_are_read_as_they_are_meant(text, order):
    assert letters(page(text)) == order


@pytest.mark.parametrize(("text", "others"), [(case[1], case[3]) for case in CASES], ids=[case[0] for case in CASES])
def test_where_there_was_a_choice_the_other_readings_can_be_had_one_after_another(text, others):
    """And only there; then comes the usual one again."""
    assert other_orders(page(text)) == others
    assert len(order_choices(page(text))) == len(others)


def test_there_are_forty_pages_by_hand_and_each_doubt_there_is_arises_in_one():
    assert len({case[1] for case in CASES}) >= 40
    found = {choice.found.doubt for case in CASES for choice in order_choices(page(case[1]))}
    assert found == set(OrderDoubt)


def test_the_account_says_what_was_assumed_with_the_numbers_of_the_page():
    bars = page("a|: b[1] c:| d[2] e")
    (said,) = choices_told(bars)
    assert in_english(said) == (
        "The bracket over bar b is not drawn as far as the repeat sign in bar c: it was read as reaching there."
    )
    (said,) = choices_told(read_next_way(bars))
    assert in_english(said).endswith("reaching there. You chose the other reading.")


@pytest.mark.parametrize("text", [case[1] for case in CASES], ids=[case[0] for case in CASES])
def test_every_choice_has_its_sentence(text):
    """One for each, its gaps filled."""
    for said in choices_told(page(text)):
        assert not {"{", "}"} & set(in_english(said))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a b c", "a-c"),
        ("a", "a"),
        ("a|: b[1]:| c[2] d", "a-b, a, c-d"),
        ("a|: b:| c", "a-b, a-c"),
        ("a! b cDCf", "a-c, a"),
    ],
)
def test_the_order_is_told_by_runs_of_printed_numbers(text, told):
    assert order_told(page(text)) == ", ".join(order_runs(page(text))) == told
    assert straight_on(page(text)) == ("," not in told)


def test_what_the_player_chose_is_a_mark_of_its_bar_and_comes_off_again():
    bars = tuple(page("a|: b[1] c:| d[2] e"))
    chosen = read_next_way(bars)
    assert [bar.marks.read_otherwise for bar in chosen] == [(), (OrderDoubt.SHORT_BRACKET,), (), (), ()]
    assert read_next_way(chosen) == bars


def test_a_page_without_doubts_has_no_other_reading():
    assert read_next_way(page("a|: b[1]:| c[2] d")) is None
    assert order_choices(page("a b c")) == ()


def test_a_reading_that_would_be_endless_is_no_choice():
    """Without its Fine this page would come to more bars than are ever played."""
    bars = page("a! " + "b " * 77 + "c:|64")
    assert 79 * 64 > MAX_BARS_PLAYED > len(order_of_play(bars))
    assert [found.doubt for found in doubts_of(bars)] == [OrderDoubt.FINE_ALONE]
    assert read_next_way(bars) is None


def test_of_very_many_doubts_two_dozen_are_looked_at():
    assert len(order_choices(page("a|: b[1] c:| d[2] " * 40))) == 24


def test_reading_on_always_comes_back_to_the_first_reading():
    """Whatever stands on the page, however confused."""
    rng = random.Random(11)
    for _ in range(how_many(300, by_default=60)):
        bars = [bar_of(str(number), any_marks(rng)) for number in range(rng.randint(1, 12))]
        assert letters(bars) not in other_orders(bars)
        assert len(order_choices(bars)) >= len(other_orders(bars))


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a|: b[1] c:| d[2] e", "a|: b[1 c]:| d[2] e"),
        ("a|: b[1] c[2] d", "a|: b[1] c[2] d"),
        ("a|: b[1] c d[2] e", "a|: b[1 c d[2] e"),
        ("a|: b[1]:| c[3] d", "a|: b[1]:| c[3] d"),
        ("a b[1] c", "a b[1] c"),
    ],
)
def test_brackets_are_shown_over_the_bars_that_are_read_as_theirs(text, shown):
    """With their numbers as printed, and played as before."""
    read = with_brackets_read(page(text))
    drawn = [(bar.marks.endings, bar.marks.ending_starts) for bar in read]
    assert drawn == [(bar.marks.endings, bar.marks.ending_starts) for bar in page(shown)]
    assert order_of_play(read) == order_of_play(page(text))


def test_a_bracket_that_the_player_reads_as_drawn_is_shown_so():
    as_drawn = read_next_way(page("a|: b[1] c:| d[2] e"))
    assert with_brackets_read(as_drawn) == as_drawn


def test_bars_that_are_said_to_be_never_played_are_never_played():
    """On pages with any signs: those behind the last jump, and those that an early jump would leave out."""
    rng, told = random.Random(5), 0
    for _ in range(how_many(20_000, by_default=1_500)):
        bars = tuple(bar_of(str(number), any_marks(rng)) for number in range(rng.randint(2, 7)))
        for choice in order_choices(bars):
            doubt, lost = choice.found.doubt, range(choice.found.bar + 1, choice.found.other + 1)
            left_out = {OrderDoubt.BARS_BEHIND_JUMP: bars, OrderDoubt.EARLY_JUMP: read_other_way(bars, choice)}
            if doubt in left_out:
                told += 1
                assert not set(lost) & set(order_of_play(left_out[doubt])), bars
    assert told > 1


def read_other_way(bars, choice):
    at = choice.found.bar
    marks = replace(bars[at].marks, read_otherwise=(choice.found.doubt,))
    return (*bars[:at], replace(bars[at], marks=marks), *bars[at + 1 :])
