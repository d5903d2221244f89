"""Four rows of the computer keyboard are four frets of the neck."""

import pygame
import pytest

from game.instrument.sources.computer_keys import ComputerKey, keys_of_places, place_of, played_by
from game.neck.neck_map import standard_map
from game.neck.tuning import Place, tuning_named
from tests.instrument.keys import key_of


def test_every_home_of_every_position_has_a_key():
    """Position V: 24 places without a stretch and six with (check-values: trade, calc)."""
    for position in range(1, 16):
        for home in standard_map(position=position).homes:
            if home.outlying:
                continue
            key = key_of(home.place, position=position)
            assert place_of(key, position=position) == home.place
    in_v = standard_map(position=5).homes
    assert len(in_v) == 30
    assert sum(not key_of(home.place, position=5).shift for home in in_v) == 24


def test_the_keys_lie_as_a_chord_chart():
    """Reference: SDL's scancodes as pygame names them."""
    chart = [
        (pygame.KSCAN_1, Place(6, 5)),
        (pygame.KSCAN_6, Place(1, 5)),
        (pygame.KSCAN_Q, Place(6, 6)),
        (pygame.KSCAN_Y, Place(1, 6)),
        (pygame.KSCAN_A, Place(6, 7)),
        (pygame.KSCAN_H, Place(1, 7)),
        (pygame.KSCAN_Z, Place(6, 8)),
        (pygame.KSCAN_N, Place(1, 8)),
    ]
    assert [place_of(ComputerKey(scancode), position=5) for scancode, _ in chart] == [place for _, place in chart]


@pytest.mark.parametrize(("rows", "fret"), [("123456", 5), ("QWERTY", 6), ("ASDFGH", 7), ("ZXCVBN", 8)])
def test_each_row_is_a_fret_and_each_column_a_string(rows, fret):
    places = [place_of(ComputerKey(getattr(pygame, f"KSCAN_{name}")), position=5) for name in rows]
    assert places == [Place(string, fret) for string in (6, 5, 4, 3, 2, 1)]


def test_shift_stretches_the_outer_rows():
    assert place_of(ComputerKey(pygame.KSCAN_1, shift=True), position=5) == Place(6, 4)
    assert place_of(ComputerKey(pygame.KSCAN_N, shift=True), position=5) == Place(1, 9)
    assert place_of(ComputerKey(pygame.KSCAN_Q, shift=True), position=5) is None


def test_in_first_position_the_stretch_back_is_the_open_string():
    assert place_of(ComputerKey(pygame.KSCAN_1, shift=True), position=1) == Place(6, 0)


def test_beyond_the_last_fret_there_is_no_place():
    assert place_of(ComputerKey(pygame.KSCAN_Z), position=20) is None


def test_other_keys_play_nothing():
    for scancode in (pygame.KSCAN_SPACE, pygame.KSCAN_RETURN, pygame.KSCAN_J, pygame.KSCAN_7, -1):
        assert played_by(ComputerKey(scancode), at_s=0.0, position=5) is None
    assert key_of(Place(1, 12), position=5) is None


def test_a_key_gives_a_note_with_its_place_and_time():
    note = played_by(ComputerKey(pygame.KSCAN_6), at_s=2.5, position=5)
    assert (note.started_s, note.sounding, note.place, note.source) == (2.5, 69, Place(1, 5), "computer keys")


@pytest.mark.parametrize("strings", [4, 5, 6, 7])
def test_the_low_string_is_at_the_left_and_every_string_has_a_column(strings):
    columns = [
        place_of(ComputerKey(getattr(pygame, f"KSCAN_{name}")), position=5, strings=strings) for name in "1234567"
    ]
    assert columns == [Place(string, 5) for string in range(strings, 0, -1)] + [None] * (7 - strings)


def test_the_lowest_of_eight_strings_has_no_keys():
    """To the right of M are commands."""
    places = set(keys_of_places(position=5, strings=8))
    assert {place.string for place in places} == {1, 2, 3, 4, 5, 6, 7}


def test_a_key_plays_the_string_of_the_instrument():
    bass = tuning_named("bass")
    played = played_by(ComputerKey(pygame.KSCAN_1), at_s=0.0, position=5, tuning=bass)
    assert (played.place, played.sounding) == (Place(4, 5), 33)
    assert played_by(ComputerKey(pygame.KSCAN_5), at_s=0.0, position=5, tuning=bass) is None
