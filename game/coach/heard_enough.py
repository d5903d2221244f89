"""Whether enough of a take was heard surely for it to count.

What could not be told is in no share, so that a take of which hardly anything was heard might be right in all of it.
Such a take is kept, and is no evidence: it moves no tempo, earns no mark, and is not clean.
"""

from game.coach.events import TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers


def heard_enough(surely: int, unsure: int, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a take counts of which so many notes were heard `surely` and so many could not be told."""
    return not unsure or surely >= numbers.heard_share * (surely + unsure)


def is_heard_enough(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """The same of a judged take."""
    return heard_enough(result.homes, result.unsure, numbers)
