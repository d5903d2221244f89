"""Bars by their printed numbers."""

from game.music.passage import Passage
from game.music.written import WrittenNote
from game.text.catalogue import say


def bars_in_words(passage: Passage) -> str:
    """Which bars, by their printed numbers; a pickup bar is called so and not by a number."""
    pickup, bars = passage.bars[0].pickup, passage.bars
    numbered = bars[1:] if pickup and len(bars) > 1 else bars
    words = say("bars.one", number=numbered[0].number) if len(numbered) == 1 else ""
    words = words or say("bars.several", first=numbered[0].number, last=numbered[-1].number)
    return say("bars.with_pickup", bars=words) if pickup else words


def bar_of(passage: Passage, note: WrittenNote) -> str:
    """Where a note stands."""
    pickup = passage.bars[note.heads[0].bar].pickup
    return say("bar.pickup") if pickup else say("bar.numbered", number=note.bar)
