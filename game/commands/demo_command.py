"""`homefret demo`: a simulated player practises over some days, in the real window or without one.

It leaves pictures of the pages, the tempo curve and the practice log, written as it goes.
"""

import argparse
import os
import tempfile
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

from game.commands.answers.demo_answer import DemoAnswer, TakeOfADemo
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json, print_table
from game.errors import TakeError, reason_of
from game.text.catalogue import all_in_english, in_figures, say, tell_all

if TYPE_CHECKING:
    from game.demo.demonstration import Demonstration, DemoTake

DEFAULT_SEED = 7
MOST_DAYS = 366


def add_parser(subparsers: Any) -> None:
    """Add `demo` and its words to the program's commands."""
    parser = subparsers.add_parser("demo", help=say("command.demo.summary"))
    seed = DEFAULT_SEED
    parser.add_argument(
        "--seed", type=whole_number, default=seed, metavar="N", help=say("command.demo.seed", default=seed)
    )
    parser.add_argument("--out", type=path_given, metavar=say("metavar.folder_short"), help=say("command.demo.out"))
    parser.add_argument("--fast", action="store_true", help=say("command.demo.fast"))
    parser.add_argument("--days", type=whole_number, metavar="N", help=say("command.demo.days", most=MOST_DAYS))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Play the demo and tell its takes; raises `TakeError` for what the user can mend."""
    if args.days is not None and not 1 <= args.days <= MOST_DAYS:
        raise TakeError("command.demo.days_out_of_range", days=args.days, most_days=MOST_DAYS)
    played = play(seed=args.seed, out=args.out, fast=args.fast, days=args.days)
    if args.json:
        print_json(demo_answer(played, args.seed))
    else:
        _print_for_people(played)
    return 0


def run_fast() -> int:
    """The demo as a plain `homefret` runs it where there is no screen."""
    _print_for_people(play(seed=DEFAULT_SEED, out=None, fast=True))
    return 0


def play(*, seed: int, out: Path | None, fast: bool, days: int | None = None) -> "Demonstration":
    """Play the demo to its end. `days`, 1 to 366, is how long it lasts; None until the passage is signed off.

    Never touches the player's own folders. Raises `TakeError` when `out` cannot be written.
    """
    folder = _folder(out)
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
    if fast:
        os.environ["SDL_VIDEODRIVER"] = "dummy"
    from game.demo.demonstration import Demonstration  # noqa: PLC0415 - the environment must be settled before

    demonstration = Demonstration(folder, Random(seed), fast=fast, days=days)
    demonstration.play()
    return demonstration


def demo_answer(played: "Demonstration", seed: int) -> DemoAnswer:
    """What was played, as the `demo` command answers it."""
    return DemoAnswer(
        seed=seed,
        takes=[_told(take) for take in played.takes],
        signed_off_tempo=played.signed_off_bpm,
        files=[str(path) for path in played.files],
    )


def _told(take: "DemoTake") -> TakeOfADemo:
    return TakeOfADemo(
        day=take.day,
        tune=take.tune,
        stage=take.stage,
        tempo=take.tempo_bpm,
        notes=take.notes,
        clean=take.clean,
        reason=all_in_english(take.reason),
    )


def _folder(out: Path | None) -> Path:
    if out is None:
        return Path(tempfile.mkdtemp(prefix="homefret-demo-"))
    try:
        out.mkdir(parents=True, exist_ok=True)
        (out / ".writable").touch()
        (out / ".writable").unlink()
    except OSError as error:
        reason = reason_of(error)
        raise TakeError("command.demo.folder_not_writable", out=out, reason=reason) from error
    return out


def _print_for_people(played: "Demonstration") -> None:
    print_table(("day", "stage", "tempo", "notes", "clean", "reason"), _rows(played.takes))
    for file in played.files:
        print(file)


def _rows(takes: Sequence["DemoTake"]) -> list[tuple[object, ...]]:
    return [
        (
            take.day,
            say(f"stage.{take.stage.value}"),
            None if take.tempo_bpm is None else in_figures(take.tempo_bpm),
            take.notes,
            take.clean,
            tell_all(take.reason),
        )
        for take in takes
    ]
