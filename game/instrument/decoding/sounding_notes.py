"""The notes that sound now, and how they end. Pure; shared by the decoding of strings and of keyboards."""

from dataclasses import dataclass

from game.instrument.decoding.messages import ControlChange, Message, NoteOff
from game.instrument.decoding.played import NoteSettled, NoteStarted, PlayedNote


@dataclass(frozen=True, slots=True)
class SoundingNotes:
    """What was started and has not settled, oldest first."""

    started: tuple[NoteStarted, ...] = ()

    @property
    def notes(self) -> tuple[PlayedNote, ...]:
        """The notes, oldest first."""
        return tuple(event.note for event in self.started)

    def begin(self, event: NoteStarted) -> "SoundingNotes":
        """With one note more."""
        return SoundingNotes((*self.started, event))

    def end(self, *, channel: int, at_s: float, pitch: int | None = None) -> "_Ended":
        """Without the notes of a channel (of one MIDI number there, where `pitch` is given), and those
        settled.
        """
        kept: list[NoteStarted] = []
        settled: list[NoteSettled] = []
        for event in self.started:
            if event.channel == channel and pitch in (None, event.note.sounding):
                settled.append(NoteSettled(note=event.note, channel=channel, ended_s=at_s))
            else:
                kept.append(event)
        return (SoundingNotes(tuple(kept)), tuple(settled)) if settled else (self, ())

    def end_by(self, message: Message, *, at_s: float) -> "_Ended":
        """After a message that may end notes: a note-off, all notes off, all sound off, a mode message."""
        if isinstance(message, NoteOff):
            return self.end(channel=message.channel, at_s=at_s, pitch=message.pitch)
        if isinstance(message, ControlChange) and message.silences:
            return self.end(channel=message.channel, at_s=at_s)
        return self, ()


_Ended = tuple[SoundingNotes, tuple[NoteSettled, ...]]

SILENCE = SoundingNotes()
