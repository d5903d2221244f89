"""Whether a take is accompanied by bass and chords: the one place that says so. Pure."""

from game.music.accompanying import Accompanied
from game.practice.take_request import TakeRequest

UPPER_FROM = 2
"""Takes above this rung of the ladder are upper ones."""


def is_accompanied(request: TakeRequest, what: Accompanied, *, reading: bool, rungs_below: int = 0) -> bool:
    """Whether bass and chords are heard in a take.

    `what` is the player's setting. `reading` is whether the take says how well they read: one of the first sightings,
    neither heard nor known by ear. `rungs_below` is how many tempi of the ladder, slower than the take's, were kept.
    """
    if reading or not _has_time_and_pitch(request) or what is Accompanied.NOTHING:
        return False
    return request.passage.whole or (what is Accompanied.UPPER_RUNGS and rungs_below >= UPPER_FROM)


def _has_time_and_pitch(request: TakeRequest) -> bool:
    """Chords give pitches away where nothing but these is asked, or where the music is met for the first time."""
    stage = request.stage
    once_or_by_itself = stage.once_through or request.fresh or request.one_a_click
    return stage.pitch_counts and stage.rhythm_counts and not once_or_by_itself
