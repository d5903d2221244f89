"""A simulated pickup's stream is decoded to what was meant, whatever the pickup does wrong."""

from dataclasses import replace
from random import Random

import pytest

from game.instrument.decoding.decoded import decoded
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.hearing import finished, hear, listening
from game.instrument.decoding.messages import ByteStream, read_stream
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.neck_map import standard_map
from tests.instrument.intended import compared, intended
from tests.instrument.pickup_simulator import CLEAN, USUAL_SHARES, Fault, Pickup, stream

PLACES = tuple(home.place for home in standard_map().homes)


def played_by(shares, seed, notes=200):
    rng = Random(seed)
    meant = intended(PLACES, notes, rng)
    pickup = Pickup(shares=shares)
    whole = decoded(stream(pickup, meant, rng), replace(pickup.setup, delay=pickup.delay))
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


def test_a_million_random_bytes_raise_nothing_and_leave_no_note_stuck():
    rng = Random(11)
    bytes_ = ByteStream()
    state = listening(StringsSetup())
    for number in range(100):
        bytes_, messages = read_stream(bytes_, rng.randbytes(10_000))
        for at, raw in enumerate(_raw(rng, len(messages))):
            state, _ = hear(state, StampedMessage(number + at * 1e-4, 0.0, raw))
    state, _ = finished(state, 101.0)
    assert not state.sounding.notes


def _raw(rng, count):
    """Three bytes as a driver would hand them over, most of them channel messages."""
    return (bytes((rng.randrange(0x80, 0x100), rng.randrange(0x90), rng.randrange(0x90))) for _ in range(count))
