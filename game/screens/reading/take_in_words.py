"""A take on its page: the marks at its notes, and why a pitch was wrong, in words."""

from game.judging.verdicts import OF_PACE, Cause
from game.music.keys import Key
from game.music.names import NoteNames
from game.practice.finished_take import Finished, FinishedNaming
from game.practice.pencilled import PlacedMark, marks_of_take, name_marks, pace_marks
from game.text.catalogue import say


def cause_in_words(cause: Cause | None, octaves: int = 0, *, key: Key | None = None) -> str:
    """Why a pitch was wrong; nothing where that cannot be told. `octaves` is how many too high, negative too low; `key`
    the signature that holds there: where it has no signs, one too many was read.
    """
    if cause is Cause.OCTAVE and octaves:
        return say("cause.octave_too_high" if octaves > 0 else "cause.octave_too_low", count=abs(octaves))
    if cause is Cause.SIGNATURE and key is not None and not key.fifths:
        return say("cause.no_signature")
    return "" if cause in (None, Cause.UNKNOWN) else say(f"cause.{cause.value}")


def marks_of_finished(finished: Finished, names: NoteNames) -> tuple[PlacedMark, ...]:
    """The pencil marks of a take of either stage."""
    if isinstance(finished, FinishedNaming):
        return name_marks(finished.passage.notes, finished.named, names)
    words = {kind: say(f"page.{kind.name.lower()}") for kind in OF_PACE}
    return (*marks_of_take(finished), *pace_marks(finished.expected, finished.judgement.events, words))
