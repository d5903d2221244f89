"""Bar lines and section words of a MusicXML part."""

from xml.etree import ElementTree as ET

import pytest

from game.music.score import BarLine
from game.tunes.musicxml.order_signs import marks_of
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, barline, measure, note, parts, score, words

REHEARSAL = "<direction><direction-type><rehearsal>{}</rehearsal></direction-type></direction>"
BOXED = '<direction><direction-type><words enclosure="rectangle">{}</words></direction-type></direction>'


def style(name: str, location: str = "right") -> str:
    return barline(f"<bar-style>{name}</bar-style>", location)


def marks(*bars: str):
    part = ET.fromstring(f"<part>{''.join(measure(bar) for bar in bars)}</part>")
    return marks_of(part)[0]


def sections(*bars: str) -> list[str]:
    return [mark.section for mark in marks(*bars)]


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("light-light", BarLine.DOUBLE),
        ("heavy-heavy", BarLine.DOUBLE),
        ("light-heavy", BarLine.FINAL),
        ("heavy", BarLine.HEAVY),
        ("dashed", BarLine.DASHED),
        ("dotted", BarLine.DOTTED),
        ("regular", None),
        ("none", None),
        ("tick", None),
        ("of another planet", None),
    ],
)
def test_the_bar_line_at_the_end_of_a_bar_is_kept_also_where_the_next_bar_has_it_at_its_left(name, line):
    assert [mark.bar_line for mark in marks(QUARTERS + style(name), QUARTERS)] == [line, None]
    assert [mark.bar_line for mark in marks(QUARTERS, style(name, "left") + QUARTERS)] == [line, None]


def test_the_style_of_a_repeat_sign_is_no_bar_line_of_its_own():
    closing = barline('<bar-style>light-heavy</bar-style><repeat direction="backward"/>')
    opening = barline('<bar-style>heavy-light</bar-style><repeat direction="forward"/>', "left")
    assert {mark.bar_line for mark in marks(QUARTERS + closing, opening + QUARTERS)} == {None}


def test_a_bar_line_in_the_middle_or_before_the_first_bar_is_none_of_these():
    middle = note("C4", 8) + style("dotted", "middle") + note("D4", 8)
    assert {mark.bar_line for mark in marks(style("light-light", "left") + middle, QUARTERS)} == {None}


def test_rehearsal_marks_and_section_names_stand_at_the_start_of_their_bar():
    assert sections(
        REHEARSAL.format("A") + QUARTERS,
        QUARTERS,
        words("Chorus:") + QUARTERS,
        BOXED.format("B") + QUARTERS,
        words("Slowly") + QUARTERS,
        words("B") + QUARTERS,
        REHEARSAL.format("17") + QUARTERS,
    ) == ["A", "", "Chorus", "B", "", "", "17"]


def test_a_name_over_a_pickup_or_behind_the_last_note_belongs_to_the_bar_it_leads_to():
    half = note("C4", 8)
    assert sections(half + words("Chorus") + half, QUARTERS) == ["", "Chorus"]
    assert sections(QUARTERS + words("Chorus"), QUARTERS) == ["", "Chorus"]
    assert sections(note("C4") + words("Chorus") + note("D4", 12), QUARTERS) == ["Chorus", ""]
    assert sections(QUARTERS, half + words("Solo") + half) == ["", "Solo"]


def test_an_offset_moves_a_name_with_it():
    late = "<direction><direction-type><words>Verse</words></direction-type><offset>12</offset></direction>"
    assert sections(late + QUARTERS, QUARTERS) == ["", "Verse"]


def test_two_names_over_one_bar_are_both_kept_and_the_same_twice_is_one():
    assert sections(REHEARSAL.format("B") + words("Chorus") + QUARTERS) == ["B Chorus"]
    assert sections(words("Chorus") + words("Chorus") + QUARTERS) == ["Chorus"]


def test_a_rehearsal_mark_that_steers_the_order_is_read_as_that_alone():
    (mark,) = marks(REHEARSAL.format("Coda") + QUARTERS)
    assert (mark.coda, mark.section) == (True, "")


def test_durations_that_are_no_numbers_end_nothing():
    odd = "<note><rest/><duration>soon</duration></note>"
    assert sections(odd + words("Verse") + odd, QUARTERS) == ["Verse", ""]


def test_a_part_without_section_names_takes_those_of_the_part_that_has_them(read):
    top = measure(ATTRIBUTES + REHEARSAL.format("A") + QUARTERS + style("light-light")) + measure(QUARTERS, "2")
    below = measure(ATTRIBUTES + QUARTERS) + measure(QUARTERS, "2")
    tune = read(parts(("Song", top), ("Guitar", below)), part=2)
    assert [bar.marks.section for bar in tune.bars] == ["A", ""]
    assert [bar.marks.bar_line is BarLine.DOUBLE for bar in tune.bars] == [True, False]


def test_a_boxed_letter_is_no_chord_symbol(read):
    """Where chords are words, a letter in a box is the section all the same."""
    tune = read(score(BOXED.format("A") + words("Gm7") + QUARTERS, words("C7") + QUARTERS, words("F") + QUARTERS))
    assert [[chord.text for chord in bar.chords] for bar in tune.bars] == [["Gm7"], ["C7"], ["F"]]
    assert tune.bars[0].marks.section == "A"
