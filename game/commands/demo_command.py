"""`homefret demo`: a simulated player practises over some days, in the real window or without one.

It leaves pictures of the pages, the tempo curve and the practice log, written as it goes.
"""

import argparse
import os
import tempfile
from pathlib import Path
from random import Random
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.errors import TakeError

DEFAULT_SEED = 7
MOST_DAYS = 366


def add_parser(subparsers: Any) -> None:
    parser = subparsers.add_parser("demo", help="a simulated player goes through practice; pictures of it are kept")
    parser.add_argument(
        "--seed", type=int, default=DEFAULT_SEED, metavar="N", help=f"for repeating it ({DEFAULT_SEED})"
    )
    parser.add_argument("--out", type=Path, metavar="DIR", help="where pictures go (a new temporary folder)")
    parser.add_argument("--fast", action="store_true", help="do not wait for the simulated player")
    parser.add_argument(
        "--days",
        type=int,
        metavar="N",
        help=f"practise so many days, 1 to {MOST_DAYS}, with a new tune each day (until the passage is signed off)",
    )
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    if args.days is not None and not 1 <= args.days <= MOST_DAYS:
        raise TakeError("command.demo_last_days_choose", days=args.days, most_days=MOST_DAYS)
    answer = play(seed=args.seed, out=args.out, fast=args.fast, days=args.days)
    if args.json:
        print_json(answer)
    else:
        _print_for_people(answer)
    return 0


def run_fast() -> int:
    """The demo as a plain `homefret` runs it where there is no screen."""
    _print_for_people(play(seed=DEFAULT_SEED, out=None, fast=True))
    return 0


def play(*, seed: int, out: Path | None, fast: bool, days: int | None = None) -> dict[str, Any]:
    """Play the demo and answer as the command does: `takes`, `signed_off_tempo`, `files`.

    `days`, 1 to 366, is how long it lasts; None until the passage is signed off.
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
    return {
        "seed": seed,
        "takes": [take.told() for take in demonstration.takes],
        "signed_off_tempo": demonstration.signed_off_bpm,
        "files": [str(path) for path in demonstration.files],
    }


def _folder(out: Path | None) -> Path:
    if out is None:
        return Path(tempfile.mkdtemp(prefix="homefret-demo-"))
    try:
        out.mkdir(parents=True, exist_ok=True)
        (out / ".writable").touch()
        (out / ".writable").unlink()
    except OSError as error:
        reason = error.strerror or error
        raise TakeError("command.demo_write_into_name", out=out, reason=reason) from error
    return out


def _print_for_people(answer: dict[str, Any]) -> None:
    columns = ("day", "stage", "tempo", "notes", "clean", "reason")
    print_table(columns, ([take[column] for column in columns] for take in answer["takes"]))
    for file in answer["files"]:
        print(file)
