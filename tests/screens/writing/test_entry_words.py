"""What is said below the music."""

from dataclasses import replace

from game.message import message
from game.music.names import NoteNames
from game.screens.writing.entry_words import bar_number, status_in_words
from game.tunes.entering.entering import EntryStep, in_step, moved, opened
from game.tunes.entering.place_words import written_above
from game.tunes.entering.rhythm_entry import begun
from tests.tunes.entering.made_taps import BEATS, tapped_run, taps, with_pitches

TAPPED = tapped_run(with_pitches(8), taps(BEATS))


def said(state, names=NoteNames.ENGLISH) -> str:
    return status_in_words(state, names)


def test_what_happened_is_said_before_what_to_do():
    state = replace(with_pitches(3), said=message("writing.no_room"))
    assert said(state) == "There is no room left before the next note."


def test_each_step_says_what_to_do():
    assert said(in_step(with_pitches(1), EntryStep.HEAD)).startswith("Type the title")
    assert said(in_step(with_pitches(3), EntryStep.PITCHES)) == "3 pitches so far."
    assert said(with_pitches(3)).startswith("Bar 1: Space counts in")
    assert said(begun(with_pitches(3), zero_s=1.0, quarter_s=1.0)).startswith("One tap for each note")


def test_a_bar_with_a_rhythm_is_tapped_again_and_a_whole_one_leads_on():
    assert said(moved(TAPPED, -1)) == "Bar 2 has a rhythm: Space counts in, and it is tapped again."
    assert said(TAPPED).startswith("Every pitch has its rhythm")


def test_on_the_page_it_says_where_the_pencil_is_and_what_stands_above():
    state = opened(TAPPED.draft)
    assert said(state) == "Bar 1, G. What you play takes its place."
    assert said(written_above(state, "Gm7")) == "Bar 1, G; above it Gm7."
    assert said(state, NoteNames.SOLFEGE).startswith("Bar 1, sol")


def test_the_pickup_bar_is_bar_0():
    assert [bar_number(bar) for bar in (-1, 0, 7)] == [0, 1, 8]
