"""What a change of the pitch that sounds is."""

from dataclasses import replace

import pytest

from game.instrument.listening.attack import Attack
from game.instrument.listening.change_kind import ChangeKind, change_kind
from game.instrument.listening.difference_function import Estimate
from game.instrument.listening.pitch_track import PitchChange, PitchTrack
from game.instrument.listening.sounding_note import SoundingNote
from game.instrument.listening.stepped_sound import SteppedSound

SOUND = SteppedSound(44_100)
BEGAN = 10_000
NOTE = SoundingNote(1, BEGAN, Estimate(57, 0.95), 0.01, PitchTrack(57, SOUND.rate), strength=0.1)
SETTLED = replace(NOTE, is_settled=True)
SLURRED = replace(NOTE, slurred=True)
FAINT = replace(NOTE, is_faint=True)


def at(seconds):
    """The sample so long after the note began."""
    return BEGAN + SOUND.count(seconds)


def kind(note, after_s, *, pitch=59.0, unheard=None, **change):
    made = PitchChange(pitch, at(after_s), **{"is_bend": False, **change})
    return change_kind(note, made, left=57.0, unheard=unheard, sound=SOUND)


def pluck(after_s, louder=1.05):
    return Attack(at(after_s), 0.1, louder, 1.5)


@pytest.mark.parametrize("pitch", [69.0, 45.0, 76.02])
def test_an_octave_or_a_twelfth_is_a_partial_of_the_note_that_sounds_on(pitch):
    assert kind(SETTLED, 0.5, pitch=pitch) is ChangeKind.PARTIAL
    assert kind(SETTLED, 0.5, pitch=pitch, unheard=pluck(0.48)) is ChangeKind.PARTIAL


def test_an_octave_is_a_note_where_a_loud_pluck_came_before_it():
    assert kind(SETTLED, 0.5, pitch=69.0, unheard=pluck(0.4, louder=2.0)) is ChangeKind.PLUCK


@pytest.mark.parametrize(
    ("unheard", "is_mixed", "found"),
    [
        (pluck(0.46), False, ChangeKind.PLUCK),
        (pluck(0.45), False, ChangeKind.SLUR),
        (pluck(0.40), True, ChangeKind.PLUCK),
        (pluck(0.40, louder=2.0), False, ChangeKind.PLUCK),
        (None, False, ChangeKind.SLUR),
    ],
)
def test_a_soft_pluck_tells_by_its_pitch_within_a_twentieth_of_a_second_or_where_notes_are_mixed(
    unheard, is_mixed, found
):
    assert kind(SETTLED, 0.5, unheard=unheard, is_mixed=is_mixed) is found


@pytest.mark.parametrize(("after_s", "found"), [(0.08, ChangeKind.PASSED), (0.09, ChangeKind.SLUR)])
def test_a_slurred_note_that_is_left_at_once_was_only_passed(after_s, found):
    assert kind(SLURRED, after_s) is found


@pytest.mark.parametrize(
    ("after_s", "found"), [(0.04, ChangeKind.ARRIVED), (0.05, ChangeKind.PASSED), (0.09, ChangeKind.ARRIVED)]
)
def test_a_soft_note_was_only_passed_where_it_is_left_neither_at_once_nor_late(after_s, found):
    assert kind(FAINT, after_s) is found


@pytest.mark.parametrize(("after_s", "found"), [(0.095, ChangeKind.ARRIVED), (0.105, ChangeKind.SLUR)])
def test_a_pitch_that_is_slid_to_within_a_tenth_of_a_second_is_the_plucked_notes_own(after_s, found):
    assert kind(NOTE, after_s) is found


def test_a_note_that_is_settled_arrives_nowhere():
    assert kind(SETTLED, 0.095) is ChangeKind.SLUR


def test_what_glides_is_a_bend():
    assert kind(SETTLED, 0.5, is_bend=True) is ChangeKind.BEND
