"""Which marks a take earns, each by right notes and by time."""

from math import ceil

from game.coach.events import TakeResult
from game.coach.marks import Mark, SignOff
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.sightings import is_reading
from game.coach.stages import Pulse, Stage
from game.coach.tempo.clean_takes import notes_needed


def was_told(mark: Mark, result: TakeResult) -> bool:
    """Whether the coach said at the time that the take earned a mark: it stays, by whatever rules and judge it was
    earned. What is said of a take of another kind is not believed.
    """
    if mark not in result.told:
        return False
    match mark:
        case Mark.FOUND:
            return result.stage is Stage.PLACES
        case Mark.IN_TIME:
            return result.stage in (Stage.TIME, Stage.SIGHT) and result.pulse is Pulse.METRONOME
        case Mark.SIGNED_OFF:
            return result.stage is Stage.TIME and is_at_target(result)


def is_at_target(result: TakeResult) -> bool:
    """Whether it was played with the metronome at the target tempo, the player's own where that is faster, or above."""
    target = result.passage.sign_off_bpm or result.passage.target_bpm
    return target is not None and (result.tempo_bpm or 0) >= target


def is_read(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Right at the first or second sighting, to the end, neither heard before nor known by ear, and not by the player's
    own word. As many notes as of any clean take, with little to read every one; those found with help are not right.
    """
    reading = is_reading(
        result.stage,
        sighting=result.sighting,
        heard=result.heard,
        known_by_ear=result.known_by_ear,
        numbers=numbers,
    )
    short = result.homes < numbers.mark_notes
    needed = result.homes if short else notes_needed(result.homes, numbers)
    whole = result.homes > 0 and not result.unread
    return reading and whole and not result.self_marked and result.clean >= needed


def is_found(result: TakeResult) -> bool:
    """Every note at its home, to the end, no clock."""
    whole = result.homes == result.clean > 0 and not result.unread
    return result.stage is Stage.PLACES and result.pulse is Pulse.FREE and whole


def is_in_time(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """A clean take with the metronome, at the lowest tempo or above: right and in time both reach the target share, and
    no stop. Where there are but few notes, every one of them.
    """
    short = result.homes < numbers.mark_notes
    needed = result.homes if short else notes_needed(result.homes, numbers)
    return (
        result.stage in (Stage.TIME, Stage.SIGHT)
        and result.tempo_bpm is not None
        and result.tempo_bpm >= numbers.lowest_bpm
        and result.homes > 0
        and result.in_time >= needed
        and result.kept_going
    )


def sign_off(result: TakeResult, *, first_today: bool, numbers: CoachNumbers = NUMBERS) -> SignOff | None:
    """The take as half of a sign-off, or None: the day's first, at the target tempo, right, in time, without a stop,
    and of notes enough.
    """
    if not is_clean_at_target(result, first_today=first_today, numbers=numbers) or is_too_short(result, numbers):
        return None
    wrong = result.wrong_notes | result.other_place_notes
    return SignOff(day=result.day, wrong_notes=wrong, minute=result.minute)


def is_clean_at_target(result: TakeResult, *, first_today: bool, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a take is all that half of a sign-off must be, however many its notes are."""
    asked = first_today and result.stage is Stage.TIME and is_at_target(result)
    return asked and result.homes > 0 and result.kept_going and is_clean_for_sign_off(result, numbers)


def is_clean_for_sign_off(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether its notes are right enough, and as many right and in time as in any clean take."""
    right = result.homes - result.clean <= wrong_let_pass(result.homes, numbers)
    return right and result.in_time >= notes_needed(result.homes, numbers)


def is_too_short(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a passage has too few notes for a sign-off to say anything; of a take that came to the end."""
    return result.homes < numbers.mark_notes


def wrong_let_pass(homes: int, numbers: CoachNumbers = NUMBERS) -> int:
    """How many of so many notes may be wrong: one in a short passage, else what leaves the share of the
    table.
    """
    if homes < numbers.one_wrong_under:
        return 1
    return homes - ceil(round(numbers.sign_off_share * homes, 6))
