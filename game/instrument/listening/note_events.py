"""What was told of a guitar that is heard, as the events any instrument gives. A fold, pure."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteEvent, NoteRevised, NoteSettled, NoteStarted, PlayedNote
from game.instrument.listening.heard import HeardNote, Telling, Told

HEARD_CHANNEL = 1
"""Events have a channel; one that is heard has no other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeardStream:
    """Where a stream of samples stands on the master clock: its first came at `began_s`; what is heard of it was played
    `delay_s` before, through the input named `source`. `notes` are those that were told of and have not
    ended, by number.
    """

    began_s: float
    delay_s: float = 0.0
    source: str = ""
    notes: tuple[tuple[int, PlayedNote], ...] = ()


def note_events(stream: HeardStream, told: Iterable[Told]) -> tuple[HeardStream, tuple[NoteEvent, ...]]:
    """The events of what was told, in order, and the stream after them.

    A note that is settled, in the sense of what is heard, gives an event only where that changes it: for the program it
    is settled when it ends. What is told of a note that never started, or ended before, is passed over.
    """
    notes = dict(stream.notes)
    events: list[NoteEvent] = []
    for one in told:
        before, after = notes.get(one.note.number), _played(stream, one.note)
        if one.telling is Telling.STARTED:
            notes[one.note.number] = after
            events.append(NoteStarted(note=after, channel=HEARD_CHANNEL))
        elif before is None:
            continue
        elif one.telling is Telling.WITHDRAWN:
            del notes[one.note.number]
            events.append(NoteRevised(before=before, after=None, channel=HEARD_CHANNEL, dirt=Dirt.SHORT))
        else:
            if after != before:
                notes[one.note.number] = after
                events.append(NoteRevised(before=before, after=after, channel=HEARD_CHANNEL))
            if one.telling is Telling.ENDED:
                del notes[one.note.number]
                ended_s = max(stream.began_s + one.at_s - stream.delay_s, after.started_s)
                events.append(NoteSettled(note=after, channel=HEARD_CHANNEL, ended_s=ended_s))
    return replace(stream, notes=tuple(notes.items())), tuple(events)


def velocity_of(level_db: float) -> int:
    """The velocity, 1 to 127, of a note so loud against full scale: 40 log10(velocity / 127) dB, as General MIDI 2 and
    Downloadable Sounds map it.
    """
    return min(max(round(127 * 10 ** (level_db / 40)), 1), 127)


def _played(stream: HeardStream, note: HeardNote) -> PlayedNote:
    return PlayedNote(
        started_s=stream.began_s + note.started_s - stream.delay_s,
        sounding=round(note.pitch),
        place=None,
        velocity=velocity_of(note.level_db),
        source=stream.source,
        heard=True,
        sure=note.sure,
    )
