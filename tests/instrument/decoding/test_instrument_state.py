"""One way to listen, whatever the instrument reports."""

import pytest

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.instrument_state import KeyboardSetup, finish, hear, initial_state, pass_time
from game.instrument.decoding.keyboard import KeyboardState
from game.instrument.decoding.pitches import PitchesSetup, PitchesState
from game.instrument.decoding.played import NoteSettled, NoteStarted
from game.instrument.decoding.strings import StringsState
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import Place
from tests.instrument.messages_of import bend, on, stamped

SETUPS = {StringsSetup(): StringsState, PitchesSetup(): PitchesState, KeyboardSetup(): KeyboardState}


@pytest.mark.parametrize(("setup", "kind"), SETUPS.items())
def test_each_setup_has_its_state_and_hears_the_same_pitch(setup, kind):
    """Only strings have places."""
    state = initial_state(setup)
    assert isinstance(state, kind)
    state, (started,) = hear(state, stamped([on(1.0, 69)])[0])
    assert (started.note.sounding, started.note.started_s) == (69, 1.0)
    assert started.note.place == (Place(1, 5) if kind is StringsState else None)


@pytest.mark.parametrize("setup", SETUPS)
def test_when_nothing_more_comes_every_note_is_settled(setup):
    state, _ = hear(initial_state(setup), stamped([on(1.0, 69)])[0])
    state, (settled,) = finish(state, 2.0)
    assert isinstance(settled, NoteSettled)
    assert finish(state, 3.0)[1] == ()


def test_only_a_bent_note_of_a_guitar_changes_as_time_passes():
    for setup, changed in zip(SETUPS, (1, 1, 0), strict=True):
        state = initial_state(setup)
        for message in stamped([on(1.0, 69), bend(1.05, 4096)]):
            state, _ = hear(state, message)
        assert len(pass_time(state, 1.2)[1]) == changed


@pytest.mark.parametrize(
    "setup",
    [StringsSetup(delay=Delay(0.1, 0.0)), PitchesSetup(delay=Delay(0.1, 0.0)), KeyboardSetup(delay=Delay(0.1, 0.0))],
)
def test_the_delay_is_taken_out_whatever_it_is(setup):
    _, (started,) = hear(initial_state(setup), stamped([on(1.0, 69)])[0])
    assert isinstance(started, NoteStarted)
    assert started.note.started_s == pytest.approx(0.9)
