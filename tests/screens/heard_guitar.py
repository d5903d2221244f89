"""A guitar that is heard at the table: notes with a pitch and no place, told a little after they were played."""

from dataclasses import replace

import numpy as np

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.listening.listener import Listener
from game.instrument.listening.note_events import HeardStream, note_events
from game.screens.devices import StaticInstruments

MICROPHONE = "USB microphone"
TOLD_AFTER_S = 0.04
BLOCK = 512
FREE_PITCH = 40
"""The open sixth string."""


class HeardGuitar:
    """Plays for the ear."""

    def __init__(self, table):
        self.table = table
        table.settle(microphone=MICROPHONE)
        table.context.devices.instruments = StaticInstruments(present=True, devices=(MICROPHONE,))

    def sound(self, sounding, *, sure=True, ago_s=0.0, wait_s=0.1) -> PlayedNote:
        """A note, that began so long before it is told."""
        self.table.wait(TOLD_AFTER_S)
        note = self.note(sounding, sure=sure, ago_s=TOLD_AFTER_S + ago_s)
        self.tell(note)
        self.table.wait(wait_s)
        return note

    def note(self, sounding: int, *, sure=True, ago_s=0.0) -> PlayedNote:
        """A note as it is heard now."""
        started_s = self.table.clock.now_s() - ago_s
        return PlayedNote(started_s=started_s, sounding=sounding, place=None, source=MICROPHONE, heard=True, sure=sure)

    def tell(self, note: PlayedNote) -> None:
        """A note is told."""
        self.table.app.note_started(NoteStarted(note=note, channel=1))

    def turns_out(self, before: PlayedNote, **changes) -> PlayedNote | None:
        """A note turns out to be another; with no changes none at all."""
        after = replace(before, **changes) if changes else None
        dirt = None if after else Dirt.SHORT
        self.table.screen.note_revised(NoteRevised(before=before, after=after, channel=1, dirt=dirt))
        return after

    def pluck_free(self, times=1, *, apart_s=0.4) -> None:
        """The gesture, and the moment until it is taken for one."""
        self.table.wait(0.6)
        for _ in range(times):
            self.sound(FREE_PITCH, wait_s=apart_s)
        self.table.wait(1.0)


def play_sound(table, samples, rate: int) -> None:
    """What a microphone gives: listened to as it comes, and told to the game a block at a time."""
    listener, stream = Listener(rate), HeardStream(began_s=table.clock.now_s(), source=MICROPHONE)
    for first in range(0, len(samples), BLOCK):
        block = samples[first : first + BLOCK]
        table.clock.advance(len(block) / rate)
        stream, told = note_events(stream, listener.feed(block.astype(np.float32)))
        for event in told:
            if isinstance(event, NoteStarted):
                table.app.note_started(event)
            elif isinstance(event, NoteRevised):
                table.screen.note_revised(event)
        table.app.take_in([])
