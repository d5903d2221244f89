"""When a take was clean: pitches and time both reach the target share.

A note taken in another place is right in pitch and goes to review; when it came is not told, so that it counts neither
for the tempo nor against it.
"""

from math import ceil

from game.coach.events import TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers


def notes_needed(asked: int, numbers: CoachNumbers = NUMBERS) -> int:
    """How many of so many notes reach the target share; in a short passage all but one, and at least one."""
    if asked < numbers.one_wrong_under:
        return max(asked - 1, 1)
    return ceil(round(numbers.target_share * asked, 6))


def is_right_enough(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the pitches reach the target."""
    return result.right >= notes_needed(result.homes, numbers)


def is_timely_enough(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the notes right and in time reach the target."""
    return result.in_time + len(result.other_place_notes) >= notes_needed(result.homes, numbers)


def is_clean(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether both do."""
    return is_right_enough(result, numbers) and is_timely_enough(result, numbers)


def is_beside_the_beat(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether most of the right notes were early or late."""
    return result.on_time_share < numbers.on_time_share


def short_of_time(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether it is the time that a take lacks: with its pitches right, or beside the beat with whatever pitches."""
    lacks = is_right_enough(result, numbers) and not is_timely_enough(result, numbers)
    return lacks or is_beside_the_beat(result, numbers)
