"""Signs that steer the order of play, however a file has them."""

import random
from xml.etree import ElementTree as ET

import pytest

from game.music.order import order_of_play
from game.music.score import BarMarks, Jump, Until
from game.tunes.musicxml.order_signs import marks_of, resolved_codas, unpaired_warnings
from tests.music.order_pages import bar_of
from tests.sampling import how_many
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, barline, bars_played, measure, note, parts, score, words
from tests.tunes.meant_orders import any_habits, any_page
from tests.tunes.told import warnings_told


def test_repeats_and_endings_are_played_in_order(read):
    """Bar signs reach the order of play."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    tune = read(
        score(
            QUARTERS,
            barline('<repeat direction="forward"/>', "left") + QUARTERS,
            barline(ending.format(1, "start"), "left") + QUARTERS + barline(ending.format(1, "stop") + back),
            barline(ending.format(2, "start"), "left") + QUARTERS + barline(ending.format(2, "discontinue")),
            QUARTERS,
        )
    )
    assert bars_played(tune) == "1232" + "45"
    assert tune.bars[2].marks.endings == (1,)


def test_an_unclosed_second_ending_stops_at_a_double_bar(read):
    """What follows the double bar is a section of its own."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    tune = read(
        score(
            QUARTERS,
            barline(ending.format("1", "start"), "left") + QUARTERS + barline(ending.format("1", "stop") + back),
            barline(ending.format("2", "start"), "left") + QUARTERS + barline("<bar-style>light-light</bar-style>"),
            QUARTERS + barline(back),
        )
    )
    assert bars_played(tune) == "12" + "13" + "44"


