"""`homefret devices`: the MIDI ports and audio inputs there are, and with --watch each note as it comes."""

import argparse
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from threading import Event
from typing import Any

import msgspec
from msgspec import UNSET

from game.clock import SystemClock
from game.commands.answers.devices_answer import DevicesAnswer, InputForSound, Port
from game.commands.number_option import number, whole_number
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json
from game.commands.watched_sound import SoundWatch, listen_by, sound_file, terms_for
from game.commands.watching import Watch
from game.errors import InstrumentError
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.device_names import device_name, is_loop
from game.instrument.decoding.instrument_state import KeyboardSetup, Setup
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.instrument.ports.find_driver import FoundDriver, find_driver_for_environment
from game.instrument.ports.midi_inputs import MidiInputs
from game.instrument.ports.sound_input import SOUND_ENDINGS
from game.instrument.ports.sound_process import sound_inputs
from game.instrument.ports.sound_wire import InputsFound
from game.message import from_plain, message
from game.neck.tuning import DEFAULT_FRETS, STANDARD, tuning_named
from game.paths import user_settings
from game.player.device_settings import MOST_SOUND_CHANNELS
from game.player.instrument_setup import setup_for
from game.player.settings_file import load
from game.text.catalogue import as_sentence, in_english, say, tell

_LONGEST_WATCH_S = 24 * 3600.0


def add_parser(subparsers: Any) -> None:
    """Add `devices` and its words to the program's commands."""
    parser = subparsers.add_parser("devices", help=say("command.devices.summary"))
    parser.add_argument("--watch", action="store_true", help=say("command.devices.watch"))
    parser.add_argument("--seconds", type=number, metavar="N", help=say("command.devices.seconds"))
    parser.add_argument("--device", metavar=say("metavar.name"), help=say("command.devices.device"))
    parser.add_argument("--input", metavar=say("metavar.name"), help=say("command.devices.input"))
    parser.add_argument("--input-channel", type=whole_number, metavar="C", help=say("command.devices.input_channel"))
    parser.add_argument("--keyboard", action="store_true", help=say("command.devices.keyboard"))
    parser.add_argument("--base-channel", type=whole_number, metavar="C", help=say("command.devices.base_channel"))
    parser.add_argument("--low-string-first", action="store_true", help=say("command.devices.low_string_first"))
    parser.add_argument("--tuning", metavar="T", help=say("command.devices.tuning"))
    parser.add_argument("--frets", type=whole_number, metavar="N", help=say("command.devices.frets"))
    parser.add_argument(
        "--record", type=path_given, metavar=say("metavar.take_file", ending=".mid"), help=say("command.devices.record")
    )
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """List the ports, or watch them until Ctrl-C, SIGTERM or the end of `--seconds`."""
    setup_for = _setup_for(args)
    _check(args)
    if args.input is not None:
        return _listen(args)
    found = find_driver_for_environment()
    inputs = None if args.watch else sound_inputs()
    answer = _listing(found, inputs)
    if not args.json:
        _print_for_people(found, answer, inputs)
    if not args.watch:
        if found.driver:
            found.driver.close()
        if args.json:
            print_json(answer)
        return 0
    watch = Watch(setup_for, SystemClock(), speaks=not args.json)
    _run_watch(watch, found, args)
    if args.record is not None:
        watch.record(args.record)
    if args.json:
        watched = watch.watched()
        print_json(
            msgspec.structs.replace(
                answer, notes=watched.notes, filtered=watched.filtered, dirt=watched.dirt, changes=watched.changes
            )
        )
    return 0


