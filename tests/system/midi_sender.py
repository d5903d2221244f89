"""Plays into a JACK MIDI port as a program of its own: `python tests/system/midi_sender.py --to Homefret`.

On standard input come lines of JSON: {"in_time": true, "sent": [[at_s, [byte, ...]], ...]} is played, seconds counted
from when the line was read. Where it comes late to one, the next is played in time; with `in_time` false all after it
are moved along, so that no two ever come nearer to each other than was asked. On standard output go lines: `ready PORT`
once it is connected, and after each list a JSON list of when each message was handed over, in monotonic seconds
(`time.perf_counter`, one clock for all programs of a computer on Linux). It ends at the end of its input or on SIGTERM,
and leaves the server in order.
"""

import argparse
import json
import signal
import sys
import time

import rtmidi

_LOOK_EVERY_S = 0.02


def main() -> int:
    args = _arguments()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    midi_out = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, args.name)
    try:
        if args.offer:
            midi_out.open_virtual_port("guitar")
            _say("ready its own port")
        elif not _connect(midi_out, args.to, args.patience_s):
            print(f"no port called {args.to} came within {args.patience_s:g} s", file=sys.stderr)
            return 1
        for line in sys.stdin:
            asked = json.loads(line)
            _say(json.dumps(_play(midi_out, asked["sent"], in_time=asked["in_time"])))
    finally:
        midi_out.close_port()
        midi_out.delete()
    return 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--to", default="Homefret", help="part of the name of the port to connect to")
    parser.add_argument("--offer", action="store_true", help="offer a port, as a device does, and connect to none")
    parser.add_argument("--name", default="pickup", help="the name it has itself")
    parser.add_argument("--patience-s", type=float, default=120.0)
    return parser.parse_args()


def _connect(midi_out: rtmidi.MidiOut, wanted: str, patience_s: float) -> bool:
    deadline = time.monotonic() + patience_s
    while time.monotonic() < deadline:
        for number, name in enumerate(midi_out.get_ports()):
            if wanted in name:
                midi_out.open_port(number, "guitar")
                _say(f"ready {name}")
                return True
        time.sleep(_LOOK_EVERY_S)
    return False


def _play(midi_out: rtmidi.MidiOut, sent: list[tuple[float, list[int]]], *, in_time: bool) -> list[float]:
    began_s = time.perf_counter()
    handed_over_s = []
    for at_s, message in sent:
        due_s = began_s + at_s
        time.sleep(max(0.0, due_s - time.perf_counter()))
        handed_over_s.append(time.perf_counter())
        midi_out.send_message(message)
        if not in_time:
            began_s += handed_over_s[-1] - due_s
    return handed_over_s


def _say(line: str) -> None:
    print(line, flush=True)


if __name__ == "__main__":
    sys.exit(main())
