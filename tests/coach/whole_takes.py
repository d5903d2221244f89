"""Takes of a whole tune of two pages: a clean one unless told otherwise."""

from game.coach.events import PassageFacts
from game.coach.judged_take import JudgedNote, take_result
from game.coach.played_whole import PageOfWhole, pages_played
from game.coach.stages import Stage
from game.judging.verdicts import Verdict

WHOLE = PassageFacts(name="whole", target_bpm=60)
PAGES = tuple(
    PageOfWhole(facts=PassageFacts(name=name), first=first, last=first + 9) for name, first in (("a", 1), ("b", 11))
)


def played(stage=Stage.TIME, bpm=60.0, events=(), day=5, sighting=3, **verdicts):
    """A take of twenty notes; `verdicts` are those that are not clean, by "n" and their number."""
    notes = [
        JudgedNote(n, verdicts.get(f"n{n}", Verdict.CLEAN), homed=n != 20, repeated=False, find_ms=900.0)
        for n in range(1, 21)
    ]
    result = take_result(
        notes, events, passage=WHOLE, day=day, stage=stage, tempo_bpm=bpm, sighting=sighting, minute=600
    )
    return result, pages_played(result, notes, PAGES)
