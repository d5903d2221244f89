"""A whole recording heard at once: what each note was in the end."""

import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.listening.listener import Listener


def hear_all(samples: NDArray[np.float32], rate: int, *, floor_db: float = -58.0) -> tuple[HeardNote, ...]:
    """The notes of `samples`, one channel from -1 to 1 at `rate` a second (16,000 to 192,000), in order of time."""
    listener = Listener(rate, floor_db=floor_db)
    told = (*listener.feed(samples), *listener.finish())
    return notes_in_the_end(told)


def notes_in_the_end(told: tuple[Told, ...]) -> tuple[HeardNote, ...]:
    """What became of each note that was told of, without what was withdrawn, in order of time."""
    notes: dict[int, HeardNote] = {}
    for one in told:
        if one.telling is Telling.WITHDRAWN:
            notes.pop(one.note.number, None)
        elif one.telling is not Telling.ENDED or one.note.number in notes:
            notes[one.note.number] = one.note
    return tuple(sorted(notes.values(), key=lambda note: note.started_s))
