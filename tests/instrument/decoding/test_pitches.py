"""A guitar on one channel gives pitches and no places, and its ghosts are filtered as any pickup's."""

import pytest

from game.instrument.decoding.decoded import decode_all
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.pitches import PitchesSetup
from tests.instrument.messages_of import control, off, on, stamped


def heard(*messages, setup=None):
    return decode_all(stamped(messages), setup or PitchesSetup())


def test_strings_ring_on_together():
    whole = heard(on(0.0, 60), on(0.3, 64), on(0.6, 67), off(1.0, 60), off(1.0, 64), off(1.0, 67))
    assert [(note.sounding, note.place) for note in whole.notes] == [(60, None), (64, None), (67, None)]


def test_a_slide_told_as_notes_is_the_note_it_comes_to_from_its_pluck_on():
    whole = heard(on(1.0, 60), off(1.03, 60), on(1.03, 61), off(1.07, 61), on(1.07, 62), off(1.5, 62))
    (note,) = whole.notes
    assert (note.sounding, note.started_s, note.arrived_s) == (62, 1.0, pytest.approx(1.07))


@pytest.mark.parametrize(
    ("dirt", "messages"),
    [
        (Dirt.SOFT, [on(1.02, 64, velocity=4), off(1.2, 64)]),
        (Dirt.SHORT, [on(1.02, 64), off(1.04, 64)]),
        (Dirt.SHORT, [on(1.02, 64, velocity=20), off(1.09, 64)]),
        (Dirt.DOUBLED, [on(1.03, 60)]),
    ],
)
def test_a_ghost_beside_a_note_is_filtered_and_leaves_the_note_alone(dirt, messages):
    whole = heard(*sorted([on(1.0, 60), off(1.5, 60), *messages]))
    assert [note.sounding for note in whole.notes] == [60]
    assert whole.dirt == {dirt: 1}


def test_two_notes_80_ms_apart_are_two_notes():
    whole = heard(on(1.0, 60), off(1.08, 60), on(1.08, 62), off(1.5, 62))
    assert [note.sounding for note in whole.notes] == [60, 62]


def test_the_delay_is_taken_out():
    """Two periods of E2: 24.3 ms (Fonseca & Tavares 2020)."""
    (note,) = heard(on(1.0, 40), off(1.5, 40), setup=PitchesSetup(delay=Delay())).notes
    assert note.started_s == pytest.approx(1.0 - 0.0243, abs=0.00005)


def test_all_notes_off_ends_without_a_verdict_on_lengths():
    assert [note.sounding for note in heard(on(1.0, 60), control(1.01, 123, 0)).notes] == [60]
