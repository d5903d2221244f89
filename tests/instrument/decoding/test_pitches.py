"""A guitar on one channel gives pitches and no places, and its ghosts are filtered as any pickup's."""

import pytest

from game.instrument.decoding.decoded import decode_all
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.pitches import PitchesSetup
from tests.instrument.messages_of import bend, control, off, on, stamped

TWO_FRETS = 8191
"""A whole bend, as most devices have it (MIDI 1.0)."""


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


def told(whole):
    """Pitch, and when it was plucked."""
    return [(note.sounding, note.started_s) for note in whole.notes]


def test_a_slide_told_as_a_bend_is_the_note_it_comes_to_from_its_pluck_on():
    slide = [bend(1.05, 3000), bend(1.08, 6000), bend(1.1, TWO_FRETS)]
    (note,) = heard(on(1.0, 60), *slide, off(1.5, 60)).notes
    assert (note.sounding, note.started_s, note.arrived_s) == (62, 1.0, pytest.approx(1.1))


def test_a_bend_moves_the_note_plucked_last_and_none_that_rings_beside_it():
    whole = heard(on(0.0, 48), on(0.5, 55), on(1.0, 60), bend(1.1, TWO_FRETS), off(1.9, 48), off(1.9, 55), off(1.9, 60))
    assert told(whole) == [(48, 0.0), (55, 0.5), (62, 1.0)]


def test_nobody_can_tell_which_note_of_a_chord_is_bent():
    whole = heard(on(1.0, 48), on(1.01, 55), on(1.02, 60), bend(1.1, TWO_FRETS), control(1.9, 123, 0))
    assert told(whole) == [(48, 1.0), (55, 1.01), (60, 1.02)]


def test_a_bend_of_a_note_that_sounds_long_is_expression():
    assert told(heard(on(1.0, 60), bend(1.4, TWO_FRETS), off(1.9, 60))) == [(60, 1.0)]


def test_a_bend_that_goes_back_for_the_next_pluck_leaves_the_slide_where_it_came_to():
    """Quick notes: the device puts its wheel back a moment before the next, with the last still ringing or ended."""
    for ends_s in (1.139, 1.1415, 1.3):
        messages = [on(1.0, 60), bend(1.05, TWO_FRETS), off(ends_s, 60), bend(1.14, 0), on(1.143, 67), off(1.5, 67)]
        assert told(heard(*sorted(messages, key=lambda one: one[0]))) == [(62, 1.0), (67, 1.143)]


def test_a_note_that_begins_while_its_channel_is_bent_sounds_bent():
    """MIDI 1.0: a bend holds for every note of its channel."""
    assert told(heard(bend(0.9, TWO_FRETS), on(1.0, 60), off(1.5, 60))) == [(62, 1.0)]


def test_a_range_that_is_sent_is_taken():
    """Registered parameter 0 (MIDI 1.0): two frets are a sixth of twelve."""
    ranged = [control(0.1, 101, 0), control(0.1, 100, 0), control(0.1, 6, 12)]
    assert told(heard(*ranged, on(1.0, 60), bend(1.1, round(8192 / 6)), off(1.5, 60))) == [(62, 1.0)]


def test_a_range_that_is_never_sent_is_found_out_and_what_slid_before_is_put_right():
    frets, messages = (1, 2, 3, 2, 1), []
    for number, count in enumerate(frets):
        slide = [bend(number, 0), on(number + 0.01, 60), bend(number + 0.1, round(8192 * count / 12))]
        messages += [*slide, off(number + 0.8, 60)]
    assert [note.sounding for note in heard(*messages).notes] == [60 + count for count in frets]


def test_with_mpe_each_note_slides_on_the_channel_it_was_given():
    """A full bend is 48 semitones until a range is sent, on any channel for all (MPE 1.0)."""
    mpe = [control(0.0, 101, 0), control(0.0, 100, 6), control(0.0, 6, 15)]
    step = round(8192 / 24)
    chord = [on(1.0, 48, channel=2), on(1.0, 55, channel=3), bend(1.1, step, channel=3)]
    ends = [off(1.9, 48, channel=2), off(1.9, 55, channel=3)]
    assert sorted(told(heard(*mpe, *chord, *ends))) == [(48, 1.0), (57, 1.0)]
    ranged = [control(0.1, 101, 0, channel=2), control(0.1, 100, 0, channel=2), control(0.1, 6, 24, channel=2)]
    assert sorted(told(heard(*mpe, *ranged, *chord, *ends))) == [(48, 1.0), (56, 1.0)]


def test_a_slide_that_has_just_come_to_its_fret_as_the_bend_goes_back_for_the_next_pluck_stays_there():
    """Sixteenths at 120: there are 15 ms left of it."""
    assert told(heard(on(1.0, 60), bend(1.109, TWO_FRETS), bend(1.124, 0), on(1.125, 67), off(1.3, 67))) == [
        (62, 1.0),
        (67, 1.125),
    ]


def test_the_end_of_a_note_may_come_late_after_the_next_of_the_same_pitch():
    strokes = [message for n in range(8) for message in (on(1 + n / 16, 64), off(1 + (n + 1) / 16 + 0.025, 64))]
    assert len(heard(*sorted(strokes, key=lambda one: one[0])).notes) == 8
