"""The marks of a passage as a result shows them: earned before, earned just now, or still to be earned."""

from dataclasses import dataclass

from game.coach.decisions import Decision
from game.coach.marks import Mark
from game.coach.records import PassageRecord
from game.message import Message, message

READ = message("book.read")
"""What the mark of bars right at their first or second sighting is called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownMark:
    """A mark by its word. `new` where the last take earned it: then it is earned, too. `by_word` where it rests on the
    player's own word, and is pencil.
    """

    said: Message
    earned: bool
    new: bool
    by_word: bool = False


def shown_marks(record: PassageRecord | None, decision: Decision) -> tuple[ShownMark, ...]:
    """Read, then the three of practice in their order. `decision` is the one after the last take, `record` as it stands
    then; None for a passage the coach knows nothing of.
    """
    earned = () if record is None else record.marks
    read = record is not None and record.read_day is not None
    return (
        ShownMark(said=READ, earned=read, new=read and decision.just_read),
        *(
            ShownMark(
                said=message(f"book.{mark.value}"),
                earned=mark in earned,
                new=mark in decision.earned,
                by_word=record is not None and mark in record.marks_by_word,
            )
            for mark in Mark
        ),
    )
