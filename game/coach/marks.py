"""The three marks a passage can earn."""

from dataclasses import dataclass
from enum import Enum
from math import ceil

from game.coach.events import TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Pulse, Stage


class Mark(Enum):
    """What a passage has earned, for good."""

    FOUND = "found"
    IN_TIME = "in time"
    SIGNED_OFF = "signed off"


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """A first take of a day that was clean at the target tempo, with the numbers of its wrong notes."""

    day: int
    wrong_notes: frozenset[int]


def is_found(result: TakeResult) -> bool:
    """Every note at its home, to the end, no clock."""
    whole = result.homes == result.clean > 0 and not result.unread
    return result.stage is Stage.PLACES and result.pulse is Pulse.FREE and whole


def is_in_time(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """A clean take with the metronome, at the lowest tempo or above: the target share, no stop, most notes
    in time.
    """
    return (
        result.stage in (Stage.TIME, Stage.SIGHT)
        and result.tempo_bpm is not None
        and result.tempo_bpm >= numbers.lowest_bpm
        and result.homes > 0
        and result.share(result.clean) >= numbers.target_share
        and result.on_time_share >= numbers.in_time_share
        and result.kept_going
    )


def sign_off(result: TakeResult, *, first_today: bool, numbers: CoachNumbers = NUMBERS) -> SignOff | None:
    """The take as half of a sign-off, or None: the day's first, at the target tempo, clean and without a
    stop.
    """
    target = result.passage.target_bpm
    at_target = target is not None and result.pulse is Pulse.METRONOME and (result.tempo_bpm or 0) >= target
    if not (first_today and at_target and result.stage is Stage.TIME and result.homes and result.kept_going):
        return None
    if result.homes - result.clean > wrong_let_pass(result.homes, numbers):
        return None
    return SignOff(day=result.day, wrong_notes=result.wrong_notes)


def wrong_let_pass(homes: int, numbers: CoachNumbers = NUMBERS) -> int:
    """How many of so many notes may be wrong: one in a short passage, else what leaves the share of the
    table.
    """
    if homes < numbers.one_wrong_under:
        return 1
    return homes - ceil(round(numbers.sign_off_share * homes, 6))


def is_signed_off(sign_offs: tuple[SignOff, ...], numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the newest take and enough earlier days agree, no note being wrong twice."""
    if not sign_offs:
        return False
    newest = sign_offs[-1]
    days = {
        other.day for other in sign_offs[:-1] if other.day != newest.day and not other.wrong_notes & newest.wrong_notes
    }
    return len(days) + 1 >= numbers.sign_off_days
