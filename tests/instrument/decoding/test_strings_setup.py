"""How a MIDI guitar reports: one string a channel."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import InstrumentError
from game.instrument.decoding.played import OffNeck
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.neck.tuning import STANDARD, Place, Tuning
from tests.refusing import refusal


@pytest.mark.parametrize("base", [0, 12, 16])
def test_a_base_channel_without_room_for_six_strings_is_refused(base):
    with refusal(InstrumentError, "choose 1 to 11"):
        channels_from(base)


def test_a_channel_named_twice_is_refused():
    with refusal(InstrumentError, "6 different channels"):
        StringsSetup(channels=(1, 1, 2, 3, 4, 5))


@pytest.mark.parametrize("frets", [0, 31])
def test_a_neck_no_guitar_has_is_refused(frets):
    with refusal(InstrumentError, f"{frets}"):
        StringsSetup(frets=frets)


def test_as_many_channels_as_strings_are_asked_for():
    seven = Tuning("seven", (64, 59, 55, 50, 45, 40, 35))
    assert StringsSetup(tuning=seven, channels=(1, 2, 3, 4, 5, 6, 7)).string_of(7) == 7
    with refusal(InstrumentError, "7 different channels"):
        StringsSetup(tuning=seven)


@given(st.permutations(range(1, 17)))
def test_each_channel_has_its_string_and_all_others_none(order):
    setup = StringsSetup(channels=tuple(order[:6]))
    assert [setup.string_of(channel) for channel in order] == [1, 2, 3, 4, 5, 6] + [None] * 10


@pytest.mark.parametrize(
    ("channel", "sounding", "place", "off_neck"),
    [
        (6, 40, Place(6, 0), None),
        (6, 62, Place(6, 22), None),
        (6, 63, None, OffNeck.BEYOND_FRETS),
        (6, 39, None, OffNeck.BELOW_STRING),
        (7, 60, None, OffNeck.NO_STRING),
    ],
)
def test_a_pitch_has_its_place_on_the_string_of_its_channel(channel, sounding, place, off_neck):
    assert StringsSetup(tuning=STANDARD, frets=22).placed(channel, sounding) == (place, off_neck)


def test_channels_are_counted_up_from_the_highest_string_or_the_lowest():
    assert channels_from(3) == (3, 4, 5, 6, 7, 8)
    assert channels_from(3, low_string_first=True) == (8, 7, 6, 5, 4, 3)
    assert channels_from(10, strings=7) == (10, 11, 12, 13, 14, 15, 16)
