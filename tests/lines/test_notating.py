"""From onsets and pitches to printed bars."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.notating import bars_of, pieces_of, rests_of
from game.lines.rhythms import METERS, ticks_of
from game.lines.spots import Spot
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Note, Rest


# Where a note crosses what a page should show, and how it is then written, in ticks of a twelfth of a quarter note
# (engraving handbooks, trade): the middle of a 4/4 bar, the dotted beats of 6/8.
@pytest.mark.parametrize(
    ("meter", "start", "stop", "written"),
    [
        ((4, 4), 0, 48, [48]),
        ((4, 4), 12, 36, [24]),
        ((4, 4), 6, 18, [12]),
        ((4, 4), 18, 30, [6, 6]),
        ((4, 4), 18, 36, [6, 12]),
        ((4, 4), 12, 30, [12, 6]),
        ((4, 4), 0, 18, [18]),
        ((4, 4), 6, 24, [18]),
        ((4, 4), 42, 48, [6]),
        ((4, 4), 30, 48, [18]),
        ((4, 4), 0, 30, [24, 6]),
        ((3, 4), 0, 36, [36]),
        ((3, 4), 12, 36, [24]),
        ((3, 4), 6, 30, [6, 18]),
        ((2, 2), 12, 36, [24]),
        ((6, 8), 0, 36, [36]),
        ((6, 8), 12, 36, [6, 18]),
        ((6, 8), 12, 24, [6, 6]),
        ((6, 8), 6, 18, [12]),
        ((9, 8), 18, 54, [36]),
        ((12, 8), 0, 72, [72]),
    ],
)
def test_notes_are_tied_where_they_would_hide_a_beat(meter, start, stop, written):
    pieces = pieces_of(start, stop, Meter(*meter))
    assert [ticks for _, ticks in pieces] == written
    assert [at for at, _ in pieces] == [start + sum(written[:index]) for index in range(len(written))]


@given(st.sampled_from(METERS), st.integers(0, 71), st.integers(1, 72))
def test_pieces_fill_their_time_with_printed_values_in_eighths(meter, start, length):
    """Whatever stands on eighths."""
    start, stop = start // 6 * 6, (start + length) // 6 * 6
    if not start < stop <= ticks_of(meter):
        return
    pieces = pieces_of(start, stop, meter)
    assert [at for at, _ in pieces] == [start, *(at + ticks for at, ticks in pieces[:-1])]
    assert sum(ticks for _, ticks in pieces) == stop - start
    assert {ticks for _, ticks in pieces} <= {6, 12, 18, 24, 36, 48, 72}


@pytest.mark.parametrize(
    ("meter", "start", "stop", "written"),
    [
        ((4, 4), 0, 48, [48]),
        ((4, 4), 12, 36, [12, 12]),
        ((4, 4), 12, 48, [12, 24]),
        ((4, 4), 0, 36, [24, 12]),
        ((4, 4), 0, 18, [12, 6]),
        ((4, 4), 30, 48, [6, 12]),
        ((4, 4), 6, 36, [6, 12, 12]),
        ((3, 4), 0, 36, [36]),
        ((3, 4), 0, 24, [24]),
        ((3, 4), 12, 36, [12, 12]),
        ((6, 8), 18, 36, [18]),
    ],
)
def test_rests_leave_the_beats_and_the_middle_of_the_bar_in_sight(meter, start, stop, written):
    """As engraving handbooks have it (trade): in simple metres no dotted rests, and none over the middle."""
    assert [ticks for _, ticks in rests_of(start, stop, Meter(*meter))] == written


def test_a_note_from_the_first_beat_over_the_bar_line_is_struck_once():
    first, second = bars_of([(Spot(0, 60), pitch("C4")), (Spot(60, 36), pitch("D4"))], Meter(), Key(), [(), ()])
    assert [note.tied_to_next for note in first.notes] == [True]
    assert [note.tied_from_previous for note in second.notes] == [True, False, False][: len(second.notes)]


def test_a_note_over_the_bar_line_is_tied_and_each_bar_has_its_own_part():
    first, second = bars_of([(Spot(0, 42), pitch("C4")), (Spot(42, 54), pitch("D4"))], Meter(), Key(), [(), ()])
    held, early = first.notes[0], first.notes[-1]
    assert (held.pitch.name, held.tied_from_previous) == ("C4", False)
    assert (early.pitch.name, early.onset, early.tied_to_next) == ("D4", Fraction(7, 2), True)
    assert [(note.pitch.name, note.length, note.tied_from_previous) for note in second.notes] == [("D4", 4, True)]
    assert [bar.number for bar in (first, second)] == ["1", "2"]


def test_rests_are_never_tied_and_triplets_have_their_bracket():
    triplet = [(Spot(4 * place, 4, triplet=place), pitch("C4")) for place in range(3)]
    (made,) = bars_of([*triplet, (Spot(12, 36, rest=True), None)], Meter(), Key(), [()])
    assert [(note.length, note.value.tuplet.starts, note.value.tuplet.stops) for note in made.notes] == [
        (Fraction(1, 3), True, False), (Fraction(1, 3), False, False), (Fraction(1, 3), False, True),
    ]  # fmt: skip
    rests = [event for event in made.events if isinstance(event, Rest)]
    assert sum(rest.length for rest in rests) == 3
    assert all(isinstance(event, Note | Rest) for event in made.events)
