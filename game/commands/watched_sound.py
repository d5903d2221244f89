"""What is heard while `homefret devices --watch --input` listens: told line by line, kept for --json."""

import sys
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Event

import msgspec

from game.clock import Clock
from game.commands.answers.devices_answer import BecameSound, Change, WatchedSound
from game.errors import InstrumentError
from game.instrument.decoding.device_names import is_wanted
from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.ports.device_changes import DeviceChange, DeviceFound, DeviceLost, SystemChanged
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.sound_input import SOUND_ENDINGS, SoundTerms
from game.instrument.ports.sound_wire import InputsFound
from game.message import from_plain
from game.player.device_settings import MicrophoneSettings
from game.player.settings import Settings
from game.text.catalogue import as_sentence, say, tell

# Only how soon a note is shown: its time is that of its samples.
_LOOK_EVERY_S = 0.01
MOST_KEPT = 100_000
"""What --json keeps of a watch, so that one forgotten for a day does not fill the memory."""

ListenBy = Callable[[SoundTerms, str, Callable[[Told, float], None]], Microphone]
"""Listen as the terms say, keep what comes in a file ("" for none), and tell of each note and when its stream began."""


@dataclass(frozen=True, slots=True)
class SoundWatched:
    """What was heard while watching, in the order in which it was told, and what came and went."""

    heard: list[WatchedSound]
    changes: list[Change]


class SoundWatch:
    """Listens to one input. Made at the beginning of a watch; `speaks` where it tells line by line."""

    def __init__(self, clock: Clock, *, speaks: bool) -> None:
        self._clock, self._speaks = clock, speaks
        self._began_s = clock.now_s()
        self._notes: dict[int, WatchedSound] = {}
        self._told = 0
        self._open: dict[int, int] = {}
        self._changes: deque[Change] = deque(maxlen=MOST_KEPT)
        self._delay_s, self._input = 0.0, ""

    def watched(self) -> SoundWatched:
        """All of it, for the answer in JSON."""
        return SoundWatched(list(self._notes.values()), list(self._changes))

    def listen(self, terms: SoundTerms, told: Event, *, seconds: float | None, kept_in: str, by: ListenBy) -> None:
        """Hear what comes until `told` is set, or `seconds` are over."""
        self._delay_s, self._input = terms.delay_s, terms.name
        microphone = by(terms, kept_in, self.hear)
        try:
            while not told.is_set():
                # Not `told.wait`: whoever waits holds its lock for moments, and a signal that sets it then never
                # returns.
                time.sleep(_LOOK_EVERY_S)
                self._look(microphone)
                if seconds is not None and self._clock.now_s() - self._began_s >= seconds:
                    break
            level = microphone.level
        finally:
            microphone.close()
        self._look(microphone)
        if level is not None:
            self._print("command.devices.sound_in_all", rms_db=level.rms_db, clipped=level.clipped, lost=level.lost)

    def _look(self, microphone: Microphone) -> None:
        for change in microphone.changes():
            self._tell_change(change)
        # What they say is told with the notes themselves: pitches with their fractions.
        for _ in microphone.events(self._clock.now_s()):
            pass
        if self._speaks:
            sys.stdout.flush()

    def hear(self, told: Told, began_s: float) -> None:
        """Something was told of a note."""
        note, number = told.note, self._open.get(told.note.number)
        time_s = began_s + note.started_s - self._delay_s - self._began_s
        if told.telling is Telling.STARTED:
            self._tell_started(note, time_s)
        elif number is None:
            return
        elif told.telling is Telling.WITHDRAWN:
            self._keep(number, withdrawn=True)
            self._print("command.devices.sound_withdrawn", time_s=time_s, sounding=round(note.pitch))
        elif told.telling in (Telling.REVISED, Telling.SETTLED):
            self._tell_became(number, note, time_s)
        elif told.telling is Telling.ENDED:
            del self._open[note.number]

    def _tell_started(self, note: HeardNote, time_s: float) -> None:
        self._told += 1
        self._open = {**dict(list(self._open.items())[-16:]), note.number: self._told}
        self._notes[self._told] = WatchedSound(
            time_ms=round(1000 * time_s, 1),
            input=self._input,
            sounding=round(note.pitch),
            cents=_cents(note),
            level_db=round(note.level_db, 1),
            sure=note.sure,
            slurred=note.slurred,
        )
        self._notes.pop(self._told - MOST_KEPT, None)
        key = "command.devices.sound_slurred" if note.slurred else "command.devices.sound"
        self._print(
            key if note.sure else "command.devices.sound_unsure",
            time_s=time_s,
            sounding=round(note.pitch),
            cents=_cents(note),
            level_db=note.level_db,
        )

    def _tell_became(self, number: int, note: HeardNote, time_s: float) -> None:
        """Another pitch is told in a line of its own; cents that are known better are kept."""
        before = self._notes.get(number)
        if before is None:
            return
        sounding, cents = round(note.pitch), _cents(note)
        was = before.became.sounding if before.became else before.sounding
        if sounding != was:
            self._print("command.devices.sound_became", time_s=time_s, was=was, sounding=sounding, cents=cents)
        if sounding == before.sounding:
            self._keep(number, cents=cents, sure=note.sure, became=None)
        else:
            self._keep(number, sure=note.sure, became=BecameSound(sounding=sounding, cents=cents))

    def _keep(self, number: int, **changes: object) -> None:
        if number in self._notes:
            self._notes[number] = msgspec.structs.replace(self._notes[number], **changes)

    def _tell_change(self, change: DeviceChange) -> None:
        time_ms = round((self._clock.now_s() - self._began_s) * 1000, 1)
        if isinstance(change, DeviceFound):
            self._changes.append(Change(change="found", device=change.name, time_ms=time_ms))
            self._print("command.devices.found", device=change.name)
        elif isinstance(change, DeviceLost):
            self._changes.append(Change(change="lost", device=change.name, time_ms=time_ms))
            self._print("command.devices.lost", device=change.name)
        elif isinstance(change, SystemChanged):
            self._changes.append(Change(change="refused", device=self._input, time_ms=time_ms))
            if self._speaks:
                print(as_sentence(tell(change.told)))

    def _print(self, key: str, /, **values: object) -> None:
        if self._speaks:
            print(say(key, **values))


