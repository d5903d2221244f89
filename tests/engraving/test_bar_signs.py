"""The signs of a bar that steer the order of play, as MusicXML 4.0."""

import pytest

from game.engraving.bar_signs import closing_words, left_barline, opening_signs, right_barline, words_of_jump
from game.engraving.notation import musicxml
from game.music.score import BarLine, BarMarks, Jump, Reading, Until
from tests.engraving.by_music21 import read_by_music21
from tests.tunes.read_here import read_here


def test_repeats_endings_and_jumps_are_written_as_marks_and_sounds(bar):
    bars = (
        bar("C5:4", marks=BarMarks(repeat_start=True, segno=True)),
        bar("C5:4", marks=BarMarks(to_coda=True)),
        bar("C5:4", marks=BarMarks(endings=(1, 2), ending_starts=True, ending_stops=True, repeat_end=3)),
        bar("C5:4", marks=BarMarks(endings=(3,), ending_starts=True, ending_stops=True, jump=Jump.DAL_SEGNO)),
        bar("C5:4", marks=BarMarks(coda=True, fine=True)),
    )
    text = musicxml(bars, Reading.GUITAR)
    for piece in (
        '<repeat direction="forward"/>',
        '<repeat direction="backward" times="3"/>',
        '<ending number="1,2" type="start"/>',
        '<ending number="1,2" type="stop"/>',
        '<ending number="3" type="discontinue"/>',
        '<sound segno="segno"/>',
        '<sound tocoda="coda"/>',
        '<sound dalsegno="segno"/>',
        '<sound coda="coda"/>',
        '<sound fine="yes"/>',
        "<words>D.S. al Coda</words>",
        "<words>Fine</words>",
    ):
        assert piece in text
    part = read_by_music21(text)
    repeats = [mark.direction for mark in part.recurse().getElementsByClass("Repeat")]
    assert repeats == ["start", "end"]


@pytest.mark.parametrize(
    ("before", "jump", "until", "words"),
    [
        (BarMarks(), Jump.DA_CAPO, None, "D.C."),
        (BarMarks(fine=True), Jump.DA_CAPO, None, "D.C. al Fine"),
        (BarMarks(to_coda=True), Jump.DAL_SEGNO, None, "D.S. al Coda"),
        (BarMarks(fine=True, to_coda=True), Jump.DAL_SEGNO, Until.FINE, "D.S. al Fine"),
        (BarMarks(), Jump.DA_CAPO, Until.CODA, "D.C. al Coda"),
    ],
)
def test_a_jump_says_in_words_how_far_to_play(bar, before, jump, until, words):
    bars = (bar("C5:4", marks=before), bar("C5:4", marks=BarMarks(jump=jump, until=until)))
    assert f"<words>{words}</words>" in musicxml(bars, Reading.GUITAR)


def test_what_is_written_of_sections_bar_lines_and_jumps_is_read_back_equal(bar):
    """By the reader of files, which knows nothing of the writer."""
    marks = (
        BarMarks(section="Intro", bar_line=BarLine.DOUBLE),
        BarMarks(section="A", repeat_start=True, segno=True),
        BarMarks(repeat_end=3, to_coda=True),
        BarMarks(section="Bridge", bar_line=BarLine.DASHED),
        BarMarks(fine=True),
        BarMarks(jump=Jump.DAL_SEGNO, jump_words="D.S. al 2nd ending", bar_line=BarLine.FINAL),
        BarMarks(coda=True, segno=True),
        BarMarks(jump=Jump.DAL_SEGNO, until=Until.CODA, bar_line=BarLine.DOUBLE),
        BarMarks(section="Outro", bar_line=BarLine.FINAL),
    )
    bars = [bar("C5:4", marks=one, number=str(number)) for number, one in enumerate(marks, start=1)]
    text = musicxml(bars, Reading.GUITAR, system_starts=(1,))
    assert tuple(read.marks for read in read_here(text.encode(), name="page.musicxml").bars) == marks


def test_a_bar_without_marks_has_no_bar_line_of_its_own():
    plain = BarMarks()
    assert left_barline(plain) == right_barline(plain, last=False, key_changes=False) == ""
    assert opening_signs(plain) == closing_words(plain, "") == ""


