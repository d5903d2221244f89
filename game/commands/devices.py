"""`homefret devices`: the MIDI ports there are, and with --watch each note with its string and fret as it
comes.
"""

import argparse
import signal
import sys
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event
from typing import Any

from game.clock import Clock, SystemClock
from game.commands.answers import add_json_flag, print_json
from game.errors import InstrumentError
from game.instrument.find_driver import FoundDriver, find_driver_for_environment
from game.instrument.hearing import KeyboardSetup, Setup, hear, listening
from game.instrument.names import device_name, is_loop
from game.instrument.played import NoteStarted
from game.instrument.ports import DeviceChange, DeviceFound, DeviceLost, DeviceRefused, MidiInputs
from game.instrument.strings_setup import StringsSetup, channels_from
from game.neck.tuning import DEFAULT_FRETS, tuning_named

# Only how soon a note is shown: its time is taken when it comes.
_LOOK_EVERY_S = 0.01
_LONGEST_WATCH_S = 24 * 3600.0
# What --json keeps of a watch, so that one forgotten for a day does not fill the memory.
_MOST_KEPT = 100_000
_CHANGE_WORDS = {DeviceFound: "found", DeviceLost: "lost", DeviceRefused: "refused"}


def add_parser(subparsers: Any) -> None:
    parser = subparsers.add_parser("devices", help="the MIDI ports there are, and what is played on them")
    parser.add_argument("--watch", action="store_true", help="each note with string and fret as it comes")
    parser.add_argument("--seconds", type=float, metavar="N", help="watch for N seconds (until Ctrl-C)")
    parser.add_argument("--device", metavar="NAME", help="any part of its name (whichever plays)")
    parser.add_argument("--keyboard", action="store_true", help="no strings: pitch only")
    parser.add_argument("--base-channel", type=int, default=1, metavar="C", help="channel of string 1 (1)")
    parser.add_argument("--low-string-first", action="store_true", help="the base channel is string 6")
    parser.add_argument("--tuning", default="standard", metavar="T", help="a name, or six MIDI numbers")
    parser.add_argument("--frets", type=int, default=DEFAULT_FRETS, metavar="N", help="frets on the neck (22)")
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """List the ports, or watch them until Ctrl-C, SIGTERM or the end of `--seconds`."""
    setup = _setup(args)
    if args.seconds is not None and not 0 < args.seconds <= _LONGEST_WATCH_S:
        raise InstrumentError(f"--seconds is {args.seconds:g}: give a number above 0, at most a day")
    found = find_driver_for_environment()
    answer = _listing(found)
    if not args.watch:
        if found.driver:
            found.driver.close()
        _print_answer(answer, as_json=args.json)
        return 0
    if not args.json:
        _print_answer(answer, as_json=False)
    watch = _Watch(setup, SystemClock(), speaks=not args.json)
    _run_watch(watch, found, args)
    if args.json:
        print_json(answer | watch.answer())
    return 0


def _setup(args: argparse.Namespace) -> Setup:
    if args.keyboard:
        return KeyboardSetup()
    channels = channels_from(args.base_channel, low_string_first=args.low_string_first)
    return StringsSetup(channels=channels, tuning=tuning_named(args.tuning), frets=args.frets)


def _listing(found: FoundDriver) -> dict[str, Any]:
    """The ports as the `devices` command answers them: see content/schemas/devices.schema.json."""
    driver = found.driver
    names = driver.input_names() if driver else ()
    return {
        "api": driver.api if driver else None,
        "found": found.account,
        "ports": [
            {
                "port": name,
                "device": device_name(name, driver.api if driver else ""),
                "instrument": not is_loop(name),
            }
            for name in names
        ],
    }


def _print_answer(answer: dict[str, Any], *, as_json: bool) -> None:
    if as_json:
        print_json(answer)
        return
    print(answer["found"][:1].upper() + answer["found"][1:] + ".")
    for port in answer["ports"]:
        print(f"  {port['device']}" + ("" if port["instrument"] else " (passes on other programs; not opened)"))
    if answer["api"] and not answer["ports"]:
        print("No instrument is plugged in.")


def _run_watch(watch: "_Watch", found: FoundDriver, args: argparse.Namespace) -> None:
    inputs = MidiInputs(found, watch.clock.now_s, wanted=args.device)
    try:
        with _until_told_to_end() as told:
            inputs.watch()
            if not args.json:
                print("Play. Ctrl-C ends.", flush=True)
            watch.look_on(inputs, told, seconds=args.seconds)
    finally:
        inputs.close()


@contextmanager
def _until_told_to_end() -> Iterator[Event]:
    """An event that Ctrl-C and SIGTERM set, in place of what they do otherwise."""
    told = Event()
    signals = (signal.SIGINT, signal.SIGTERM)
    before = [signal.signal(number, lambda *_: told.set()) for number in signals]
    try:
        yield told
    finally:
        for number, handler in zip(signals, before, strict=True):
            signal.signal(number, handler)


class _Watch:
    """What was heard while watching."""

    def __init__(self, setup: Setup, clock: Clock, *, speaks: bool) -> None:
        self.clock = clock
        self._began_s = clock.now_s()
        self._speaks = speaks
        self._state = listening(setup)
        self._notes: deque[dict[str, Any]] = deque(maxlen=_MOST_KEPT)
        self._changes: deque[dict[str, Any]] = deque(maxlen=_MOST_KEPT)

    def answer(self) -> dict[str, Any]:
        """`notes` and `changes` of the answer in JSON."""
        return {"notes": list(self._notes), "changes": list(self._changes)}

    def look_on(self, inputs: MidiInputs, told: Event, *, seconds: float | None) -> None:
        """Hear what comes until `told` is set, or `seconds` are over."""
        while not told.wait(_LOOK_EVERY_S):
            self._look(inputs)
            if seconds is not None and self.clock.now_s() - self._began_s >= seconds:
                break
        self._look(inputs)

    def _look(self, inputs: MidiInputs) -> None:
        for change in inputs.changes():
            self._tell_change(change)
        for stamped in inputs.drain():
            self._state, events = hear(self._state, stamped)
            for event in events:
                if isinstance(event, NoteStarted):
                    self._tell_note(event)
        if self._speaks:
            sys.stdout.flush()

    def _time_ms(self, at_s: float) -> float:
        return round((at_s - self._began_s) * 1000, 1)

    def _tell_change(self, change: DeviceChange) -> None:
        word = _CHANGE_WORDS[type(change)]
        self._changes.append({"change": word, "device": change.name, "time_ms": self._time_ms(self.clock.now_s())})
        if self._speaks:
            reason = f" ({change.reason})" if isinstance(change, DeviceRefused) else ""
            print(f"{change.name} {word}{reason}")

    def _tell_note(self, event: NoteStarted) -> None:
        note = event.note
        row = {
            "time_ms": self._time_ms(note.started_s),
            "device": note.source,
            "channel": event.channel,
            "string": note.place.string if note.place else None,
            "fret": note.place.fret if note.place else None,
            "sounding": note.sounding,
            "velocity": note.velocity,
            "off_neck": event.off_neck.value if event.off_neck else None,
        }
        self._notes.append(row)
        if self._speaks:
            where = f"string {row['string']} fret {row['fret']:>2}" if note.place else row["off_neck"] or "pitch only"
            print(
                f"{self._time_ms(note.started_s) / 1000:9.3f} s  {where}  MIDI {note.sounding:3}"
                f"  channel {event.channel:2}  velocity {note.velocity:3}  {note.source}"
            )