def listen_by(terms: SoundTerms, kept_in: str, hear: Callable[[Told, float], None]) -> Microphone:
    """Really."""
    return Microphone(time.perf_counter, terms, kept_in=kept_in, on_told=hear)


def terms_for(wanted: str, channel: int | None, found: InputsFound, settings: Settings) -> SoundTerms:
    """The input that is wanted by its name or any part of it, as it was set up. Raises `InstrumentError` where there is
    no such input, or several.
    """
    names = [one.name for one in found.inputs]
    if not names and found.reason is not None:
        raise InstrumentError(from_plain(found.reason).key, **dict(from_plain(found.reason).values))
    if not names:
        raise InstrumentError("sound_input.none")
    fit = [name for name in names if name == wanted] or [name for name in names if is_wanted(name, wanted)]
    if len(fit) != 1:
        key = "command.devices.several_inputs" if fit else "command.devices.no_such_input"
        raise InstrumentError(key, input=wanted, inputs=tuple(fit or names))
    known = settings.microphones.get(fit[0]) or MicrophoneSettings()
    return SoundTerms(
        name=fit[0],
        channel=known.channel if channel is None else channel,
        delay_s=known.delay_ms / 1000,
        floor_db=known.floor_db,
    )


def sound_file(path: Path) -> str:
    """Where what comes is written. Raises `InstrumentError` for a file that is there, or is to be no recording of
    sound.
    """
    if path.suffix.lower() not in SOUND_ENDINGS:
        raise InstrumentError("command.devices.sound_file_ending", path=path, endings=SOUND_ENDINGS)
    if path.exists():
        raise InstrumentError("sound_input.file_there", path=path)
    if not path.absolute().parent.is_dir():
        raise InstrumentError("command.devices.no_folder", path=path, folder=path.absolute().parent)
    return str(path.absolute())


def _cents(note: HeardNote) -> int:
    return round(100 * (note.pitch - round(note.pitch)))
