"""The map: one home for each pitch."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import MapError
from game.music.pitch import pitch
from game.neck.neck_map import Reach, roman, standard_map
from game.neck.tuning import STANDARD, TUNINGS, Place
from tests.refusing import refusal


def midi(*names):
    return [pitch(name).midi for name in names]


def frets_in_reach(sounding):
    """Where position V has a pitch, both stretches included."""
    return {place.fret for place in STANDARD.places_of(sounding, 22) if 4 <= place.fret <= 9}


def test_position_v_without_stretches_holds_24_pitches_from_a2_to_c5():
    """Frets 5 to 8 (trade, calculated): missing are C#3, F#3, B3 and G#4."""
    plain = [home.sounding for home in standard_map().homes if home.reach is Reach.IN_POSITION]
    assert len(plain) == 24
    assert (plain[0], plain[-1]) == tuple(midi("A2", "C5"))
    assert sorted(set(range(plain[0], plain[-1] + 1)) - set(plain)) == midi("C#3", "F#3", "B3", "G#4")


def test_position_v_with_stretches_runs_from_a_flat_2_to_c_sharp_5_with_no_gap():
    """Trade, calculated: six pitches need a stretch."""
    homes = standard_map().homes
    assert [home.sounding for home in homes] == list(range(pitch("Ab2").midi, pitch("C#5").midi + 1))
    assert [home.sounding for home in homes if home.stretch] == midi("Ab2", "C#3", "F#3", "B3", "Ab4", "C#5")


def test_four_stretches_are_doubtful_and_the_first_finger_reaches_back_for_them():
    """Each lies at fret 9 of one string or fret 4 of the next (calculated); fret 4 is our default."""
    stretches = [home for home in standard_map().homes if home.stretch]
    doubtful = [home for home in stretches if frets_in_reach(home.sounding) == {4, 9}]
    assert [home.sounding for home in doubtful] == midi("C#3", "F#3", "B3", "Ab4")
    assert {home.place.fret for home in doubtful} == {4}


def test_each_stretch_can_be_chosen_for_its_own_pitch():
    neck_map = standard_map().with_choice(Place(4, 9))
    assert neck_map.home_of(pitch("B3").midi).place == Place(4, 9)
    assert neck_map.home_of(pitch("F#3").midi).place == Place(4, 4)
    assert len(neck_map.homes) == 30


def test_an_outlying_home_may_lie_anywhere_and_widens_the_map():
    neck_map = standard_map().with_choice(Place(1, 12))
    home = neck_map.home_of(pitch("E5").midi)
    assert home.outlying
    assert not home.stretch
    assert len(neck_map.homes) == 31


def test_the_open_position_has_no_gap_and_open_b_for_its_only_double_place():
    """Frets 0 to 4 (trade): B3 is also at fret 4 of string 3."""
    homes = {home.sounding: home for home in standard_map(position=1).homes if home.place.fret <= 4}
    assert sorted(homes) == list(range(min(homes), max(homes) + 1))
    assert (min(homes), max(homes)) == (40, 68)
    assert homes[59].place == Place(2, 0)
    assert not homes[59].stretch


def test_with_position_v_the_open_sixth_string_is_free_for_commands():
    assert standard_map().free_string == Place(6, 0)


def test_positions_are_written_in_roman_numerals():
    assert [roman(n) for n in (1, 2, 4, 5, 7, 9, 10, 12, 14)] == "I II IV V VII IX X XII XIV".split()


@given(st.sampled_from(list(TUNINGS.values())), st.integers(1, 19))
def test_a_map_has_one_home_for_each_pitch_and_each_sounds_it(tuning, position):
    neck_map = standard_map(position=position, tuning=tuning)
    soundings = [home.sounding for home in neck_map.homes]
    assert soundings == sorted(set(soundings))
    places = [home.place for home in neck_map.homes]
    assert len(set(places)) == len(places)
    for home in neck_map.homes:
        assert tuning.sounding(home.place) == home.sounding
        assert neck_map.home_of(home.sounding) == home


@given(st.integers(1, 19), st.integers(1, 6), st.integers(0, 22))
def test_choosing_a_place_makes_it_the_only_home_of_its_pitch(position, string, fret):
    chosen = Place(string, fret)
    neck_map = standard_map(position=position).with_choice(chosen)
    assert neck_map.places[STANDARD.sounding(chosen)] == chosen


@pytest.mark.parametrize(
    ("settings", "message"),
    [
        ({"position": 0}, "position 0 is not on this neck: choose 1 to 19"),
        ({"position": 20}, "position 20 is not on this neck"),
        ({"frets": 3}, "4 to 30 frets, not 3"),
        ({"frets": 99}, "4 to 30 frets, not 99"),
        ({"choices": {60: Place(7, 0)}}, "string 7 fret 0 is not on this neck"),
        ({"choices": {60: Place(1, 0)}}, "sounds 64, not 60: choose a place of the same pitch"),
    ],
)
def test_a_map_that_cannot_be_is_refused_with_the_reason(settings, message):
    with refusal(MapError, message):
        standard_map(**settings)


def test_all_faults_are_told_at_once():
    with refusal(MapError, r"position 30 .*; string 9 fret 0 .*"):
        standard_map(position=30, choices={60: Place(9, 0)})
