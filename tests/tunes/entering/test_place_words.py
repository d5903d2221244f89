"""Chord symbols and signs, as one types them above a note."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.tunes.entering.draft import Draft
from game.tunes.entering.entering import Entering, moved
from game.tunes.entering.place_words import chords_at, place_of, written_above
from tests.tunes.entering.test_corrections import on_page
from tests.tunes.entering.test_draft import draft_of


def chords(state) -> list:
    return [(chord.text, chord.onset) for chord in state.draft.chords]


def test_a_chord_symbol_stands_at_its_note_and_takes_the_place_of_another():
    state = written_above(on_page(0, 2, at=1), "Gm7")
    assert chords(state) == [("Gm7", 2)]
    assert chords(written_above(state, "c7/E")) == [("C7/E", 2)]
    assert chords_at(state) == "Gm7"
    assert chords_at(moved(state, -1)) == ""


def test_several_share_the_time_of_the_note():
    state = written_above(on_page(0, 4, settled=8), " Dm7  G7 ")
    assert chords(state) == [("Dm7", 0), ("G7", 2)]
    assert chords_at(state) == "Dm7 G7"
    assert chords(written_above(state, "C")) == [("C", 0)]
    assert chords(written_above(state, "-")) == []


def test_what_is_no_chord_symbol_is_refused_and_changes_nothing():
    state = written_above(on_page(0, 2), "Gm7 Hmoll")
    assert chords(state) == []
    assert (state.said.key, dict(state.said.values)["text"]) == ("writing.no_chord", "Hmoll")


@pytest.mark.parametrize(
    ("text", "said"),
    [("|:", ("repeat_start", True)), (":|", ("repeat_end", True)), ("1.", ("ending", 1)), ("2", ("ending", 2))],
)
def test_signs_are_written_and_written_again_they_go(text, said):
    name, value = said
    state = written_above(on_page(0, 4, 8, at=1, settled=12), text)
    assert getattr(state.draft.signs_of(1), name) == value
    assert written_above(state, text).draft.signs == ()


def test_the_second_ending_takes_the_place_of_the_first():
    assert written_above(written_above(on_page(0), "1."), "2.").draft.signs_of(0).ending == 2


def test_a_sign_in_a_pickup_bar_belongs_to_it():
    draft = draft_of(-1, 0, settled=4, pickup=Fraction(1))
    state = written_above(Entering(draft=draft), "|:")
    assert state.draft.signs_of(-1).repeat_start
    assert place_of(state) == -1


def test_nothing_is_nothing():
    assert written_above(on_page(0), "  ").draft == on_page(0).draft
    assert written_above(Entering(draft=Draft()), "C").draft == Draft()
    assert chords_at(Entering(draft=Draft())) == ""


def test_pitches_without_a_rhythm_have_places_as_they_stand_on_the_page():
    state = replace(on_page(0, at=2, settled=4), draft=replace(on_page(0, 1, 2).draft, onsets=on_page(0).draft.onsets))
    assert place_of(state) == 5


def test_above_a_note_without_a_rhythm_nothing_can_be_written():
    """Where it will stand is not known yet."""
    state = written_above(replace(on_page(0), draft=replace(on_page(0).draft, onsets=())), "C")
    assert (chords(state), state.said.key) == ([], "writing.no_rhythm_yet")
