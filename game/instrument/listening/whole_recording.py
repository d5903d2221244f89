"""What each note of a recording was in the end."""

from game.instrument.listening.heard import HeardNote, Telling, Told


def notes_in_the_end(told: tuple[Told, ...]) -> tuple[HeardNote, ...]:
    """What became of each note that was told of, without what was withdrawn, in order of time."""
    notes: dict[int, HeardNote] = {}
    for one in told:
        if one.telling is Telling.WITHDRAWN:
            notes.pop(one.note.number, None)
        elif one.telling is not Telling.ENDED or one.note.number in notes:
            notes[one.note.number] = one.note
    return tuple(sorted(notes.values(), key=lambda note: note.started_s))