def _check(args: argparse.Namespace) -> None:
    """Raises `InstrumentError` for words that do not go together, or are out of range."""
    if args.record is not None and not args.watch:
        raise InstrumentError("command.devices.record_without_watch")
    if args.seconds is not None and not 0 < args.seconds <= _LONGEST_WATCH_S:
        raise InstrumentError("command.devices.seconds_out_of_range", seconds=args.seconds)
    if args.input is None and args.record is not None and args.record.suffix.lower() in SOUND_ENDINGS:
        raise InstrumentError("command.devices.record_without_input", path=args.record)
    if args.input_channel is not None and not 1 <= args.input_channel <= MOST_SOUND_CHANNELS:
        raise InstrumentError("command.devices.input_channel_out_of_range", channel=args.input_channel)
    if (args.input is None and args.input_channel is not None) or (args.input is not None and not args.watch):
        raise InstrumentError("command.devices.input_without_watch")


def _setup_for(args: argparse.Namespace) -> Callable[[str], Setup]:
    """How devices report: as the words of the command say, else each as the player has set it up."""
    said = (args.base_channel, args.tuning, args.frets)
    if not (args.keyboard or args.low_string_first or any(word is not None for word in said)):
        return partial(setup_for, load(user_settings()).without_faults())
    setup: Setup
    if args.keyboard:
        setup = KeyboardSetup()
    else:
        tuning = STANDARD if args.tuning is None else tuning_named(args.tuning)
        base_channel = 1 if args.base_channel is None else args.base_channel
        setup = StringsSetup(
            channels=channels_from(base_channel, low_string_first=args.low_string_first, strings=tuning.strings),
            tuning=tuning,
            frets=DEFAULT_FRETS if args.frets is None else args.frets,
            delay=Delay(),
        )
    return lambda _: setup


def _listen(args: argparse.Namespace) -> int:
    """Watch an audio input instead."""
    kept_in = "" if args.record is None else sound_file(args.record)
    inputs = sound_inputs()
    terms = terms_for(args.input, args.input_channel, inputs, load(user_settings()).without_faults())
    if not args.json:
        print(say("command.devices.listening", input=terms.name, channel=terms.channel))
        print(say("command.devices.play"), flush=True)
    watch = SoundWatch(SystemClock(), speaks=not args.json)
    with _until_told_to_end() as told:
        watch.listen(terms, told, seconds=args.seconds, kept_in=kept_in, by=listen_by)
    if args.json:
        watched = watch.watched()
        found = find_driver_for_environment()
        answer = _listing(found, inputs)
        if found.driver:
            found.driver.close()
        print_json(msgspec.structs.replace(answer, heard=watched.heard, changes=watched.changes))
    return 0


def _listing(found: FoundDriver, inputs: InputsFound | None) -> DevicesAnswer:
    """The ports and inputs as the `devices` command answers them; None for inputs that were not asked for."""
    driver = found.driver
    names = driver.input_names() if driver else ()
    return DevicesAnswer(
        api=driver.api if driver else None,
        found=in_english(found.account),
        ports=[
            Port(port=name, device=device_name(name, driver.api if driver else ""), instrument=not is_loop(name))
            for name in names
        ],
        inputs=UNSET
        if inputs is None
        else [InputForSound(name=one.name, channels=one.channels, rate=one.rate) for one in inputs.inputs],
    )


def _print_for_people(found: FoundDriver, answer: DevicesAnswer, inputs: InputsFound | None) -> None:
    print(as_sentence(tell(found.account)))
    for port in answer.ports:
        passes_on = "" if port.instrument else say("command.devices.passes_on")
        print(f"  {port.device} {passes_on}".rstrip())
    if answer.api and not answer.ports:
        print(say("command.devices.none_plugged_in"))
    if inputs is None:
        return
    if inputs.inputs:
        print(say("command.devices.inputs"))
    else:
        print(as_sentence(tell(message("sound_input.none") if inputs.reason is None else from_plain(inputs.reason))))
    for one in inputs.inputs:
        print(f"  {say('command.devices.input_row', input=one.name, channels=one.channels, rate=one.rate)}")


def _run_watch(watch: Watch, found: FoundDriver, args: argparse.Namespace) -> None:
    inputs = MidiInputs(found, watch.clock.now_s, wanted=args.device)
    try:
        with _until_told_to_end() as told:
            inputs.watch()
            if not args.json:
                print(say("command.devices.play"), flush=True)
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
