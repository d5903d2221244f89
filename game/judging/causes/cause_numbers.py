"""How often players do what, as far as telling the cause of a wrong pitch needs it.

All figures are ours, from teachers' practice and by reasoning; none was fitted to players. They only decide between
stories that would sound the same: what fits one story alone is told by that story whatever stands here.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseNumbers:
    """Chances, 0 to 1, and strengths, in notes.

    `rates`: by the word of a story, how often it happens at a note where it can happen, before anything is known of the
    take. `rate_strength` and `kind_strength`: how many notes of the take weigh as much as that rate, and as much as the
    take's rate for one kind of it (a letter, a direction). The second is small: habits show soon.
    """

    rates: Mapping[str, float] = field(
        default_factory=lambda: MappingProxyType(
            {
                "signature": 0.06,
                "accidental": 0.08,
                "neighbour": 0.025,
                "third": 0.01,
                "ledger": 0.06,
                "slip": 0.02,
                "unknown": 0.004,
            }
        )
    )
    rate_strength: float = 30.0
    kind_strength: float = 8.0
    rounds: int = 3
    # A hand that slipped often stays there for the next notes: what a slip of the same kind one or two notes away adds.
    slip_nearby: float = 0.05

    # One line or space up or down is as likely; on ledger lines a line too many or too few is a third.
    ledger_distances: Mapping[int, float] = field(
        default_factory=lambda: MappingProxyType({1: 0.26, 2: 0.22, 3: 0.01, 4: 0.01})
    )
    fret_slip: float = 0.27
    string_slip: float = 0.23

    # The sign a misread note is played with: the one printed at it, the one in force on the other line, the
    # signature's alone, the bare letter, the written note's own alteration.
    printed_sign: float = 0.6
    in_force: float = 0.86
    signature_only: float = 0.06
    bare_letter: float = 0.06
    own_alter: float = 0.02

    # A sign forgotten gives the bare letter or the signature's. Rarer: a sign that holds no more is taken to hold (from
    # the bar before, or from another octave); one or two sharps or flats too many are read into the signature.
    lasting_sign: float = 0.06
    sign_too_many: float = 0.03
    most_signs_too_many: int = 2

    # Somebody who misreads plays the other note at its home; a pitch nobody can explain is any of some
    # two dozen, at any of its places.
    misread_at_home: float = 0.92
    misread_elsewhere: float = 0.04
    # Without its sign a note is often played a fret along its own string, wherever the bare letter has its home.
    forgotten_elsewhere: float = 0.12
    unknown_chance: float = 0.01


CAUSE_NUMBERS = CauseNumbers()
