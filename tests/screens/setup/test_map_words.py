"""What the map says. Lines and spaces are counted from below, ledger lines from the staff outwards (trade)."""

from dataclasses import replace

import pytest

from game.coach.notes.ink import InkRecord, SpellingKey
from game.coach.notes.ink_of_map import ink_of_map
from game.coach.notes.items import map_name
from game.coach.notes.mastery import Mastery
from game.music.names import NoteNames
from game.music.pitch import pitch
from game.music.score import Reading
from game.neck.hand import UNSTRETCHED
from game.neck.neck_map import Reach, SecondRegion, standard_map
from game.neck.tuning import Place, tuning_named
from game.screens.setup.map_shelf import MoveCost
from game.screens.setup.map_words import (
    cost_told,
    given_up,
    ink_told,
    note_and_line,
    notes_moved,
    place_told,
    reach_told,
    row_told,
)
from game.tunes.library.library import shipped_entries

ENGLISH = NoteNames.ENGLISH


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("E4", "E, on the first line"),
        ("F4", "F, in the first space"),
        ("B4", "B, on the third line"),
        ("F5", "F, on the fifth line"),
        ("D4", "D, just below the staff"),
        ("G5", "G, just above the staff"),
        ("C4", "C, on the first line below the staff"),
        ("Bb3", "B♭, below the first line below the staff"),
        ("A3", "A, two lines below the staff"),
        ("C6", "C, two lines above the staff"),
        ("E6", "E, three lines above the staff"),
        ("D6", "D, above the two lines above the staff"),
    ],
)
def test_a_note_is_told_with_its_line_or_space(written, told):
    assert note_and_line(pitch(written), ENGLISH) == told


def test_position_five_gives_up_what_a_guitarist_would_count():
    """A♭2 to C♯5 (see the tests of the map): E, F, F♯ and G lie below."""
    assert given_up(standard_map(), ENGLISH) == (
        "It gives up the open strings, the four notes below A♭ and all above C♯. Six notes need a stretch."
    )


def test_position_one_keeps_the_open_strings_and_all_from_the_lowest_on():
    assert given_up(standard_map(position=1), ENGLISH).startswith("It gives up all above ")


def test_gaps_of_another_tuning_and_homes_outside_are_told():
    open_g = standard_map(tuning=tuning_named("open-g"), position=5)
    missing = [one for one in range(open_g.homes[0].sounding, open_g.homes[-1].sounding) if open_g.home_of(one) is None]
    assert ("between" in given_up(open_g, ENGLISH)) == bool(missing)
    outlying = standard_map(choices={40: Place(6, 0)})
    assert "One lies outside the position." in given_up(outlying, ENGLISH)
    assert "open strings" not in given_up(outlying, ENGLISH)


@pytest.mark.parametrize(
    ("fret", "told"),
    [(0, "No finger"), (4, "first finger reaches back"), (5, "first finger plays"), (8, "little finger plays"),
     (9, "little finger reaches on"), (12, "shift"), (2, "shift")],
)  # fmt: skip
def test_which_finger_plays_a_place_follows_from_the_position(fret, told):
    assert told in reach_told(Place(3, fret), standard_map())


def test_an_open_string_is_told_as_one():
    assert place_told("home", Place(2, 0)) == "Home: string 2, open."
    assert place_told("or", Place(4, 9)) == "Or string 4, fret 9:"


def test_how_far_each_spelling_has_come_is_told_by_itself():
    neck_map = standard_map()
    plain = {one.sounding: one for one in ink_of_map(Mastery(), neck_map, 1).pitches}
    assert ink_told(plain[59], ENGLISH) == "Not met yet."
    assert ink_told(plain[56], ENGLISH) == "Not met yet. Also written G♯ (not met yet)."
    key = SpellingKey("G#4", map_name(neck_map), neck_map.home_of(56).place)
    met = {one.sounding: one for one in ink_of_map(Mastery(ink={key: InkRecord()}), neck_map, 1).pitches}
    assert ink_told(met[56], ENGLISH) == "In pencil. Also written A♭ (not met yet)."


def cost(place, **changes):
    usual = {"times": 14, "reach": Reach.STRETCH, "reach_now": Reach.IN_POSITION, "growth": 0.02}
    return MoveCost(place=place, **usual | changes)


def test_what_another_home_would_cost_is_told_in_plain_words():
    neck_map = standard_map()
    assert cost_told(cost(Place(4, 9)), neck_map) == (
        "The little finger reaches on. 14 more stretches in your tunes. The hand moves 2 % more."
    )
    shift = cost(Place(5, 14), reach=Reach.OUTLYING, reach_now=Reach.STRETCH, growth=-0.3)
    assert cost_told(shift, neck_map) == (
        "A shift of the hand there and back. 14 stretches fewer in your tunes. "
        "14 shifts there and back in your tunes. The hand moves 30 % less."
    )
    assert row_told(shift, neck_map) == (
        "string 5, fret 14: a shift, 14 times",
        "string 5, fret 14: a shift",
    )
    added = cost(Place(6, 0), times=1, reach=Reach.OUTLYING, reach_now=None, growth=0.001)
    assert cost_told(added, neck_map) == (
        "No finger at all. One note of your tunes gets a home. The hand moves about as much as now."
    )
    assert row_told(added, neck_map) == ("string 6: open, no finger",)
    assert cost_told(cost(Place(4, 9), times=0), neck_map) == (
        "The little finger reaches on. None of your tunes has this note."
    )


def test_a_hand_that_does_not_stretch_shifts_where_another_reaches_and_each_region_has_its_own_fingers():
    assert "shift" in reach_told(Place(3, 4), standard_map(hand=UNSTRETCHED))
    joined = standard_map(second=SecondRegion(position=9, seam=64))
    assert "first finger plays" in reach_told(Place(1, 9), joined)
    assert "little finger plays" in reach_told(Place(6, 8), joined)


def test_the_notes_of_the_shelf_that_move_are_those_of_the_pitches_whose_home_changed():
    """Counted on the shipped tunes themselves, by what each says of its pitches."""
    entries, before = shipped_entries(), standard_map()
    after = before.with_choice(Place(4, 9))
    written = sum(dict(entry.sounding(Reading.GUITAR)).get(59, 0) for entry in entries)
    assert notes_moved(before, after, entries) == written > 0
    assert notes_moved(before, before, entries) == 0
    one = replace(entries[0], counts=((59, 7), (60, 2)), reading=Reading.GUITAR)
    assert notes_moved(before, after, [one]) == 7
