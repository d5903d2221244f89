"""A capo makes every string sound higher, and the page is read as it is fingered from it (trade): so what comes in is
taken down by it before anything else hears of it. Its frets are counted from the capo already (`StringsSetup`). Pure.
"""

from dataclasses import replace
from typing import TypeVar

from game.instrument.decoding.played import NoteFiltered, NoteRevised, NoteSettled, NoteStarted, PlayedNote

Event = TypeVar("Event")


def as_fingered(event: Event, capo: int) -> Event:
    """The event with its notes `capo` semitones lower; what is no event of a note stays as it is."""
    if capo == 0:
        return event
    if isinstance(event, NoteStarted | NoteSettled | NoteFiltered):
        return replace(event, note=note_as_fingered(event.note, capo))
    if isinstance(event, NoteRevised):
        after = None if event.after is None else note_as_fingered(event.after, capo)
        return replace(event, before=note_as_fingered(event.before, capo), after=after)
    return event


def note_as_fingered(note: PlayedNote, capo: int) -> PlayedNote:
    """A note that sounded behind a capo, as it was fingered from it; 0 at least."""
    return replace(note, sounding=max(0, note.sounding - capo)) if capo else note
