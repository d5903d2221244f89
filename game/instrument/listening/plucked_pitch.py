"""The pitch of a pluck while it is looked for: what it seems to be, step after step, and when that is enough. Pure."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from game.instrument.listening.attack import Attack
from game.instrument.listening.difference_function import Estimate, estimate_of
from game.instrument.listening.early_pitch import early_estimate, new_estimate
from game.instrument.listening.old_note import combed, without_old_note
from game.instrument.listening.range_heard import LOWEST_PITCH
from game.instrument.listening.sample_history import Samples
from game.instrument.listening.semitones import SAME_PITCH, period_of
from game.instrument.listening.sounding_note import SoundingNote
from game.instrument.listening.stepped_sound import SteppedSound

SKIPPED_S = 0.004
"""The attack itself, left out of windows for the pitch."""
CLEAR = 0.88
"""What is told from two guesses that agree."""
_VERY_CLEAR = 0.93
_HOPED_CLEAR = 0.78
"""What is expected may be told from this clarity on: earlier, and never as anything else than it sounds."""
_AGREE_CLEAR = 0.7
_HALF, _NEARLY = 0.5, 0.4
"""Semitones within which guesses agree, and within which one is what was hoped for."""
_ALONE = 0.95
"""The clarity of one string alone."""
_FOLLOWED_S, _FOLLOWED_PERIODS = 0.015, 2.4
_OLD_NOTE_S = 0.075
"""What sounded for less before the pluck is not known well enough to be taken out."""


@dataclass(slots=True)
class PluckedPitch:
    """A pluck whose pitch is looked for. `guesses` are what it seemed to be, the newest last."""

    pluck: Attack
    guesses: list[Estimate] = field(default_factory=list)

    def is_enough(self, expected: Iterable[int]) -> bool:
        """Whether the newest guess can be told; `expected` are the MIDI numbers that may come."""
        estimate = self.guesses[-1]
        agreeing = sum(abs(guess.pitch - estimate.pitch) < _HALF for guess in self.guesses[-3:])
        hoped = any(abs(estimate.pitch - pitch) < _NEARLY for pitch in expected)
        return (
            (estimate.clarity >= _VERY_CLEAR and (agreeing > 1 or len(self.guesses) == 1))
            or (estimate.clarity >= CLEAR and agreeing > 1)
            or (estimate.clarity > _AGREE_CLEAR and agreeing > 2)
            or (estimate.clarity > _HOPED_CLEAR and hoped)
        )

    def came_later(self, sound: SteppedSound, lowest: float = LOWEST_PITCH) -> bool:
        """Whether soon after the pluck another pitch than the newest guess was as clear as one string alone: a finger
        slid over a fret.
        """
        estimate = self.guesses[-1]
        if any(abs(guess.pitch - estimate.pitch) < SAME_PITCH for guess in self.guesses[:2]):
            return False
        first = self.pluck.at + sound.count(SKIPPED_S)
        early = estimate_of(sound.history.between(first, first + followed(sound, estimate.pitch)), sound.rate, lowest)
        return early.clarity > _ALONE and abs(early.pitch - estimate.pitch) > SAME_PITCH


def followed(sound: SteppedSound, pitch: float) -> int:
    """How many samples a pitch is followed by: few, so that a bend is told from a jump."""
    return round(max(_FOLLOWED_S * sound.rate, _FOLLOWED_PERIODS * period_of(pitch, sound.rate)))


def pitch_now(
    sound: SteppedSound, raw: Samples, pluck: int, old: SoundingNote | None, lowest: float = LOWEST_PITCH
) -> tuple[Estimate, Samples]:
    """The pitch of what was plucked at sample `pluck`, from `raw`, the newest samples of the sound, and these without
    what rings of the `old` note.
    """
    age_s = (sound.history.end - pluck) / sound.rate
    if old is None:
        return early_estimate(raw, sound.rate, age_s, lowest), raw
    old_pitch = old.track.pitch
    period = period_of(old_pitch, sound.rate)
    clean = raw
    if pluck - old.began >= sound.count(_OLD_NOTE_S):
        clean = without_old_note(sound.history, raw, pluck=pluck, old=(old.began, period), rate=sound.rate)
    without = combed(sound.history, len(raw), period)
    found = new_estimate(raw, clean, without, rate=sound.rate, age_s=age_s, old_pitch=old_pitch, lowest=lowest)
    return found, clean
