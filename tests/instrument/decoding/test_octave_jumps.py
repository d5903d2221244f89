"""Jumps of octaves that no hand made are told from those that one did."""

import pytest

from game.instrument.decoding.dirt import USUAL_LIMITS
from game.instrument.decoding.octave_jumps import is_jump, is_octave, may_fade, puts_right
from game.instrument.decoding.played import PlayedNote
from tests.instrument.messages_of import heard, off, on, pitches

TOLD = PlayedNote(started_s=1.0, sounding=60, place=None, velocity=80)


def test_octaves_are_apart_by_twelves():
    assert [is_octave(60, other) for other in (60, 72, 36, 71)] == [False, True, True, False]


@pytest.mark.parametrize(
    ("sounding", "velocity", "gap_s", "is_one"),
    [(72, 80, 0.0, True), (48, 70, 0.003, True), (72, 110, 0.0, False), (72, 80, 0.010, False), (67, 80, 0.0, False)],
)
def test_a_jump_comes_without_a_silence_and_no_louder(sounding, velocity, gap_s, is_one):
    assert is_jump(TOLD, sounding, velocity, gap_s) is is_one


@pytest.mark.parametrize(
    ("sounding", "velocity", "gap_s", "may"),
    [(72, 80, 0.02, True), (48, 60, 0.06, True), (72, 81, 0.02, False), (72, 80, 0.07, False), (67, 80, 0.02, False)],
)
def test_what_fades_an_octave_off_comes_soon_after_the_end_and_no_louder(sounding, velocity, gap_s, may):
    assert may_fade(TOLD, sounding, velocity, gap_s) is may


def test_a_guess_is_put_right_soon_after_the_pluck_or_after_the_last_guess():
    assert puts_right(1.0, 1.0, 1.11, USUAL_LIMITS)
    assert puts_right(1.0, 1.1, 1.2, USUAL_LIMITS)
    assert not puts_right(1.0, 1.0, 1.13, USUAL_LIMITS)


@pytest.mark.parametrize("with_off", [True, False])
def test_an_octave_put_right_after_95_ms_is_the_note_from_its_pluck_on(with_off):
    between = [off(1.095, 81)] if with_off else []
    (note,) = heard([on(1.0, 81), *between, on(1.095, 69), off(1.4, 69)]).notes
    assert (note.sounding, note.started_s, note.arrived_s) == (69, 1.0, None)


def test_an_octave_put_right_late_swallows_neither_the_next_note_nor_a_repeat():
    """Sixteenths at 120: the next pluck comes 30 ms after the guess was put right."""
    guess = [on(1.0, 81), on(1.095, 69), off(1.115, 69)]
    assert pitches([*guess, on(1.125, 71), off(1.24, 71)]) == [69, 71]
    assert pitches([*guess, on(1.125, 69), off(1.24, 69)]) == [69, 69]
    assert pitches([*guess, on(1.125, 81), on(1.22, 69), off(1.24, 69)]) == [69, 69]


def test_a_flicker_of_95_ms_is_taken_back_and_does_not_swallow_a_repeat():
    messages = [on(1.0, 69), on(1.3, 81), on(1.395, 69), off(1.41, 69), on(1.425, 69), off(1.6, 69)]
    assert pitches(messages) == [69, 69]


def test_a_flicker_that_the_next_pluck_ends_is_none_of_its_ways():
    (first, second) = heard([on(1.0, 69), on(1.3, 81), on(1.35, 71), off(1.6, 71)]).notes
    assert (first.sounding, second.sounding, second.started_s) == (69, 71, 1.35)


def test_octaves_that_are_written_stay():
    """Sixteenths at 120 on one string, each stopped before the next."""
    messages = []
    for n, pitch in enumerate((64, 76, 64, 76)):
        messages += [on(1.0 + 0.125 * n, pitch), off(1.115 + 0.125 * n, pitch)]
    assert pitches(messages) == [64, 76, 64, 76]