@pytest.mark.parametrize("numbers", ["1, 2", "1-2", "1.,2.", "1 2"])
def test_an_ending_for_several_times_is_understood_however_it_is_written(read, numbers):
    """One bracket for two times through."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    tune = read(
        score(
            QUARTERS,
            barline(ending.format(numbers, "start"), "left")
            + QUARTERS
            + barline(back + ending.format(numbers, "stop")),
            barline(ending.format("3", "start"), "left") + QUARTERS + barline(ending.format("3", "stop")),
        )
    )
    assert bars_played(tune) == "121213"


@pytest.mark.parametrize(
    ("segno", "leave", "jump", "coda"),
    [
        (words("Segno"), words("To Coda"), words("D.S. al Coda"), words("Coda")),
        (
            '<direction><direction-type><segno/></direction-type><sound segno="1"/></direction>',
            words("To Coda", '<sound tocoda="1"/>'),
            words("D.S.", '<sound dalsegno="1"/>'),
            '<direction><direction-type><coda/></direction-type><sound coda="1"/></direction>',
        ),
        ('<sound segno="a"/>', '<sound tocoda="a"/>', '<sound dalsegno="a"/>', '<sound coda="a"/>'),
        (
            "<direction><direction-type><segno/></direction-type></direction>",
            "<direction><direction-type><coda/></direction-type></direction>",
            words("Dal Segno al Coda"),
            "<direction><direction-type><coda/></direction-type></direction>",
        ),
    ],
    ids=["words", "symbols with sounds", "sounds alone", "bare symbols"],
)
def test_dal_segno_al_coda_is_found_however_it_is_written(read, segno, leave, jump, coda):
    """By words, by symbol, by sound element."""
    tune = read(score(QUARTERS, segno + QUARTERS, QUARTERS + leave, QUARTERS + jump, coda + QUARTERS))
    assert bars_played(tune) == "1234" + "23" + "5"


def test_da_capo_al_fine_is_found_in_words(read):
    """With what the words say about how far."""
    tune = read(score(QUARTERS, QUARTERS + words("Fine"), QUARTERS + words("D.C. al Fine")))
    assert bars_played(tune) == "12312"
    assert (tune.bars[2].marks.jump, tune.bars[2].marks.until) == (Jump.DA_CAPO, Until.FINE)


def test_an_instruction_in_several_pieces_is_read_as_one(read):
    """ "D.C. al" and "Fine" in different type."""
    pieces = (
        "<direction><direction-type><words>D.C. al</words></direction-type>"
        "<direction-type><words>Fine</words></direction-type></direction>"
    )
    tune = read(score(QUARTERS + words("Fine"), QUARTERS + pieces))
    assert bars_played(tune) == "121"
    assert not tune.bars[1].marks.fine


def test_a_repeat_sign_in_the_middle_of_a_bar_is_said(read):
    """We repeat whole bars only."""
    middle = barline('<repeat direction="backward"/>', "middle")
    tune = read(score(QUARTERS, note("C4", 8) + middle + note("D4", 8)))
    assert "The repeat sign in the middle of bar 2 was taken for the whole bar." in warnings_told(tune)


def test_a_segno_that_is_missing_is_said(read):
    """And the jump is not taken."""
    tune = read(score(QUARTERS, QUARTERS + words("D.S.")))
    assert order_of_play(tune.bars) == (0, 1)
    assert "D.S. without a segno: it is not taken." in warnings_told(tune)


@pytest.mark.parametrize(
    ("signs", "bare", "expected"),
    [
        ("..", "cc", "tc"),
        (".", "c", "c"),
        ("t.", ".c", "tc"),
        (".c", "c.", "tc"),
        ("...", "ccc", "tcc"),
        ("t..", ".cc", "tcc"),
    ],
)
def test_of_two_bare_coda_signs_the_first_is_where_one_leaves(signs: str, bare: str, expected: str):
    """t: To Coda, c: the coda itself, as words or sounds beside the sign have it."""
    marks = [BarMarks(to_coda=sign == "t", coda=sign == "c") for sign in signs]
    resolved = resolved_codas(marks, [sign == "c" for sign in bare])
    assert "".join("t" if mark.to_coda else "c" if mark.coda else "." for mark in resolved) == expected


def test_each_sign_without_its_other_half_is_told_once():
    halves = [BarMarks(jump=Jump.DAL_SEGNO), BarMarks(jump=Jump.DAL_SEGNO), BarMarks(to_coda=True)]
    assert [warning.key for warning in unpaired_warnings(halves)] == ["tune.no_segno", "tune.no_coda"]
    back = [BarMarks(jump=Jump.DA_CAPO, until=Until.FINE), BarMarks(jump=Jump.DA_CAPO, until=Until.CODA)]
    assert [warning.key for warning in unpaired_warnings(back)] == ["tune.no_fine", "tune.no_to_coda"]
    assert unpaired_warnings([*back, BarMarks(fine=True, coda=True, to_coda=True)]) == ()
    assert unpaired_warnings([*halves, BarMarks(segno=True), BarMarks(coda=True)]) == ()


@pytest.mark.parametrize(("times", "expected"), [("", 2), ("0", 0), ("1", 0), ("3", 3), ("999", 64)])
def test_a_repeat_is_played_twice_where_it_is_unsaid_how_often_and_64_times_at_most(times: str, expected: int):
    attribute = f' times="{times}"' if times else ""
    part = ET.fromstring(
        f'<part><measure><barline><repeat direction="backward"{attribute}/></barline></measure></part>'
    )
    ((mark,), _) = marks_of(part)
    assert mark.repeat_end == expected


def test_an_opening_sign_at_a_right_bar_line_opens_the_next_bar(read):
    """And a closing one at a left bar line closes the bar before."""
    back = '<repeat direction="backward"/>'
    tune = read(score(QUARTERS + barline('<repeat direction="forward"/>'), QUARTERS, barline(back, "left") + QUARTERS))
    assert bars_played(tune) == "122" + "3"


def test_an_opening_sign_may_be_heard_alone(read):
    tune = read(score(QUARTERS, '<sound forward-repeat="yes"/>' + QUARTERS + barline('<repeat direction="backward"/>')))
    assert bars_played(tune) == "122"


@pytest.mark.parametrize(
    ("said", "attribute", "order"),
    [
        ("4x", "", "1111"),
        ("x3", "", "111"),
        ("Play 3 times", "", "111"),
        ("3 × in all", "", "111"),
        ("4x", ' times="2"', "11"),
        ("1x only", "", "11"),
        ("Fine", "", "11"),
        ("may be played in 3/4 time", "", "11"),
    ],
)
def test_how_often_a_section_is_played_may_stand_in_words_over_its_sign(read, said, attribute, order):
    """The number beside the sign goes first."""
    tune = read(score(QUARTERS + words(said) + barline(f'<repeat direction="backward"{attribute}/>')))
    assert bars_played(tune) == order
    told = f"The words over bar 1 ask for the repeat to be played {len(order)} times in all."
    assert (told in warnings_told(tune)) == (len(order) > 2)


def test_a_coda_may_be_named_by_a_rehearsal_mark(read):
    """In a box, as it is printed on many lead sheets."""
    coda = "<direction><direction-type><rehearsal>CODA</rehearsal></direction-type></direction>"
    tune = read(score(QUARTERS + words("To Coda"), QUARTERS + words("D.C. al Coda"), coda + QUARTERS))
    assert bars_played(tune) == "12" + "1" + "3"


def test_signs_that_stand_in_the_top_part_alone_hold_for_every_part(read):
    """Many programs write endings and jumps over the top staff only, repeat signs in every part."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    first = barline(ending.format(1, "start"), "left") + QUARTERS + barline(ending.format(1, "stop") + back)
    second = barline(ending.format(2, "start"), "left") + QUARTERS + barline(ending.format(2, "stop"))
    top = [ATTRIBUTES + QUARTERS, first, second + words("Fine"), QUARTERS + words("D.C. al Fine")]
    below = [ATTRIBUTES + QUARTERS, QUARTERS + barline(back), QUARTERS, QUARTERS]
    both = parts(
        *(
            (name, "".join(measure(bar, str(at)) for at, bar in enumerate(bars, start=1)))
            for name, bars in (("Voice", top), ("Guitar", below))
        )
    )
    assert bars_played(read(both, part=1)) == bars_played(read(both, part=2)) == "12134" + "13"


def test_signs_of_a_part_of_another_length_are_its_own(read):
    back = barline('<repeat direction="backward"/>')
    both = parts(
        ("Voice", measure(ATTRIBUTES + QUARTERS + back)),
        ("Guitar", measure(ATTRIBUTES + QUARTERS) + measure(QUARTERS, "2")),
    )
    assert bars_played(read(both, part=2)) == "12"


def test_what_programs_write_in_their_ways_is_played_as_it_is_meant():
    """Short, open and misnumbered brackets, opening signs at the bar line before, endings without a sign: of each page
    it is known how it was meant.
    """
    rng = random.Random(14)
    for number in range(how_many(3_000, by_default=80)):
        habits = any_habits(rng)
        page = any_page(rng, habits)
        bars = page.bars([""] * len(page.left))
        part = ET.fromstring(f"<part>{''.join(f'<measure>{bar}</measure>' for bar in bars)}</part>")
        marks, _ = marks_of(part)
        assert order_of_play([bar_of("1", mark) for mark in marks]) == page.order, (number, habits, bars)
