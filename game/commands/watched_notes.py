"""The notes of a watch as its answer tells them: what each was when it came, and what it turned out to be."""

from collections import deque

import msgspec

from game.commands.answers.devices_answer import Became, FilteredNote, WatchedNote
from game.instrument.decoding.played import NoteFiltered, NoteRevised, NoteStarted, PlayedNote

_STILL_REVISED = 16
"""Notes that may still turn out to be others: what a hand plays in the fifth of a second that takes."""


class WatchedNotes:
    """The last `most` notes of a watch that began at `began_s`."""

    def __init__(self, began_s: float, *, most: int) -> None:
        self._began_s, self._most = began_s, most
        self._notes: dict[int, WatchedNote] = {}
        self._filtered: deque[FilteredNote] = deque(maxlen=most)
        self._told = 0
        self._open: dict[PlayedNote, int] = {}

    def notes(self) -> list[WatchedNote]:
        """Those that counted when they came, in that order."""
        return list(self._notes.values())

    def filtered(self) -> list[FilteredNote]:
        """Those that never counted."""
        return list(self._filtered)

    def started(self, event: NoteStarted, *, delay_s: float, bend: int) -> WatchedNote:
        """A note that counts. `delay_s` is how late its device is held to be with it."""
        note = event.note
        told = WatchedNote(
            time_ms=self._time_ms(note.started_s + delay_s),
            device=note.source,
            channel=event.channel,
            string=note.place.string if note.place else None,
            fret=note.place.fret if note.place else None,
            sounding=note.sounding,
            velocity=note.velocity,
            bend=bend,
            delay_ms=round(delay_s * 1000, 1),
            off_neck=event.off_neck,
        )
        self._told += 1
        self._notes[self._told] = told
        self._notes.pop(self._told - self._most, None)
        self._open = {**dict(list(self._open.items())[-_STILL_REVISED:]), note: self._told}
        return told

    def filtered_out(self, event: NoteFiltered) -> FilteredNote:
        """A note that is dirt from the first."""
        note = event.note
        told = FilteredNote(
            time_ms=self._time_ms(note.started_s),
            device=note.source,
            channel=event.channel,
            sounding=note.sounding,
            velocity=note.velocity,
            filter=event.dirt,
        )
        self._filtered.append(told)
        return told

    def revised(self, event: NoteRevised) -> WatchedNote | None:
        """What a note turned out to be; None for one that was told too long ago."""
        number = self._open.pop(event.before, None)
        if number is None or number not in self._notes:
            return None
        after = event.after
        if after is None:
            told = msgspec.structs.replace(self._notes[number], filter=event.dirt)
        else:
            place = after.place
            became = Became(
                sounding=after.sounding,
                string=place.string if place else None,
                fret=place.fret if place else None,
            )
            told = msgspec.structs.replace(self._notes[number], became=became)
            self._open[after] = number
        self._notes[number] = told
        return told

    def _time_ms(self, at_s: float) -> float:
        return round((at_s - self._began_s) * 1000, 1)
