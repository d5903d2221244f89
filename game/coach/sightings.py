"""What was truly read, and what was only repeated."""

from game.coach.events import TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Stage


def counts_as_reading(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a take says how well the player reads: one of the first sightings, neither heard nor known by
    ear.

    All other takes say at what tempo the passage is steady, and nothing more. The rhythm alone is no
    reading of notes.
    """
    return (
        result.sighting <= numbers.sightings_read
        and not result.heard
        and not result.known_by_ear
        and result.stage is not Stage.RHYTHM
    )


def trust(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> float:
    """What a note of this take weighs as evidence: less where the players marked themselves."""
    return numbers.self_marked_trust if result.self_marked else 1.0
