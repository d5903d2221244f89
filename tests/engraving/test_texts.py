"""Which texts stand where over a line of music."""

import pytest

from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.shapes import Box, Shape, System, Text, TextKind
from game.engraving.svg_reader import RawText
from game.engraving.texts import place_texts
from game.music.score import BarMarks, Reading
from game.music.written import HeadId


def test_chord_symbols_stand_over_their_moment_with_the_text_of_the_bar(page):
    engraving = lay_out_line(page, Reading.GUITAR)
    system = engraving.systems[0]
    chords = [text for text in system.texts if text.kind is TextKind.CHORD]
    assert [chord.text for chord in chords] == ["Bb7", "Cm7/G"]
    for chord, head in zip(chords, (HeadId(1, 0), HeadId(1, 4)), strict=True):
        assert chord.x == pytest.approx(system.head_boxes[head].left, abs=0.5)
        assert chord.baseline < system.top_line


def test_words_stand_before_their_bar_line_and_endings_are_numbered(bar):
    bars = (
        bar("G5:1 A5:1 B5:1 C6:1"),
        bar("C5:4", marks=BarMarks(endings=(1,), ending_starts=True, ending_stops=True, repeat_end=2)),
        bar("C6:4", marks=BarMarks(endings=(2,), ending_starts=True, ending_stops=True, fine=True)),
    )
    system = lay_out_page(bars, Reading.GUITAR, 90).systems[0]
    texts = {text.text: text for text in system.texts}
    assert set(texts) == {"1.", "2.", "Fine"}
    assert texts["Fine"].ends_at_x
    assert texts["Fine"].x == system.bar_ends[2]
    assert texts["1."].x < texts["2."].x


def test_later_lines_carry_the_number_of_their_first_bar(page):
    engraving = lay_out_page(page, Reading.GUITAR, 80)
    for system in engraving.systems[1:]:
        numbers = [text.text for text in system.texts if text.kind is TextKind.BAR_NUMBER]
        assert numbers == [page[system.bars[0]].number]


def system(*boxes, bar_ends=(20.0,)):
    """A line of bars with print in these boxes."""
    made = System(top_line=10.0, right=bar_ends[-1], bars=list(range(len(bar_ends))), bar_ends=list(bar_ends))
    made.ground = [Shape("", box) for box in boxes]
    return made


def words(text, baseline, made):
    place_texts([made], [RawText("dir", 0, 0, text, 0.0, baseline)], ())
    return made.texts[-1]


def test_words_end_with_their_bar():
    placed = words("Fine", 8.0, system())
    assert (placed.x, placed.ends_at_x, placed.baseline) == (20.0, True, 8.0)


def test_words_rise_above_print_that_is_in_their_way_and_only_above_that():
    high_note, far_note = Box(18.0, 6.0, 19.0, 11.0), Box(2.0, 1.0, 3.0, 11.0)
    assert words("Fine", 8.0, system(high_note)).baseline == 5.5
    assert words("Fine", 8.0, system(far_note)).baseline == 8.0


def test_words_rise_above_a_chord_symbol_too():
    made = system()
    made.texts.append(Text(TextKind.CHORD, "Bb7", 18.0, 8.0))
    assert words("D.C. al Fine", 8.0, made).baseline < 7.0