@pytest.mark.parametrize(
    ("marks", "last", "key_changes", "style"),
    [
        (BarMarks(), True, False, "light-heavy"),
        (BarMarks(fine=True, bar_line=BarLine.FINAL), False, False, "light-heavy"),
        (BarMarks(bar_line=BarLine.DOUBLE), False, False, "light-light"),
        (BarMarks(bar_line=BarLine.DOUBLE), True, False, "light-light"),
        (BarMarks(bar_line=BarLine.FINAL), False, True, "light-heavy"),
        (BarMarks(bar_line=BarLine.DASHED), False, False, "dashed"),
        (BarMarks(bar_line=BarLine.DOTTED), False, False, "dotted"),
        (BarMarks(bar_line=BarLine.HEAVY, jump=Jump.DAL_SEGNO), False, False, "heavy"),
        (BarMarks(bar_line=BarLine.DOUBLE, repeat_end=2), False, False, "light-heavy"),
        (BarMarks(repeat_end=2), False, True, "light-heavy"),
        (BarMarks(), False, True, "light-light"),
        (BarMarks(jump=Jump.DA_CAPO), False, False, "light-light"),
    ],
)
def test_the_end_of_a_bar_is_drawn_as_what_follows_asks(marks, last, key_changes, style):
    """As the page has it; else thin and thick at an end or a repeat, two thin before a new key or at a jump (trade)."""
    assert f"<bar-style>{style}</bar-style>" in right_barline(marks, last=last, key_changes=key_changes)


def test_fine_in_mid_tune_stands_at_a_plain_bar_line_where_the_page_has_no_other():
    assert right_barline(BarMarks(fine=True), last=False, key_changes=False) == ""


def test_the_word_of_a_section_stands_before_the_other_signs_of_its_bar(bar):
    marks = BarMarks(section="A & B", segno=True)
    signs = opening_signs(marks)
    assert signs.index("<rehearsal>A &amp; B</rehearsal>") < signs.index("<segno/>")
    part = read_by_music21(musicxml((bar("C5:4"), bar("D5:4", marks=marks)), Reading.GUITAR))
    (mark,) = part.recurse().getElementsByClass("RehearsalMark")
    assert (mark.content, mark.measureNumber) == ("A & B", part.getElementsByClass("Measure")[1].number)


def test_a_double_bar_line_is_read_back_by_another_program(bar):
    bars = (bar("C5:4", marks=BarMarks(bar_line=BarLine.DOUBLE)), bar("D5:4"), bar("E5:4"))
    part = read_by_music21(musicxml(bars, Reading.GUITAR))
    assert [measure.rightBarline and measure.rightBarline.type for measure in part.getElementsByClass("Measure")] == [
        "double",
        None,
        "final",
    ]


def test_before_an_opening_sign_on_the_same_line_no_other_bar_line_is_drawn(bar):
    """The sign is the bar line of both; at the end of a line the double one stands by itself (trade)."""
    bars = (bar("C5:4", marks=BarMarks(bar_line=BarLine.DOUBLE)), bar("D5:4", marks=BarMarks(repeat_start=True)))
    assert "light-light" not in musicxml(bars, Reading.GUITAR)
    assert "light-light" in musicxml(bars, Reading.GUITAR, system_starts=(1,))


def test_a_jump_keeps_the_words_of_the_page(bar):
    marks = BarMarks(jump=Jump.DAL_SEGNO, jump_words="D.S. al 2nd ending")
    assert words_of_jump((bar("C5:4", marks=marks),), 0) == "D.S. al 2nd ending"
    assert "<words>D.S. al &lt;2&gt;</words>" in closing_words(marks, "D.S. al <2>")


def test_more_than_twice_is_said_in_words_where_no_bracket_says_it():
    assert "<words>4x</words>" in closing_words(BarMarks(repeat_end=4), "")
    assert closing_words(BarMarks(repeat_end=2), "") == ""
    assert closing_words(BarMarks(repeat_end=3, endings=(1, 2)), "") == ""


def test_a_section_played_twice_says_no_times():
    assert "times" not in right_barline(BarMarks(repeat_end=2), last=False, key_changes=False)
    assert 'times="3"' in right_barline(BarMarks(repeat_end=3), last=False, key_changes=False)


def test_a_jump_only_counts_the_signs_it_plays_again(bar):
    bars = (bar("C5:4", marks=BarMarks(jump=Jump.DA_CAPO)), bar("C5:4", marks=BarMarks(fine=True)))
    assert words_of_jump(bars, 0) == "D.C."
