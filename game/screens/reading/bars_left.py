"""What is pencilled of the bars that have been left, while a take goes on."""

from collections.abc import Iterator

from game.music.passage import Passage
from game.practice.pencilled import OffTimeMark, PlacedMark, marks_of
from game.practice.timed_take import TimedTake


def marks_of_left(take: TimedTake, passage: Passage, bars: int) -> Iterator[PlacedMark]:
    """The marks of the first so many bars; what was early or late is told after the take."""
    for note, verdict in take.to_pencil(bars):
        key = passage.bars[note.note.heads[0].bar].key
        made = marks_of(note, verdict, key=key, reading=passage.reading)
        yield from (mark for mark in made if not isinstance(mark.mark, OffTimeMark))
