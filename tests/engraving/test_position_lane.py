"""Roman numerals above a line of music: near their notes, clear of everything else."""

from itertools import product
from random import Random

import pygame
import pytest

from game.desk.staff_text import measured_on_staff
from game.engraving.engraver import EngravedFace
from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.position_lane import place_positions
from game.engraving.shapes import Box, System, TextExtent, TextKind
from game.engraving.skyline import Skyline
from game.music.score import Note, Reading
from game.music.written import HeadId
from game.neck.neck_map import roman
from tests.engraving.made_pages import made_page
from tests.engraving.touching import touching
from tests.sampling import sample

FIRST, SECOND = HeadId(0, 0), HeadId(0, 1)


@pytest.fixture(autouse=True, scope="module")
def _letters():
    pygame.font.init()


def lane(heads, boxes=(), right=40.0):
    """The numerals, each three spaces wide, on a line whose top line is at 10; `heads` are the x of noteheads."""
    system = System(top_line=10.0, left=0.0, right=right)
    system.head_boxes = {HeadId(0, at): Box(x, 12.0, x + 1.2, 13.0) for at, x in enumerate(heads)}
    skyline = Skyline(0.0, right, 9.6)
    skyline.add(boxes)
    numerals = {HeadId(0, at): "VIII" for at in range(len(heads))} | {HeadId(7, 0): "I"}
    place_positions(system, numerals, lambda *_: TextExtent(3.0, 1.0, 0.0), skyline)
    return system.texts


def test_a_numeral_begins_with_its_notehead_above_the_staff():
    (numeral,) = lane([12.0])
    assert (numeral.kind, numeral.text, numeral.x) == (TextKind.POSITION, "VIII", 12.0)
    assert numeral.box.bottom < 10.0


def test_numerals_of_low_notes_stand_in_one_row_and_one_above_a_high_note_is_clear_of_it():
    low, high, other = lane([5.0, 15.0, 25.0], boxes=[Box(15.0, 5.0, 16.0, 12.0)])
    assert low.baseline == other.baseline
    assert high.box.bottom < 5.0


def test_numerals_of_notes_side_by_side_do_not_touch():
    one, next_one = lane([5.0, 6.5])
    assert next_one.box.bottom < one.box.top


def test_a_numeral_at_the_end_of_the_page_stays_on_it():
    (numeral,) = lane([39.0])
    assert numeral.box.right == pytest.approx(40.0)


def numbered(bars, seed):
    """Numerals at a third of the notes of a page."""
    rng = Random(seed)
    return {
        HeadId(index, place): roman(rng.randint(1, 19)) + rng.choice(("", "", "/XVIII"))
        for index, bar in enumerate(bars)
        for place, event in enumerate(bar.events)
        if isinstance(event, Note) and rng.random() < 0.3
    }


@pytest.mark.parametrize(("seed", "face"), sample(product(range(60), EngravedFace), by_default=1))
def test_nothing_touches_a_numeral_on_pages_that_are_worse_than_most(seed, face):
    bars = made_page(seed)
    numerals = numbered(bars, seed)
    page = lay_out_page(bars, Reading.GUITAR, 67, face, measure=measured_on_staff, numerals=numerals)
    line = lay_out_line(bars, Reading.GUITAR, face, measure=measured_on_staff, numerals=numerals)
    for engraving in (page, line):
        assert list(touching(engraving, 17)) == []
        texts = [text.text for system in engraving.systems for text in system.texts if text.kind is TextKind.POSITION]
        assert sorted(texts) == sorted(numerals.values())


def test_a_chord_symbol_stands_above_the_numeral_of_its_note(bar):
    from game.music.chords import ChordSymbol

    chord = ChordSymbol(onset=0, root="A", kind="minor", text="Am")
    system = lay_out_line(
        (bar("A4:4", chords=(chord,)),), Reading.GUITAR, measure=measured_on_staff, numerals={FIRST: "V"}
    ).systems[0]
    by_kind = {text.kind: text for text in system.texts}
    assert by_kind[TextKind.CHORD].box.bottom < by_kind[TextKind.POSITION].box.top


def test_a_page_without_numerals_is_as_it_was(bar):
    bars = (bar("A4:4"),)
    assert lay_out_line(bars, Reading.GUITAR).systems[0].texts == []
