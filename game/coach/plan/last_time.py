"""Last time: one fact and one consequence."""

from dataclasses import dataclass

from game.coach.notes.ink_of_map import InkCounts
from game.coach.notes.slow_notes import SlowHome
from game.coach.plan.day_facts import LastTime
from game.coach.plan.row_words import called
from game.message import Message, message
from game.music.names import NoteNames

AWAY_DAYS = 7
"""Who was away so long is greeted."""

_LEAST_RUN = 8
"""Notes: a shorter run is nothing to tell of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LastSitting:
    """What the last day of practice came to: its last take that was kept with the metronome, else the one that found
    all its notes, else its last one. `title` names its bars, `bpm` is None without a metronome; `run` counts its
    longest row of right notes; `kept` and `found` are what it was.
    """

    day: int
    title: Message
    bpm: int | None = None
    run: int = 0
    kept: bool = False
    found: bool = False


def last_time_told(
    sitting: LastSitting, today: int, ink: InkCounts, slow: SlowHome | None, names: NoteNames
) -> LastTime:
    """What is told of it on the day `today`. `slow` is the slowest note of today's warm-up."""
    away = today - sitting.day
    if away >= AWAY_DAYS:
        return LastTime(day=sitting.day, heading=message("day.away", count=away), fact=_greeting(ink))
    weekday = (sitting.day - 1) % 7 + 1
    heading = message("day.last.yesterday") if away == 1 else message(f"day.last.weekday.{weekday}")
    return LastTime(day=sitting.day, heading=heading, fact=_fact(sitting), consequence=_consequence(slow, names))


def _greeting(ink: InkCounts) -> Message:
    if not ink.ink:
        return message("day.away.met")
    return message("day.away.ink_due", count=ink.due) if ink.due else message("day.away.ink")


def _fact(sitting: LastSitting) -> Message:
    if sitting.kept and sitting.bpm is not None:
        if sitting.run >= _LEAST_RUN:
            return message("day.last.kept_run", passage=sitting.title, bpm=sitting.bpm, count=sitting.run)
        return message("day.last.kept", passage=sitting.title, bpm=sitting.bpm)
    if sitting.found:
        return message("day.last.found", passage=sitting.title)
    if sitting.run >= _LEAST_RUN:
        return message("day.last.run", passage=sitting.title, count=sitting.run)
    return message("day.last.read", passage=sitting.title)


def _consequence(slow: SlowHome | None, names: NoteNames) -> Message | None:
    if slow is None:
        return None
    note = called(slow.key.written, names, slow.key.clef)
    if slow.unsure:
        return message("day.last.unsure", note=note)
    return message("day.last.slow", note=note, seconds=slow.find_s)
