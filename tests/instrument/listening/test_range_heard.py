"""Lower strings are listened for where the tuning has them, and no lower than need be."""

import pytest

from game.instrument.listening.listener import Listener
from game.instrument.listening.range_heard import LOWEST_HEARD, LOWEST_PITCH, lowest_looked_for
from tests.instrument.listening.plucked import RATE, line


def heard(notes, lowest):
    """What was told of each note in the end: whole pitches, with the time of each."""
    listener, sound, told = Listener(RATE, lowest=lowest), line(notes), {}
    for begin in range(0, len(sound), 256):
        for one in listener.feed(sound[begin : begin + 256]):
            told[one.note.number] = one
    return [(round(one.note.pitch), one.note.started_s) for one in told.values() if one.telling.name != "WITHDRAWN"]


def test_a_guitar_in_standard_tuning_is_listened_to_as_ever():
    assert lowest_looked_for(40) == LOWEST_PITCH
    assert lowest_looked_for(64) == LOWEST_PITCH


@pytest.mark.parametrize("open_string", [35, 36, 38, 39])
def test_notes_of_strings_tuned_lower_are_heard_where_the_tuning_has_them(open_string):
    """D2, C2 and B1 are the lowest strings of common tunings (trade)."""
    notes = [(0.3 + 0.5 * number, open_string + step) for number, step in enumerate((0, 5, 2, 12, 0))]
    found = heard(notes, lowest_looked_for(open_string))
    assert [pitch for pitch, _ in found] == [pitch for _, pitch in notes]
    assert all(abs(at_s - onset_s) < 0.03 for (_, at_s), (onset_s, _) in zip(found, notes, strict=True))


def test_the_low_string_of_a_bass_is_not_heard_and_never_an_octave_too_high():
    """E1 and B0 (trade)."""
    for open_string in (23, 28):
        notes = [(0.3, open_string), (0.9, open_string + 1), (1.5, 45)]
        found = heard(notes, lowest_looked_for(open_string))
        assert [pitch for pitch, _ in found] == [45]
    assert LOWEST_HEARD == 35
