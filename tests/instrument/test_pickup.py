"""A simulated pickup's stream is decoded to what was meant, whatever the pickup does wrong."""

from dataclasses import replace
from random import Random

import pytest

from game.instrument.decoding.decoded import decode_all
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import finish, hear, initial_state
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.neck_map import standard_map
from tests.instrument.intended import compared, intended
from tests.instrument.messages_of import sounding_notes
from tests.instrument.pickup_faults import Fault
from tests.instrument.pickup_simulator import CLEAN, USUAL_SHARES, Pickup, stream
from tests.sampling import how_many

PLACES = tuple(home.place for home in standard_map().homes)


def played_by(shares, seed, notes=200):
    rng = Random(seed)
    meant = intended(PLACES, notes, rng)
    pickup = Pickup(shares=shares)
    whole = decode_all(stream(pickup, meant, rng), replace(pickup.setup, delay=pickup.delay))
    return meant, whole


@pytest.mark.parametrize("seed", range(5))
def test_a_clean_stream_is_decoded_without_a_fault(seed):
    meant, whole = played_by(CLEAN, seed)
    assert compared(meant, whole.notes) == ([], [])


def test_of_a_stream_with_every_fault_99_notes_in_100_are_decoded_and_at_most_1_is_false():
    missed = false = total = 0
    for seed in range(10):
        meant, whole = played_by(USUAL_SHARES, seed)
        lost, added = compared(meant, whole.notes)
        missed, false, total = missed + len(lost), false + len(added), total + len(meant)
    assert missed <= 0.01 * total
    assert false <= 0.01 * total


@pytest.mark.parametrize(
    ("fault", "dirt"),
    [
        (Fault.SOFT_GHOST, Dirt.SOFT),
        (Fault.SHORT_GHOST, Dirt.SHORT),
        (Fault.FLICKER, Dirt.FLICKER),
        (Fault.CROSS_TALK, Dirt.CROSS_TALK),
        (Fault.DOUBLED, Dirt.DOUBLED),
    ],
)
def test_each_fault_is_counted_under_its_name(fault, dirt):
    _, whole = played_by({fault: 0.3}, seed=3)
    assert whole.dirt[dirt] > 10


def test_the_same_seed_gives_the_same_stream():
    first, second = (stream(Pickup(), intended(PLACES, 50, Random(4)), Random(5)) for _ in range(2))
    assert first == second


def test_a_note_without_a_place_is_refused():
    with pytest.raises(ValueError, match="note 1 has none"):
        stream(Pickup(), [PlayedNote(started_s=0.0, sounding=60, place=None)], Random(1))


def test_hundreds_of_thousands_of_random_messages_raise_nothing_and_leave_no_note_stuck():
    rng = Random(11)
    state = initial_state(StringsSetup())
    for number in range(how_many(200_000, by_default=20_000)):
        state, _ = hear(state, StampedMessage(number * 1e-3, 0.0, _any_message(rng)))
    state, _ = finish(state, 201.0)
    assert not sounding_notes(state)


def _any_message(rng):
    """Three bytes as a driver would hand them over, most of them channel messages."""
    return bytes((rng.randrange(0x80, 0x100), rng.randrange(0x90), rng.randrange(0x90)))
