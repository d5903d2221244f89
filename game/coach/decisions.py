"""What the coach says next."""

from dataclasses import dataclass, field
from enum import Enum

from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from game.message import Message


class Offer(Enum):
    """Which music comes next."""

    AGAIN = "again"
    SIBLING = "sibling"
    EASIER = "easier"


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """The next take, and why.

    `tempo_bpm` is in the metre's own beat, None where no metronome plays. `earned` are marks the last take
    brought, `just_read` whether it marked the bars as read, `to_review` the numbers of notes that want attention.
    `reason` is one or more short sentences for the player, as keys of the text catalogue. With an offer other than
    AGAIN, stage and tempo say where this passage will go on another time.
    """

    passage: str
    offer: Offer
    stage: Stage
    pulse: Pulse
    tempo_bpm: int | None
    reason: tuple[Message, ...]
    settling: bool = False
    earned: tuple[Mark, ...] = ()
    to_review: tuple[int, ...] = ()
    # Of the take just played: what the log keeps of it is the day in the record.
    just_read: bool = field(default=False, compare=False)
