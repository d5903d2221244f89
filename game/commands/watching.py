"""What is heard while `homefret devices --watch` looks on: told line by line, kept for --json, recorded."""

import sys
import time
from collections import Counter, deque
from collections.abc import Callable
from pathlib import Path
from threading import Event

from game.clock import Clock
from game.commands.answers.devices_answer import Change, Watched
from game.commands.watched_notes import WatchedNotes
from game.instrument.decoding.decoded import dirt_told
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import InstrumentState, Setup, hear, initial_state, pass_time
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteStarted, OffNeck, PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings import StringsState
from game.instrument.ports.device_changes import (
    DeviceChange,
    DeviceFound,
    DeviceLost,
    DeviceRefused,
    DeviceWired,
    SystemChanged,
)
from game.instrument.ports.midi_inputs import MidiInputs
from game.instrument.sources.take_file import write_messages
from game.message import Message, message
from game.paths import write_whole_file
from game.text.catalogue import as_sentence, say, tell

# Only how soon a note is shown: its time is taken when it comes.
_LOOK_EVERY_S = 0.01
# What --json keeps of a watch, and a recording, so that one forgotten for a day does not fill the memory.
MOST_KEPT = 100_000


class Watch:
    """What was heard while watching. `setup_for` tells how a device reports, by its name."""

    def __init__(self, setup_for: Callable[[str], Setup], clock: Clock, *, speaks: bool) -> None:
        self.clock = clock
        self._setup_for = setup_for
        self._began_s = clock.now_s()
        self._speaks = speaks
        self._states: dict[str, tuple[Setup, InstrumentState]] = {}
        self._notes = WatchedNotes(self._began_s, most=MOST_KEPT)
        self._changes: deque[Change] = deque(maxlen=MOST_KEPT)
        self._dirt: Counter[Dirt] = Counter()
        self._recorded: deque[StampedMessage] = deque(maxlen=MOST_KEPT)

    def watched(self) -> Watched:
        """All of it, for the answer in JSON."""
        return Watched(
            notes=self._notes.notes(),
            filtered=self._notes.filtered(),
            dirt={dirt.value: count for dirt, count in self._dirt.items()},
            changes=list(self._changes),
        )

    def record(self, path: Path) -> None:
        """Write what came, as it came, so that `homefret take` reads it: each string on the channel of its number."""
        setups = {name: setup for name, (setup, _) in self._states.items()}
        write_messages(path, self._recorded, setups, write_whole_file)

    def look_on(self, inputs: MidiInputs, told: Event, *, seconds: float | None) -> None:
        """Hear what comes until `told` is set, or `seconds` are over."""
        while not told.is_set():
            # Not `told.wait`: whoever waits holds its lock for moments, and a signal that sets it then never returns.
            time.sleep(_LOOK_EVERY_S)
            self._look(inputs)
            if seconds is not None and self.clock.now_s() - self._began_s >= seconds:
                break
        self._look(inputs)
        if self._dirt:
            self._print("command.devices.filtered_in_all", dirt=dirt_told(self._dirt))

    def _look(self, inputs: MidiInputs) -> None:
        for change in inputs.changes():
            self._tell_change(change)
        for stamped in inputs.drain():
            self._recorded.append(stamped)
            setup, state = self._state(stamped.source)
            state, events = hear(state, stamped)
            self._states[stamped.source] = setup, state
            self._tell(events, setup, state)
        for name, (setup, state) in self._states.items():
            state_now, events = pass_time(state, self.clock.now_s())
            self._states[name] = setup, state_now
            self._tell(events, setup, state_now)
        if self._speaks:
            sys.stdout.flush()

    def _state(self, source: str) -> tuple[Setup, InstrumentState]:
        if source not in self._states:
            setup = self._setup_for(source)
            self._states[source] = setup, initial_state(setup)
        return self._states[source]

    def _tell_change(self, change: DeviceChange) -> None:
        time_ms = round((self.clock.now_s() - self._began_s) * 1000, 1)
        match change:
            case DeviceFound():
                self._changes.append(Change(change="found", device=change.name, time_ms=time_ms))
                self._print("command.devices.found", device=change.name)
                if change.wires_itself:
                    self._print("device.wire", device=change.name)
            case DeviceWired():
                self._print("device.found", device=change.name)
            case DeviceLost():
                self._changes.append(Change(change="lost", device=change.name, time_ms=time_ms))
                self._print("command.devices.lost", device=change.name)
            case DeviceRefused():
                self._changes.append(Change(change="refused", device=change.name, time_ms=time_ms))
                self._print("command.devices.refused", device=change.name, reason=change.reason)
            case SystemChanged() if self._speaks:
                print(as_sentence(tell(change.told)))

    def _tell(self, events: tuple[NoteEvent, ...], setup: Setup, state: InstrumentState) -> None:
        for event in events:
            if isinstance(event, NoteStarted):
                self._tell_note(event, setup, state)
            elif isinstance(event, NoteFiltered):
                self._tell_filtered(event)
            elif isinstance(event, NoteRevised):
                self._tell_revised(event)

    def _tell_note(self, event: NoteStarted, setup: Setup, state: InstrumentState) -> None:
        bend = state.channels[event.channel - 1].bend if isinstance(state, StringsState) else 0
        row = self._notes.started(event, delay_s=setup.delay.of(event.note.sounding), bend=bend)
        self._print(
            "command.devices.note",
            time_s=row.time_ms / 1000,
            where=_where(event.note, event.off_neck),
            sounding=row.sounding,
            channel=row.channel,
            velocity=row.velocity,
            bend=row.bend,
            delay_ms=row.delay_ms,
            device=row.device,
        )

    def _tell_filtered(self, event: NoteFiltered) -> None:
        self._dirt[event.dirt] += 1
        row = self._notes.filtered_out(event)
        self._print(
            "command.devices.note_filtered",
            time_s=row.time_ms / 1000,
            dirt=_dirt(event.dirt),
            sounding=row.sounding,
            channel=row.channel,
        )

    def _tell_revised(self, event: NoteRevised) -> None:
        if event.dirt is not None:
            self._dirt[event.dirt] += 1
        row = self._notes.revised(event)
        if row is None:
            return
        told = {"time_s": row.time_ms / 1000, "sounding": event.before.sounding}
        if event.after is not None:
            self._print("command.devices.note_became", **told, where=_where(event.after, event.off_neck))
        elif event.dirt is not None:
            self._print("command.devices.note_was_dirt", **told, dirt=_dirt(event.dirt))

    def _print(self, key: str, /, **values: object) -> None:
        if self._speaks:
            print(say(key, **values))


def _where(note: PlayedNote, off_neck: OffNeck | None) -> Message:
    if note.place:
        return message("command.devices.place", string=note.place.string, fret=note.place.fret)
    return message(f"off_neck.{off_neck.name.lower()}" if off_neck else "command.devices.pitch_only")


def _dirt(dirt: Dirt) -> Message:
    return message(f"dirt.{dirt.name.lower()}")
