"""A whole recording decoded at once: what was played in the end, and what was taken for dirt. Pure."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import Setup, finish, hear, initial_state
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.message import Message, message


@dataclass(slots=True)
class DecodedNotes:
    """Notes as they turned out, and how many were told, dirt and all. Changed by `take`."""

    dirt: Counter[Dirt] = field(default_factory=Counter)
    count: int = 0
    _notes: dict[tuple[int, float, int], PlayedNote] = field(default_factory=dict)

    @property
    def notes(self) -> tuple[PlayedNote, ...]:
        """What was played, in order of time."""
        return tuple(sorted(self._notes.values(), key=lambda note: note.started_s))

    def take(self, event: NoteEvent) -> None:
        """Take what became of a note into account."""
        self.count += isinstance(event, NoteStarted | NoteFiltered)
        if isinstance(event, NoteStarted):
            self._notes[_key(event.note, event.channel)] = event.note
        elif isinstance(event, NoteFiltered):
            self.dirt[event.dirt] += 1
        elif isinstance(event, NoteRevised):
            self._notes.pop(_key(event.before, event.channel), None)
            if event.after is not None:
                self._notes[_key(event.after, event.channel)] = event.after
            elif event.dirt is not None:
                self.dirt[event.dirt] += 1


def decode_all(messages: Iterable[StampedMessage], setup: Setup, *, most: int | None = None) -> DecodedNotes:
    """All of a recording, in order of time; broken off as soon as there are more than `most` notes."""
    whole = DecodedNotes()
    state, at_s = initial_state(setup), 0.0
    for stamped in messages:
        at_s = stamped.at_s
        state, events = hear(state, stamped)
        for event in events:
            whole.take(event)
        if most is not None and whole.count > most:
            return whole
    for event in finish(state, at_s)[1]:
        whole.take(event)
    return whole


def dirt_told(dirt: Mapping[Dirt, int]) -> tuple[Message, ...]:
    """What was filtered, kind by kind with its number: "3 too short", "1 cross-talk"."""
    return tuple(
        message("dirt.counted", number=count, kind=message(f"dirt.{kind.name.lower()}"))
        for kind, count in dirt.items()
        if count
    )


def _key(note: PlayedNote, channel: int) -> tuple[int, float, int]:
    return channel, note.started_s, note.sounding
