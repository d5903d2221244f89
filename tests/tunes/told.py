"""What is told of a tune, in words."""

from game.music.score import Score
from game.text.catalogue import tell


def warnings_told(score: Score) -> tuple[str, ...]:
    """What was left out or guessed, one sentence each."""
    return tuple(tell(warning) for warning in score.warnings)
