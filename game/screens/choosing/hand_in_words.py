"""Where the hand goes in a tune, in a sentence: said before the tune is opened."""

from itertools import pairwise

from game.message import Message, message
from game.music.score import Bar, Score
from game.neck.neck_map import NeckMap
from game.practice.page_positions import PagePosition, positions_on_page

MOST_SHIFTS_TOLD = 4
"""Of more shifts these are said, and how many follow."""


def hand_told(score: Score, neck_map: NeckMap, most: int = MOST_SHIFTS_TOLD) -> Message | None:
    """Where the hand is and in which bars it shifts, at most so many; None where it stays in the position of the map.

    `score` is as notated and read at the map's octave: bars are called as the page calls them.
    """
    marks = positions_on_page(score, neck_map)
    if not marks:
        return None
    shifts = [after for before, after in pairwise(marks) if after.positions != before.positions]
    first = marks[0].numeral
    if not shifts:
        return message("hand.stays", position=first)
    told = tuple(_shifts_told(shifts[:most], score, marks[0]))
    more = len(shifts) - len(told)
    return message("hand.path_and_more" if more else "hand.path", first=first, shifts=told, count=more)


def _shifts_told(shifts: list[PagePosition], score: Score, start: PagePosition) -> list[Message]:
    known, bar, told = {start.positions}, start.head.bar, []
    named = False
    for shift in shifts:
        kind = "back" if shift.positions in known else "to"
        if named and shift.head.bar == bar:
            told.append(message(f"hand.then_{kind}", position=shift.numeral))
        else:
            told.append(message(f"hand.{kind}", bar=_bar_told(score.bars[shift.head.bar]), position=shift.numeral))
        known, bar, named = known | {shift.positions}, shift.head.bar, True
    return told


def _bar_told(bar: Bar) -> Message:
    return message("hand.in_pickup") if bar.pickup else message("bar.numbered", number=bar.number)
