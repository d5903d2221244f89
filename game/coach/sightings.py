"""What was truly read, and what was only repeated."""

from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Stage

READING_STAGES = frozenset(stage for stage in Stage if stage.pitch_counts and not stage.named)
"""Where notes are read and played. Naming letters is no finding, and the rhythm alone no reading."""


def is_reading(
    stage: Stage, *, sighting: int, heard: bool, known_by_ear: bool, numbers: CoachNumbers = NUMBERS
) -> bool:
    """Whether a take says how well the player reads: one of the first sightings, neither heard nor known by ear.

    All other takes say at what tempo the passage is steady, and nothing more.
    """
    return stage in READING_STAGES and sighting <= numbers.sightings_read and not heard and not known_by_ear


def evidence_weight(*, self_marked: bool, numbers: CoachNumbers = NUMBERS) -> float:
    """What a note weighs as evidence: less where the players marked themselves."""
    return numbers.self_marked_trust if self_marked else 1.0
