"""When the pitch of a pluck is clear enough to be told, and what was heard before it."""

from dataclasses import replace

import pytest

from game.instrument.listening.attack import last_attack
from game.instrument.listening.difference_function import Estimate
from game.instrument.listening.pitch_track import PitchTrack
from game.instrument.listening.plucked_pitch import PluckedPitch, followed, pitch_now
from game.instrument.listening.sounding_note import SoundingNote
from game.instrument.listening.stepped_sound import SteppedSound
from tests.instrument.listening.plucked import RATE, line


def heard(notes, tail_s):
    """The sound of a line, to so long after its last note began."""
    sound = SteppedSound(RATE)
    for _ in sound.steps(line(notes, tail_s=tail_s)):
        pass
    return sound


@pytest.fixture(scope="module")
def pluck():
    """One pluck, 30 ms ago."""
    sound = heard([(0.2, 57)], 0.03)
    return last_attack(sound.history, sound.rate)


def guessed(pluck, *guesses):
    return PluckedPitch(pluck, [Estimate(pitch, clarity) for pitch, clarity in guesses])


@pytest.mark.parametrize(
    ("guesses", "enough"),
    [
        ([(57, 0.94)], True),
        ([(57, 0.90)], False),
        ([(57, 0.90), (57.2, 0.90)], True),
        ([(45, 0.94), (57, 0.94)], False),
        ([(57, 0.75), (57, 0.75)], False),
        ([(57, 0.75), (57.1, 0.75), (57, 0.75)], True),
        ([(57, 0.65), (57, 0.65), (57, 0.65)], False),
    ],
)
def test_one_very_clear_guess_two_clear_ones_or_three_that_agree_are_enough(pluck, guesses, enough):
    assert guessed(pluck, *guesses).is_enough(()) is enough


def test_what_is_expected_is_told_sooner_and_nothing_else_is(pluck):
    unclear = guessed(pluck, (57.1, 0.80))
    assert unclear.is_enough((52, 57))
    assert not unclear.is_enough((56, 58))


def test_a_pitch_that_sounded_from_the_pluck_on_did_not_come_later(pluck):
    sound = heard([(0.2, 57)], 0.06)
    assert not guessed(pluck, (57, 0.9), (57, 0.9)).came_later(sound)
    assert not guessed(pluck, (45, 0.9), (45, 0.9), (57, 0.9)).came_later(sound)


def test_one_before_which_another_was_as_clear_as_a_string_alone_did(pluck):
    """The string sounds A3 (57), and is told as B3 only afterwards."""
    sound = heard([(0.2, 57)], 0.06)
    assert guessed(pluck, (45, 0.5), (45, 0.5), (59, 0.9)).came_later(sound)


def test_the_pitch_is_found_beside_a_string_that_rings_on():
    """A fifth above: without the old note's own ringing, which is taken out."""
    sound = heard([(0.1, 50), (0.4, 57)], 0.036)
    attack = last_attack(sound.history, sound.rate)
    raw = sound.history.last(sound.count(0.03))
    alone, same = pitch_now(sound, raw, attack.at, None)
    assert same is raw
    track = PitchTrack(50.0, sound.rate)
    old = SoundingNote(1, sound.count(0.1), Estimate(50.0, 0.97), 0.01, track, strength=1.0)
    found, clean = pitch_now(sound, raw, attack.at, old)
    assert found.pitch == pytest.approx(57, abs=0.5) == alone.pitch
    assert clean is not raw
    just_begun = replace(old, began=attack.at - sound.count(0.05))
    assert pitch_now(sound, raw, attack.at, just_begun)[1] is raw


def test_a_low_note_is_followed_by_more_samples_than_a_high_one():
    """2.4 periods of the low E (82.4 Hz, mem) are 29 ms; no note by less than 15 ms."""
    sound = SteppedSound(RATE)
    assert followed(sound, 40) / RATE == pytest.approx(2.4 / 82.4, rel=0.01)
    assert followed(sound, 76) / RATE == pytest.approx(0.015, rel=0.01)
