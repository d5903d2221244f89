"""How far a device bends, found from what is played where it never says so. Pure.

A slide by bend comes to rest on a fret: whole semitones away from the pluck. Bends that rest at no semitone of the
range that was taken for granted, but all at semitones of another that devices are known for, tell that one.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from game.instrument.decoding.played import NoteStarted

# Full bends that devices are known for beside the two of MIDI 1.0 (trade; MPE 1.0 names 48), and how many rests must
# agree: small shares of a bend lie near a semitone of a wide range by chance.
_RANGES = ((12.0, 4), (24.0, 6), (48.0, 6))
# Out of tune by more than this it is no fret; a bend of less than the share of a semitone is none (ours).
_IN_TUNE, _NO_BEND = 0.13, 0.35
# Nobody slides farther by a bend.
_FARTHEST = 12
_AGREES = 0.9
_MOST_KEPT = 16
RESTS_S = 0.040
"""A bend that stays so long has come to rest."""


@dataclass(frozen=True, slots=True)
class BendAtRest:
    """A bend that came to rest soon after a pluck: `share` of a full bend away from where it was at the pluck, and the
    note of MIDI number `number`, plucked at `on_s`, as it was `told`. It stayed from `since_s`.
    """

    share: float
    bend_share: float
    number: int
    told: NoteStarted
    on_s: float
    since_s: float


def with_rest(rests: tuple[BendAtRest, ...], rest: BendAtRest) -> tuple[BendAtRest, ...]:
    """The latest rests."""
    return (*rests[-_MOST_KEPT + 1 :], rest)


def inferred_range(rests: Iterable[BendAtRest], usual_semitones: float) -> float | None:
    """The full bend that the rests tell, None where the usual one explains them or nothing does."""
    shares = [abs(rest.share) for rest in rests]
    if _agreeing(shares, usual_semitones) >= 0.5:
        return None
    for semitones, least in _RANGES:
        if _bends(shares, semitones) >= least and _agreeing(shares, semitones) >= _AGREES:
            return semitones
    return None


def _bends(shares: Iterable[float], semitones: float) -> int:
    return sum(share * semitones >= _NO_BEND for share in shares)


def _agreeing(shares: Iterable[float], semitones: float) -> float:
    """The part of the bends that rest on a semitone of a range."""
    reached = [share * semitones for share in shares if share * semitones >= _NO_BEND]
    if not reached:
        return 0.0
    on_frets = sum(abs(one - round(one)) <= _IN_TUNE and 1 <= round(one) <= _FARTHEST for one in reached)
    return on_frets / len(reached)
