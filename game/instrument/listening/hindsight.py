"""What a recording tells of its notes once all of it was heard. Pure."""

from collections.abc import Iterable
from dataclasses import replace

from game.instrument.listening.heard import HeardNote

_STILL_THE_PLUCK_S = 0.12
"""A pitch that changes as soon as the note is settled was a mistake: fingers hardly come down so soon after a pluck
(ours; 120 ms are sixteenths at 125 a minute).
"""


def with_hindsight(notes: Iterable[HeardNote]) -> tuple[HeardNote, ...]:
    """The notes, in order of time, with what a pluck turned into as soon as it was settled as its own pitch."""
    told: list[HeardNote] = []
    for note in notes:
        if told and note.slurred and not told[-1].slurred and _is_soon(told[-1], note):
            told[-1] = replace(note, started_s=told[-1].started_s, number=told[-1].number, slurred=False)
        else:
            told.append(note)
    return tuple(told)


def _is_soon(pluck: HeardNote, change: HeardNote) -> bool:
    return change.started_s - pluck.started_s <= _STILL_THE_PLUCK_S
