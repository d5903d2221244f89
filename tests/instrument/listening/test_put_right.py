"""A note that was told a moment ago, put right as more of it is heard."""

import pytest

from game.instrument.listening.difference_function import NO_PITCH, Estimate
from game.instrument.listening.pitch_track import PitchTrack
from game.instrument.listening.put_right import put_higher_by, put_right_by
from game.instrument.listening.sounding_note import SoundingNote

RATE = 44_100
OCTAVE, TWELFTH = 12, 19.02


def told_as(pitch, clarity=0.9, **known):
    return SoundingNote(1, 0, Estimate(pitch, clarity), 0.01, PitchTrack(pitch, RATE), strength=0.1, **known)


def put_right(note, *readings):
    """What the note is put right to by each reading in turn."""
    return [put_right_by(note, Estimate(*reading)) for reading in readings]


def test_a_clearer_reading_of_the_same_pitch_is_taken_over_and_an_unclear_one_is_not():
    assert put_right(told_as(57), (57.2, 0.95)) == [Estimate(57.2, 0.95)]
    assert put_right(told_as(57), (57.2, 0.89)) == [None]


def test_another_pitch_puts_it_right_at_the_second_reading_in_a_row():
    assert put_right(told_as(57), (59, 0.9), (59.1, 0.9)) == [None, Estimate(59.1, 0.9)]


@pytest.mark.parametrize("between", [(57, 0.85), (59, 0.5), (0.0, 0.0), (61, 0.9)])
def test_what_comes_between_two_readings_makes_them_count_anew(between):
    """Its own pitch, an unclear reading, none, or yet another one."""
    assert put_right(told_as(57), (59, 0.9), between, (59, 0.9)) == [None] * 3


def test_a_pitch_that_is_no_guitars_puts_nothing_right():
    assert put_right(told_as(57), (120, 0.99), (120, 0.99)) == [None, None]


def test_an_octave_lower_must_be_very_clear_and_come_four_times():
    """The body's thump outlasts a string that is muted."""
    assert put_right(told_as(57), *[(57 - OCTAVE, 0.96)] * 4) == [None] * 3 + [Estimate(45, 0.96)]
    assert put_right(told_as(57), *[(57 - OCTAVE, 0.94)] * 9) == [None] * 9


def test_what_it_would_be_a_higher_partial_of_never_puts_it_right():
    assert put_right(told_as(70), *[(70 - TWELFTH, 0.99)] * 20) == [None] * 20


def test_a_soft_note_is_put_right_only_to_what_it_is_a_partial_of_or_what_is_one_of_it():
    assert put_right(told_as(57, is_faint=True), *[(59, 0.9)] * 3) == [None] * 3
    assert put_right(told_as(57, is_faint=True), *[(57 + OCTAVE, 0.9)] * 2) == [None, Estimate(69, 0.9)]


def higher(note, *steps):
    return [put_higher_by(note, tuple(Estimate(*peak) for peak in peaks)) for peaks in steps]


BOTH = ((69, 0.95), (57, 0.96))


def test_a_partial_as_clear_as_the_note_for_five_steps_is_its_own_pitch():
    assert higher(told_as(57), *[BOTH] * 5) == [None] * 4 + [Estimate(69, 0.95)]


def test_one_step_without_it_makes_it_count_anew():
    assert higher(told_as(57), *[BOTH] * 4, ((57, 0.96),), *[BOTH] * 4) == [None] * 9


@pytest.mark.parametrize("peaks", [(), ((69, 0.90), (57, 0.96)), ((69, 0.8), (57, 0.8)), ((64, 0.95), (57, 0.96))])
def test_none_less_clear_ones_and_what_is_no_partial_put_nothing_higher(peaks):
    """The last is a fifth above: no partial."""
    assert higher(told_as(57), *[peaks] * 9) == [None] * 9


def test_no_pitch_at_all_is_told_of_nothing():
    assert put_right_by(told_as(57), NO_PITCH) is None
