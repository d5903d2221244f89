"""`homefret devices`: the MIDI ports there are, and with --watch each note with its string and fret as it
comes.
"""

import argparse
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from typing import Any

from game.clock import SystemClock
from game.commands.answers import add_json_flag, print_json
from game.commands.watching import Watch
from game.errors import InstrumentError
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.device_names import device_name, is_loop
from game.instrument.decoding.hearing import KeyboardSetup, Setup
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.instrument.ports.find_driver import FoundDriver, find_driver_for_environment
from game.instrument.ports.midi_inputs import MidiInputs
from game.neck.tuning import DEFAULT_FRETS, STANDARD, tuning_named
from game.paths import user_settings
from game.player.settings import load

_LONGEST_WATCH_S = 24 * 3600.0


def add_parser(subparsers: Any) -> None:
    parser = subparsers.add_parser("devices", help="the MIDI ports there are, and what is played on them")
    parser.add_argument("--watch", action="store_true", help="each note with string and fret as it comes")
    parser.add_argument("--seconds", type=float, metavar="N", help="watch for N seconds (until Ctrl-C)")
    parser.add_argument("--device", metavar="NAME", help="any part of its name (whichever plays)")
    parser.add_argument("--keyboard", action="store_true", help="no strings: pitch only")
    parser.add_argument("--base-channel", type=int, metavar="C", help="channel of string 1 (as set up, or 1)")
    parser.add_argument("--low-string-first", action="store_true", help="the base channel is string 6")
    parser.add_argument("--tuning", metavar="T", help="a name, or six MIDI numbers (as set up)")
    parser.add_argument("--frets", type=int, metavar="N", help="frets on the neck (as set up)")
    parser.add_argument("--record", type=Path, metavar="TAKE.mid", help="keep what is played, for homefret take")
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """List the ports, or watch them until Ctrl-C, SIGTERM or the end of `--seconds`."""
    setup_for = _setup_for(args)
    if args.record is not None and not args.watch:
        raise InstrumentError("command.record_needs_watch_keeps")
    if args.seconds is not None and not 0 < args.seconds <= _LONGEST_WATCH_S:
        raise InstrumentError("command.seconds_give_number_above", seconds=args.seconds)
    found = find_driver_for_environment()
    answer = _listing(found)
    if not args.watch:
        if found.driver:
            found.driver.close()
        _print_answer(answer, as_json=args.json)
        return 0
    if not args.json:
        _print_answer(answer, as_json=False)
    watch = Watch(setup_for, SystemClock(), speaks=not args.json)
    _run_watch(watch, found, args)
    if args.record is not None:
        watch.record(args.record)
    if args.json:
        print_json(answer | watch.answer())
    return 0


def _setup_for(args: argparse.Namespace) -> Callable[[str], Setup]:
    """How devices report: as the words of the command say, else each as the player has set it up."""
    said = (args.base_channel, args.tuning, args.frets)
    if not (args.keyboard or args.low_string_first or any(word is not None for word in said)):
        return load(user_settings()).setup_for
    setup: Setup
    if args.keyboard:
        setup = KeyboardSetup()
    else:
        base_channel = 1 if args.base_channel is None else args.base_channel
        setup = StringsSetup(
            channels=channels_from(base_channel, low_string_first=args.low_string_first),
            tuning=STANDARD if args.tuning is None else tuning_named(args.tuning),
            frets=DEFAULT_FRETS if args.frets is None else args.frets,
            delay=Delay(),
        )
    return lambda _: setup


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


def _run_watch(watch: Watch, found: FoundDriver, args: argparse.Namespace) -> None:
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
