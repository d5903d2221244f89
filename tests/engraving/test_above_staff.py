"""What stands above a line of music keeps clear of everything else."""

from itertools import product

import pygame
import pytest

from game.desk.staff_text import measured_on_staff
from game.engraving.engraver import EngravedFace
from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.shapes import TextKind
from game.music.chords import ChordSymbol
from game.music.score import BarMarks, Reading
from game.music.written import HeadId
from game.tunes.library.library import open_entry, shipped_entries
from tests.engraving.made_pages import made_page
from tests.engraving.touching import touching
from tests.sampling import sample

# Pixels to a staff space and to a line: a small window, the usual one, a large screen with large notes.
SIZES = ((11, 880), (17, 1142), (44, 3500))
FACES = tuple(EngravedFace)
ENTRIES = {entry.name: entry for entry in shipped_entries()}


@pytest.fixture(autouse=True, scope="module")
def _letters():
    pygame.font.init()


def touches(bars, reading, face, size) -> list[str]:
    space_px, width_px = size
    page = lay_out_page(bars, reading, width_px / space_px, face, measure=measured_on_staff)
    return list(touching(page, space_px))


@pytest.mark.parametrize(("name", "face", "size"), sample(product(ENTRIES, FACES, SIZES), by_default=3))
def test_no_two_texts_touch_on_any_page_of_the_book(name, face, size):
    score = open_entry(ENTRIES[name])
    assert touches(score.bars, score.reading, face, size) == []


@pytest.mark.parametrize(("seed", "face", "size"), sample(product(range(200), FACES, SIZES), by_default=6))
def test_no_two_texts_touch_on_pages_that_are_worse_than_most(seed, face, size):
    assert touches(made_page(seed), Reading.GUITAR, face, size) == []


@pytest.mark.parametrize(("seed", "face"), sample(product(range(200), FACES), by_default=5))
def test_no_two_texts_touch_on_a_moving_line(seed, face):
    line = lay_out_line(made_page(seed), Reading.GUITAR, face, measure=measured_on_staff)
    assert [word for space_px, _ in SIZES for word in touching(line, space_px)] == []


def test_two_texts_that_do_touch_are_found(bar):
    """The measure itself: where texts are given no room at all, they are found to touch."""
    chords = tuple(ChordSymbol(onset=beat, root="B", kind="major", text="Bbmaj7#11") for beat in (0, 1, 2, 3))
    page = lay_out_page(
        (bar("C5:1 D5:1 E5:1 F5:1", chords=chords),) * 4,
        Reading.GUITAR,
        60,
        measure=lambda *_: measured_on_staff(TextKind.CHORD, "B"),
    )
    assert any("touches" in said for said in touching(page, 17))


def test_chord_symbols_stand_over_their_moment_with_the_text_of_the_bar(page):
    system = lay_out_line(page, Reading.GUITAR).systems[0]
    chords = [text for text in system.texts if text.kind is TextKind.CHORD]
    assert [chord.text for chord in chords] == ["Bb7", "Cm7/G"]
    for chord, head in zip(chords, (HeadId(1, 0), HeadId(1, 4)), strict=True):
        assert chord.x == pytest.approx(system.head_boxes[head].left, abs=0.5)
        assert chord.baseline < system.top_line


def test_later_lines_carry_the_number_of_their_first_bar_and_the_first_line_none(page):
    first, *later = lay_out_page(page, Reading.GUITAR, 80).systems
    assert TextKind.BAR_NUMBER not in {text.kind for text in first.texts}
    for system in later:
        numbers = [text.text for text in system.texts if text.kind is TextKind.BAR_NUMBER]
        assert numbers == [page[system.bars[0]].number]


def test_from_the_inside_to_the_outside_stand_chords_brackets_sections_and_jumps(bar):
    chord = ChordSymbol(onset=0, root="B", kind="dominant", text="Bb7")
    marks = BarMarks(endings=(1,), ending_starts=True, ending_stops=True, repeat_end=2, section="Chorus", fine=True)
    system = lay_out_page((bar("C5:1", chords=(chord,), marks=marks),), Reading.GUITAR, 60).systems[0]
    heights = {text.kind: text.baseline for text in system.texts}
    assert heights[TextKind.CHORD] > heights[TextKind.ENDING] > heights[TextKind.SECTION]
    assert heights[TextKind.ENDING] > heights[TextKind.WORDS]
