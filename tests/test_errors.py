"""What can go wrong, for the person at the instrument to mend."""

import pytest

from game.errors import HomefretError, MapError, SeveralPartsError, TuneError
from game.message import message, verbatim


def test_an_error_carries_a_key_of_the_catalogue_with_its_values():
    assert MapError("map.some_key", name="banjo").message == message("map.some_key", name="banjo")


def test_an_error_may_carry_a_message_as_it_is():
    said = verbatim("no space left")
    assert HomefretError(said).message is said


def test_a_trace_shows_key_and_values_for_words_are_the_catalogues():
    assert str(MapError("map.some_key", name="banjo", frets=3)) == "map.some_key(name='banjo', frets=3)"


def test_a_file_of_several_parts_names_them_and_is_a_fault_of_the_tune():
    with pytest.raises(TuneError) as caught:
        raise SeveralPartsError("tune.several", names=("Flute", "Bass"), count=2)
    assert caught.value.names == ("Flute", "Bass")
    assert caught.value.message == message("tune.several", count=2)
