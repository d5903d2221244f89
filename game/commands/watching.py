"""What is heard while `homefret devices --watch` looks on: told line by line, kept for --json, recorded."""

import sys
from collections import Counter, deque
from collections.abc import Callable
from pathlib import Path
from threading import Event
from typing import Any

from game.clock import Clock
from game.instrument.decoding.decoded import dirt_in_words
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.hearing import HearingState, Setup, hear, listening, passed
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings import StringsState
from game.instrument.ports.midi_inputs import DeviceChange, DeviceFound, DeviceLost, DeviceRefused, MidiInputs
from game.instrument.sources.take_file import write_messages

# Only how soon a note is shown: its time is taken when it comes.
_LOOK_EVERY_S = 0.01
# What --json keeps of a watch, and a recording, so that one forgotten for a day does not fill the memory.
_MOST_KEPT = 100_000
_CHANGE_WORDS = {DeviceFound: "found", DeviceLost: "lost", DeviceRefused: "refused"}


class Watch:
    """What was heard while watching. `setup_for` tells how a device reports, by its name."""

    def __init__(self, setup_for: Callable[[str], Setup], clock: Clock, *, speaks: bool) -> None:
        self.clock = clock
        self._setup_for = setup_for
        self._began_s = clock.now_s()
        self._speaks = speaks
        self._states: dict[str, tuple[Setup, HearingState]] = {}
        self._notes: deque[dict[str, Any]] = deque(maxlen=_MOST_KEPT)
        self._rows: dict[PlayedNote, dict[str, Any]] = {}
        self._filtered: deque[dict[str, Any]] = deque(maxlen=_MOST_KEPT)
        self._changes: deque[dict[str, Any]] = deque(maxlen=_MOST_KEPT)
        self._dirt: Counter[Dirt] = Counter()
        self._recorded: deque[StampedMessage] = deque(maxlen=_MOST_KEPT)

    def answer(self) -> dict[str, Any]:
        """`notes`, `filtered`, `dirt` and `changes` of the answer in JSON."""
        return {
            "notes": list(self._notes),
            "filtered": list(self._filtered),
            "dirt": {dirt.value: count for dirt, count in self._dirt.items()},
            "changes": list(self._changes),
        }

    def record(self, path: Path) -> None:
        """Write what came, as it came, so that `homefret take` reads it: strings on channels 1 to 6."""
        setups = {name: setup for name, (setup, _) in self._states.items()}
        write_messages(path, self._recorded, setups)

    def look_on(self, inputs: MidiInputs, told: Event, *, seconds: float | None) -> None:
        """Hear what comes until `told` is set, or `seconds` are over."""
        while not told.wait(_LOOK_EVERY_S):
            self._look(inputs)
            if seconds is not None and self.clock.now_s() - self._began_s >= seconds:
                break
        self._look(inputs)
        if self._speaks and self._dirt:
            print(f"Filtered: {dirt_in_words(self._dirt)}.")

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
            state_now, events = passed(state, self.clock.now_s())
            self._states[name] = setup, state_now
            self._tell(events, setup, state_now)
        if self._speaks:
            sys.stdout.flush()

    def _state(self, source: str) -> tuple[Setup, HearingState]:
        if source not in self._states:
            setup = self._setup_for(source)
            self._states[source] = setup, listening(setup)
        return self._states[source]

    def _time_ms(self, at_s: float) -> float:
        return round((at_s - self._began_s) * 1000, 1)

    def _tell_change(self, change: DeviceChange) -> None:
        word = _CHANGE_WORDS[type(change)]
        self._changes.append({"change": word, "device": change.name, "time_ms": self._time_ms(self.clock.now_s())})
        if self._speaks:
            reason = f" ({change.reason})" if isinstance(change, DeviceRefused) else ""
            print(f"{change.name} {word}{reason}")

    def _tell(self, events: tuple[NoteEvent, ...], setup: Setup, state: HearingState) -> None:
        for event in events:
            if isinstance(event, NoteStarted):
                self._tell_note(event, setup, state)
            elif isinstance(event, NoteFiltered):
                self._tell_filtered(event)
            elif isinstance(event, NoteRevised):
                self._tell_revised(event)

    def _tell_note(self, event: NoteStarted, setup: Setup, state: HearingState) -> None:
        note = event.note
        delay_s = setup.delay.of(note.sounding)
        off_neck = event.off_neck.value if event.off_neck else None
        row: dict[str, Any] = {
            "time_ms": self._time_ms(note.started_s + delay_s),
            "device": note.source,
            "channel": event.channel,
            "string": note.place.string if note.place else None,
            "fret": note.place.fret if note.place else None,
            "sounding": note.sounding,
            "velocity": note.velocity,
            "bend": state.channels[event.channel - 1].bend if isinstance(state, StringsState) else 0,
            "delay_ms": round(delay_s * 1000, 1),
            "off_neck": off_neck,
            "filter": None,
            "became": None,
        }
        self._notes.append(row)
        self._rows = {**dict(list(self._rows.items())[-_STILL_REVISED:]), note: row}
        if self._speaks:
            print(
                f"{row['time_ms'] / 1000:9.3f} s  {_where(note, off_neck)}  MIDI {note.sounding:3}"
                f"  channel {event.channel:2}  velocity {note.velocity:3}  bend {row['bend']:5}"
                f"  delay {row['delay_ms']:4.1f} ms  {note.source}"
            )

    def _tell_filtered(self, event: NoteFiltered) -> None:
        note = event.note
        self._dirt[event.dirt] += 1
        self._filtered.append(
            {
                "time_ms": self._time_ms(note.started_s),
                "device": note.source,
                "channel": event.channel,
                "sounding": note.sounding,
                "velocity": note.velocity,
                "filter": event.dirt.value,
            }
        )
        if self._speaks:
            time_s = self._time_ms(note.started_s) / 1000
            print(f"{time_s:9.3f} s  filtered, {event.dirt.value}: MIDI {note.sounding:3}  channel {event.channel:2}")

    def _tell_revised(self, event: NoteRevised) -> None:
        row = self._rows.pop(event.before, None)
        if event.dirt is not None:
            self._dirt[event.dirt] += 1
        if row is None:
            return
        after = event.after
        if after is None:
            row["filter"] = event.dirt.value if event.dirt else None
        else:
            place = after.place
            row["became"] = {
                "sounding": after.sounding,
                "string": place.string if place else None,
                "fret": place.fret if place else None,
            }
            self._rows[after] = row
        if self._speaks:
            off_neck = event.off_neck.value if event.off_neck else None
            what = f"filtered, {row['filter']}" if after is None else f"became {_where(after, off_neck)}"
            print(f"{row['time_ms'] / 1000:9.3f} s  MIDI {event.before.sounding:3} {what}")


# Notes that may still turn out to be others: what a hand plays in the fifth of a second that takes.
_STILL_REVISED = 16


def _where(note: PlayedNote, off_neck: str | None) -> str:
    return f"string {note.place.string} fret {note.place.fret:>2}" if note.place else off_neck or "pitch only"
