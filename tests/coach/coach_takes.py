"""Takes for the tests of the coach: a clean one unless told otherwise."""

from game.coach.events import PassageFacts, TakeResult
from game.coach.stages import Stage

PASSAGE = PassageFacts(name="blue bars", target_bpm=96)


def take(wrong=0, *, notes=32, day=1, bpm=None, stage=None, **changes) -> TakeResult:
    """A take with its first `wrong` notes wrong; in time where it has a tempo, at the places where not."""
    stage = stage or (Stage.PLACES if bpm is None else Stage.TIME)
    facts = {"find_times_s": (0.6,) * notes} if stage is Stage.PLACES else {}
    facts |= {"passage": PASSAGE, "wrong_notes": frozenset(range(1, wrong + 1))} | changes
    return TakeResult(day=day, stage=stage, homes=notes, clean=notes - wrong, tempo_bpm=bpm, **facts)
