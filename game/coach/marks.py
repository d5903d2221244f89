"""The three marks a passage can earn, and how two days make the last of them. What a take earns: `mark_rules`."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from game.coach.numbers import NUMBERS, CoachNumbers

_MINUTES_A_DAY = 24 * 60


class Mark(Enum):
    """What a passage has earned, for good."""

    FOUND = "found"
    IN_TIME = "in time"
    SIGNED_OFF = "signed off"


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """A first take of a day that was clean at the target tempo, with the numbers of its notes that were wrong or away
    from their home. `minute` is when of the day it was, None where nobody knows.
    """

    day: int
    wrong_notes: frozenset[int]
    minute: int | None = None


def is_signed_off(sign_offs: Sequence[SignOff], numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the newest take and enough earlier days agree, a night between, no note being wrong twice."""
    if not sign_offs:
        return False
    newest = sign_offs[-1]
    agreeing = (other for other in sign_offs[:-1] if not other.wrong_notes & newest.wrong_notes)
    days = {other.day for other in agreeing if are_apart(other, newest, numbers)}
    return len(days) + 1 >= numbers.sign_off_days


def are_apart(one: SignOff, other: SignOff, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether they lie on two days with a night between; where the time of day is not known, the days decide."""
    if one.day == other.day:
        return False
    if one.minute is None or other.minute is None:
        return True
    minutes = (one.day - other.day) * _MINUTES_A_DAY + one.minute - other.minute
    return abs(minutes) >= 60 * numbers.sign_off_hours
