"""An open string that rings along is told from one that is played softly."""

import pytest

from game.instrument.decoding.dirt import NO_LIMITS, Dirt
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.decoding.sympathy import rings_along
from tests.instrument.messages_of import events_of, heard, off, on

LOUD = on(1.0, 69, velocity=100, channel=1)


def rings(velocity, sounding, at_s, channel, setup=None):
    _, state = events_of([LOUD], setup)
    return rings_along(state.voices, channel, velocity, sounding, at_s, setup or StringsSetup())


@pytest.mark.parametrize(
    ("what", "velocity", "sounding", "at_s", "channel", "is_ringing"),
    [
        ("A2 shares A4's partials", 15, 45, 1.05, 5, True),
        ("and does so later", 12, 45, 1.5, 5, True),
        ("a fifth below shares some", 20, 50, 1.05, 4, True),
        ("G3 shares none", 20, 55, 1.05, 3, False),
        ("so loud a hand plucked it", 40, 45, 1.05, 5, False),
        ("and so late", 22, 45, 1.5, 5, False),
        ("fretted strings do not ring", 15, 47, 1.05, 5, False),
        ("but for the same pitch", 15, 69, 1.05, 2, True),
    ],
)
def test_what_rings_along_is_faint_soon_and_shares_partials(what, velocity, sounding, at_s, channel, is_ringing):
    """Physics of strings (mem)."""
    assert rings(velocity, sounding, at_s, channel) is is_ringing, what


def test_nothing_rings_with_silence():
    _, state = events_of([LOUD, off(1.3, 69)])
    assert not rings_along(state.voices, 5, 12, 45, 1.4, StringsSetup())


def test_with_no_limits_it_counts_as_it_came():
    assert not rings(12, 45, 1.05, 5, StringsSetup(limits=NO_LIMITS))


def test_it_is_filtered_counted_and_followed_by_a_real_pluck():
    messages = [LOUD, on(1.06, 45, velocity=14, channel=5), off(1.9, 69), off(1.95, 45, channel=5)]
    whole = heard([*messages, on(2.0, 45, velocity=60, channel=5), off(2.4, 45, channel=5)])
    assert [note.sounding for note in whole.notes] == [69, 45]
    assert whole.dirt == {Dirt.SYMPATHETIC: 1}
