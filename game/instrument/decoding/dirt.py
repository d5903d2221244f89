"""What a pickup sends that nobody played, and the limits by which it is told apart. Pure.

The limits are common practice and ours: no standard names any. Each can be set by the player; what was
filtered is counted and can be looked at.
"""

from dataclasses import dataclass
from enum import Enum
from typing import Annotated

from msgspec import Meta

AT_ONCE_S = 0.015
"""A note that ends and one that begins so near each other are the same change of a string (ours)."""

# Velocities as in MIDI 1.0; no pickup errs for as long as a second (ours); half a semitone on begins another pitch.
_Velocity = Annotated[int, Meta(ge=0, le=127)]
_Seconds = Annotated[float, Meta(ge=0, le=1)]
_Semitones = Annotated[float, Meta(ge=0, le=0.5)]


class Dirt(Enum):
    """Why a note does not count, or not any more."""

    SOFT = "too soft"
    SHORT = "too short"
    DOUBLED = "double trigger"
    FLICKER = "octave flicker"
    CROSS_TALK = "cross-talk"
    GHOST = "ghost beside a note"
    RETRACKED = "tracked anew"
    SYMPATHETIC = "ringing along"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Times in seconds, velocities 1 to 127.

    `softest`: below this velocity a note is a ghost. `shortest_s`: a note that ends sooner is one, too;
    below the velocity `faint` already under `faint_s`. `doubled_s`: the same pitch again on its string so
    soon is one pluck told twice. `flicker_s`: a jump of octaves that is back so soon was never played.
    `guess_s`: a jump of octaves so soon after the pluck puts a first guess right; so late a flicker may still be back.
    `cross_talk_s`: the same pitch on another string so soon is the louder of the two only.
    A second note on a string below `faint` and half the first, while the first stands, was never played. `unplucked`:
    below this velocity, and three tenths of what rings, a note may be what rings: a dying note tracked anew within
    `retracked_s`, or an open string that rings with another.
    `arrives_s`: a string that changes its pitch so soon after the pluck, or after the last change, is on its
    way (a slide, a hammer-on, a first guess of the pickup), and the pitch arrived at is what was played.
    `bend_arrives_s`: so long after the pluck a bend still leads to a pitch; later it is expression.
    `rest_s`: how long a bend stays at a pitch to have arrived. `in_tune`: how near, in semitones.
    """

    softest: _Velocity = 10
    shortest_s: _Seconds = 0.035
    faint: _Velocity = 32
    faint_s: _Seconds = 0.090
    unplucked: _Velocity = 24
    doubled_s: _Seconds = 0.045
    flicker_s: _Seconds = 0.070
    guess_s: _Seconds = 0.120
    retracked_s: _Seconds = 0.300
    cross_talk_s: _Seconds = 0.015
    arrives_s: _Seconds = 0.060
    bend_arrives_s: _Seconds = 0.200
    rest_s: _Seconds = 0.040
    in_tune: _Semitones = 0.35

    def __post_init__(self) -> None:
        """Settings of before these limits, by which everything was let through, let everything through still."""
        if not (self.softest or self.shortest_s or self.doubled_s or self.faint_s):
            for name in ("unplucked", "guess_s", "retracked_s"):
                object.__setattr__(self, name, 0)

    @property
    def jump_s(self) -> float:
        """So soon a jump of octaves is back, or put right."""
        return max(self.flicker_s, self.guess_s)

    @property
    def fades_s(self) -> float:
        """So soon what fades an octave off is over: a little sooner than the quickest octaves that hands play."""
        return 0.9 * self.guess_s


USUAL_LIMITS = Limits()
NO_LIMITS = Limits(
    softest=0,
    shortest_s=0.0,
    faint_s=0.0,
    unplucked=0,
    doubled_s=0.0,
    flicker_s=0.0,
    guess_s=0.0,
    retracked_s=0.0,
    cross_talk_s=0.0,
    arrives_s=0.0,
    bend_arrives_s=0.0,
)
"""Everything counts as it came: to look at what a device really sends."""

RINGS_SHARE = 0.3
"""What rings on is no louder than this share of the pluck that made it ring (ours)."""


def may_ring(velocity: int, loud: int, limits: Limits) -> bool:
    """Whether a note of a velocity may be no pluck, but what still rings of one as loud as `loud`."""
    return velocity < limits.unplucked and velocity <= RINGS_SHARE * loud
