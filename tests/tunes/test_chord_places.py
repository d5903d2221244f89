"""Where chord symbols stand when the file does not say it."""

from fractions import Fraction

import pytest

from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Bar, NoteValue, Rest
from game.tunes.chord_places import beats_ahead, chords_kept_inside, shared_places, with_late_chords
from game.tunes.left_out import LeftOut, bars_listed

HALF = Fraction(1, 2)
COMMON, CUT, WALTZ, JIG = Meter(4, 4), Meter(2, 2), Meter(3, 4), Meter(6, 8)


def chord(text: str, onset) -> ChordSymbol:
    return ChordSymbol(onset=Fraction(onset), root=text[0], kind="major", text=text)


def bar(*chords: ChordSymbol, number="1", length=4, meter=COMMON, pickup=False, rests=1) -> Bar:
    """A bar of `rests` rests of equal length, under these symbols."""
    each = Fraction(length) / rests
    events = tuple(Rest(onset=each * index, length=each, value=NoteValue(base=Fraction(1))) for index in range(rests))
    return Bar(
        number=number,
        meter=meter,
        key=Key(),
        length=Fraction(length),
        events=events,
        chords=chords,
        pickup=pickup,
    )


def kept(*bars: Bar):
    """Each bar as its symbols with their places, and the bars in which something was moved."""
    left_out = LeftOut()
    made = chords_kept_inside(bars, left_out)
    said = [dict(dict(warning.values)["bars"].values)["bars"] for warning in left_out.warnings(bars_listed)]
    return [" ".join(f"{one.text}@{one.onset}" for one in each.chords) for each in made], said


@pytest.mark.parametrize(
    ("count", "start", "end", "meter", "places"),
    [
        (2, 0, 4, COMMON, (0, 2)),
        (3, 0, 4, COMMON, (0, 2, 3)),
        (4, 0, 4, COMMON, (0, 1, 2, 3)),
        (2, 0, 3, WALTZ, (0, 2)),
        (3, 0, 3, WALTZ, (0, 1, 2)),
        (2, 0, 3, JIG, (0, Fraction(3, 2))),
        (3, 0, 3, JIG, (0, 1, 2)),
        (3, 0, 4, CUT, (0, 2, 3)),
        (2, 2, 4, CUT, (2, 3)),
        (2, 1, 4, COMMON, (1, 3)),
        (2, HALF, 4, COMMON, (HALF, 3)),
        (2, 0, 1, COMMON, (0, HALF)),
        (2, HALF, 1, COMMON, (HALF, Fraction(3, 4))),
        (5, 0, 4, COMMON, (0, 1, 2, Fraction(5, 2), Fraction(7, 2))),
        (24, 0, 2, COMMON, tuple(Fraction(index, 12) for index in range(24))),
        (1, 3, 4, COMMON, (3,)),
    ],
)
def test_symbols_share_a_note_by_equal_parts_of_the_beats(count, start, end, meter, places):
    """Three in four beats on 1, 3 and 4, two in three on 1 and 3: so most lead sheets write them out (trade)."""
    assert shared_places(count, Fraction(start), Fraction(end), meter, ahead=Fraction(0)) == places


def test_in_a_pickup_bar_the_beats_are_counted_from_its_end():
    """One beat and a half before the bar line: the beat is a half from the start."""
    pickup = bar(length=Fraction(3, 2), pickup=True)
    ahead = beats_ahead(pickup)
    assert (ahead, beats_ahead(bar(length=Fraction(3, 2)))) == (Fraction(5, 2), 0)
    assert shared_places(2, Fraction(0), Fraction(3, 2), COMMON, ahead=ahead) == (0, HALF)


def test_a_symbol_at_the_end_of_its_bar_begins_the_next_unless_another_stands_there():
    assert kept(bar(chord("G", 4)), bar(chord("C", 2), number="2")) == (["", "G@0 C@2"], [("1",)])
    assert kept(bar(chord("F", 0), chord("G", 4)), bar(chord("C", 0), number="2")) == (["F@0 G@2", "C@0"], [("1",)])
    assert kept(bar(chord("F", 0), chord("G", 5)), bar(chord("C", 2), number="2")) == (["F@0", "G@1 C@2"], [("1",)])


def test_behind_the_last_bar_it_stays_in_it():
    assert kept(bar(chord("F", 0), chord("G", 9), chord("A", 9))) == (["F@0 G@2 A@3"], [("1",)])


def test_in_a_short_bar_the_place_was_counted_in_the_full_one():
    """A bar of one beat and a half that goes on where another ended; the offset counts the two and a half before."""
    short = bar(chord("E", Fraction(5, 2)), length=Fraction(3, 2))
    assert kept(short, bar(chord("C", 0), number="2")) == (["E@0", "C@0"], [("1",)])


def test_what_stands_inside_stays_where_it_is():
    assert kept(bar(chord("F", 0), chord("G", Fraction(7, 2)))) == (["F@0 G@7/2"], [])


def test_no_two_symbols_stand_in_one_place():
    """What two voices say of the same beat; said once where both say the same."""
    left_out = LeftOut()
    (made,) = chords_kept_inside([bar(chord("F", 0), chord("C", 0), chord("F", 2), chord("F", 2))], left_out)
    assert [(one.text, one.onset) for one in made.chords] == [("F", 0), ("C", 1), ("F", 2)]
    assert [warning.key for warning in left_out.warnings(bars_listed)] == ["tune.chords_shared"]


def test_late_symbols_stand_on_the_last_note_or_share_what_is_left():
    whole, halves = bar(), bar(rests=2)
    late = (chord("G", 4),)
    assert [one.onset for one in with_late_chords(whole, (), late)] == [0]
    assert [one.onset for one in with_late_chords(halves, (chord("F", 0),), late)] == [0, 2]
    assert [one.onset for one in with_late_chords(halves, (chord("F", 2),), late)] == [2, 3]
    assert with_late_chords(halves, (chord("F", 2),), ()) == (chord("F", 2),)
