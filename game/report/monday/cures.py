"""What helps against which trouble, in one table: what to do together in the lesson, and which stages to set then.

These rules are ours, after common practice of teaching: reading is mended by reading aloud, the hand without the page,
rhythm by rhythm alone, and tempo by less of it. A teacher who knows the student knows better.
"""

from dataclasses import dataclass
from enum import Enum

from game.coach.stages import Stage
from game.report.monday.trouble import Trouble


class Amount(Enum):
    """How much of a passage is set: all of it, the first two bars, or half."""

    ALL = "all"
    TWO_BARS = "two bars"
    HALF = "half"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """What to do in the lesson: a sentence of the catalogue. What to set: the stages, how much, and the tempo as a
    share of the fastest clean one, None for no tempo; where the music cannot be set, fresh lines of this level.
    """

    lesson: str
    stages: tuple[Stage, ...]
    amount: Amount = Amount.ALL
    tempo: float | None = None
    level: int = 1


_NAMES, _PLACES, _RHYTHM, _TIME = Stage.LETTERS, Stage.PLACES, Stage.RHYTHM, Stage.TIME

CURES = {
    Trouble.SIGNATURE: Cure(lesson="monday.lesson.signature", stages=(_NAMES, _PLACES), level=3),
    Trouble.ACCIDENTAL: Cure(lesson="monday.lesson.accidental", stages=(_NAMES, _PLACES), level=5),
    Trouble.NEIGHBOUR: Cure(lesson="monday.lesson.neighbour", stages=(_NAMES, _PLACES)),
    Trouble.LEDGER: Cure(lesson="monday.lesson.ledger", stages=(_NAMES, _PLACES), level=3),
    Trouble.OCTAVE: Cure(lesson="monday.lesson.octave", stages=(_PLACES,), level=3),
    Trouble.THIRD: Cure(lesson="monday.lesson.third", stages=(_NAMES, _PLACES), level=2),
    Trouble.SLIP: Cure(lesson="monday.lesson.slip", stages=(_PLACES,), amount=Amount.TWO_BARS),
    Trouble.UNKNOWN: Cure(lesson="monday.lesson.unknown", stages=(_PLACES,), amount=Amount.TWO_BARS),
    Trouble.TIMING: Cure(lesson="monday.lesson.timing", stages=(_RHYTHM,)),
    Trouble.TEMPO: Cure(lesson="monday.lesson.tempo", stages=(_TIME,), amount=Amount.TWO_BARS, tempo=0.9),
    Trouble.SAME_TEMPO: Cure(lesson="monday.lesson.same_tempo", stages=(_TIME,), tempo=1.05),
    Trouble.ELSEWHERE: Cure(lesson="monday.lesson.elsewhere", stages=(_PLACES,)),
    Trouble.MISSED: Cure(lesson="monday.lesson.missed", stages=(_PLACES,), amount=Amount.TWO_BARS),
}

ABSENT = Cure(lesson="monday.lesson.absent", stages=(_PLACES,), amount=Amount.TWO_BARS)
OVERDUE = Cure(lesson="monday.lesson.overdue", stages=(), amount=Amount.HALF, tempo=1.05)
"""For those who did not practise, and for what is late: the stages that were set stay, and its tempo is not passed."""
