"""What only the next messages tell: ghosts from hammer-ons, dying notes from repeats, strokes of a row from dirt."""

import pytest

from game.instrument.decoding.dirt import USUAL_LIMITS, Dirt
from game.instrument.decoding.doubts import Doubt, about_end
from tests.instrument.messages_of import events_of, heard, off, on, pitches


@pytest.mark.parametrize(
    ("velocity", "lasted_s", "doubt"),
    [
        (80, 0.1, Doubt.NONE),
        (80, 0.03, Doubt.STROKE),
        (80, 0.01, Doubt.DIRT),
        (20, 0.07, Doubt.OPEN),
        (20, 0.1, Doubt.NONE),
    ],
)
def test_the_end_of_a_note_says_what_it_may_be(velocity, lasted_s, doubt):
    _, state = events_of([on(1.0, 69, velocity=velocity)])
    assert about_end(state.voices[0], lasted_s, USUAL_LIMITS) is doubt


@pytest.mark.parametrize("loud", [20, 90])
@pytest.mark.parametrize("sounds_s", [0.025, 0.045, 0.058])
def test_a_tremolo_of_sixteen_a_second_is_as_many_notes(loud, sounds_s):
    messages = []
    for n in range(16):
        messages += [on(1.0 + n / 16, 69, velocity=loud), off(1.0 + n / 16 + sounds_s, 69)]
    assert len(heard(messages).notes) == 16


def test_a_faint_second_note_while_the_first_stands_is_a_ghost_and_the_first_sounds_on():
    whole = heard([on(1.0, 69, velocity=90), on(1.03, 76, velocity=18), off(1.2, 76), off(1.5, 69)])
    assert [(note.sounding, note.started_s) for note in whole.notes] == [(69, 1.0)]
    assert whole.dirt == {Dirt.GHOST: 1}


def test_a_ghost_that_outlasts_the_first_is_one_all_the_same():
    whole = heard([on(1.0, 69, velocity=90), on(1.1, 71, velocity=28), off(1.5, 69), off(1.6, 71)])
    assert [note.sounding for note in whole.notes] == [69]
    assert whole.dirt == {Dirt.GHOST: 1}


@pytest.mark.parametrize("first_ends_s", [1.2, 1.21, 1.225])
@pytest.mark.parametrize("velocity", [12, 25])
def test_a_soft_hammer_on_as_the_first_ends_is_a_note(first_ends_s, velocity):
    messages = sorted([on(1.0, 69, velocity=90), on(1.2, 71, velocity=velocity), off(first_ends_s, 69), off(1.4, 71)])
    (_, hammered) = heard(messages).notes
    assert (hammered.sounding, hammered.started_s) == (71, 1.2)


def test_a_soft_hammer_on_counts_where_the_device_never_ends_the_first():
    assert pitches([on(1.0, 69, velocity=90), on(1.2, 71, velocity=28), off(1.4, 71), on(1.5, 69), off(1.8, 69)]) == [
        69,
        71,
        69,
    ]


@pytest.mark.parametrize("number", [69, 81])
@pytest.mark.parametrize("again_s", [1.8, 1.85, 2.0])
def test_a_dying_note_tracked_anew_is_no_note(number, again_s):
    whole = heard([on(1.0, 69, velocity=90), off(1.8, 69), on(again_s, number, velocity=15), off(2.3, number)])
    assert [note.sounding for note in whole.notes] == [69]
    assert whole.dirt == {Dirt.RETRACKED: 1}


def test_softer_repeats_are_notes():
    messages = []
    for n, velocity in enumerate((100, 60, 35, 30)):
        messages += [on(1.0 + 0.4 * n, 69, velocity=velocity), off(1.38 + 0.4 * n, 69)]
    assert len(heard(messages).notes) == 4


def test_a_short_faint_note_that_stands_alone_is_taken_back_after_a_moment():
    events, state = events_of([on(1.0, 69, velocity=20), off(1.06, 69)])
    assert len(events) == 1
    assert state.voices[0].doubtful
