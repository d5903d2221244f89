"""The notes a line may use."""

import pytest

from game.errors import TuneError
from game.lines.scale import is_rare_spelling, key_named, scale_of
from game.music.keys import Key
from game.music.pitch import pitch
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import Tuning
from tests.lines.making import ALL_KEYS, MAP
from tests.refusing import refusal


def test_a_chromatic_neighbour_is_spelled_by_where_it_goes():
    scale = scale_of(Key(0), MAP)
    assert scale.neighbour(pitch("G4"), above=False).name == "F#4"
    assert scale.neighbour(pitch("G4"), above=True).name == "Ab4"
    assert scale.neighbour(pitch("F4"), above=False).name == "E4"
    assert scale.neighbour(pitch("E4"), above=True).name == "F4"


def test_every_key_can_be_asked_for_by_its_name():
    assert [key_named(key.name) for key in ALL_KEYS] == list(ALL_KEYS)


def test_a_neighbour_without_a_home_or_a_plain_spelling_is_none():
    scale = scale_of(Key(0), MAP)
    assert scale.neighbour(pitch("Ab3"), above=False) is None
    assert scale.neighbour(pitch("F#4"), above=False) is None


def test_the_scale_is_what_the_map_holds_of_the_key_as_written():
    """Position V reaches from written A♭3 to C♯6 (check values)."""
    in_f = scale_of(Key(-1), MAP)
    assert (in_f.pitches[0].name, in_f.pitches[-1].name) == ("A3", "C6")
    assert in_f.tonic_step == "F"
    assert {pitch.octave for pitch in in_f.pitches} <= set(in_f.octaves)
    concert = scale_of(Key(-1), standard_map(reading=Reading.CONCERT))
    assert [higher.up_octaves(1) for higher in concert.pitches] == list(in_f.pitches)


def test_rare_spellings_are_those_that_only_their_own_keys_ask_for():
    assert is_rare_spelling("E", 1, Key(0))
    assert not is_rare_spelling("E", 1, Key(6))
    assert not is_rare_spelling("F", 1, Key(0))


def test_a_map_with_too_few_notes_of_the_key_is_refused():
    """Six strings tuned alike hold no eight notes of a key in one position."""
    alike = standard_map(tuning=Tuning("alike", (50,) * 6))
    with refusal(TuneError, "holds only"):
        scale_of(Key(0), alike)


@pytest.mark.parametrize("name", ["", "c", "H", "Am7", "E##"])
def test_a_key_that_is_none_is_refused(name):
    with refusal(TuneError, "no key is called"):
        key_named(name)


def test_a_map_without_the_key_note_is_refused():
    """Strings tuned in octaves leave out some notes of the scale in every octave."""
    octaves = standard_map(tuning=Tuning("octaves", (88, 76, 64, 52, 40, 28)), position=1)
    with refusal(TuneError, "has no key note of C"):
        scale_of(Key(0), octaves)
