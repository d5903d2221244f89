"""How far a device bends, told by where its slides come to rest."""

import pytest

from game.instrument.decoding.bend_range import BendAtRest, inferred_range, with_rest
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import hear, initial_state
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import Place
from tests.instrument.messages_of import bend, control, heard, off, on, stamped

TOLD = NoteStarted(note=PlayedNote(started_s=1.0, sounding=69, place=Place(1, 5)), channel=1)


def at_rest(*shares):
    rests = ()
    for share in shares:
        rests = with_rest(rests, BendAtRest(share, share, 69, TOLD, 1.0, 1.1))
    return rests


@pytest.mark.parametrize(
    ("semitones", "frets"), [(12.0, (1, 2, -2, 3)), (24.0, (1, 2, -1, 3, 2, 4)), (48.0, (1, 2, -1, 3, 2, 4))]
)
def test_slides_over_whole_frets_tell_the_range(semitones, frets):
    """Ranges that devices are known for (trade; MPE 1.0 names 48)."""
    assert inferred_range(at_rest(*(fret / semitones for fret in frets)), 2.0) == semitones


def test_fewer_slides_tell_nothing():
    assert inferred_range(at_rest(1 / 12, 2 / 12, 3 / 12), 2.0) is None


def test_bends_of_a_semitone_and_a_tone_fit_the_usual_range():
    """Half a full bend and a full one, two semitones: MIDI 1.0."""
    assert inferred_range(at_rest(0.5, 1.0, 0.5, 1.0, 0.5, 1.0), 2.0) is None


def test_bends_that_rest_anywhere_tell_no_range():
    assert inferred_range(at_rest(0.11, 0.19, 0.057, 0.143, 0.27, 0.2), 2.0) is None


def test_a_range_once_set_up_is_kept_where_it_explains_the_slides():
    assert inferred_range(at_rest(*(fret / 12 for fret in (1, 2, 3, 1, 2, 4))), 12.0) is None


def slide(at_s, frets, semitones):
    steps = [bend(at_s + 0.01 * step, round(8192 * frets * step / 10 / semitones)) for step in range(1, 11)]
    return [bend(at_s - 0.001, 0), on(at_s, 69), *steps, off(at_s + 0.4, 69)]


def test_the_slides_before_are_put_right_when_the_range_is_found():
    messages = [message for n, frets in enumerate((1, 2, 3, 2)) for message in slide(1.0 + n, frets, 12)]
    whole = heard(messages)
    assert [(note.sounding, note.started_s) for note in whole.notes] == [(70, 1.0), (71, 2.0), (72, 3.0), (71, 4.0)]
    assert whole.dirt[Dirt.SHORT] == 0


def test_a_device_that_says_how_far_it_bends_is_believed():
    said = [control(0.0, 101, 0), control(0.0, 100, 0), control(0.0, 6, 2)]
    messages = [message for n, frets in enumerate((1, 2, 3, 2)) for message in slide(1.0 + n, frets, 12)]
    assert [note.sounding for note in heard([*said, *messages]).notes] == [69] * 4


def test_once_found_the_next_slide_is_told_as_it_comes():
    state = initial_state(StringsSetup())
    messages = [message for n, frets in enumerate((1, 2, 3, 2, 3)) for message in slide(1.0 + n, frets, 12)]
    for message in stamped(messages):
        state, events = hear(state, message)
    assert any(isinstance(event, NoteRevised) and event.after.sounding == 72 for event in events)
