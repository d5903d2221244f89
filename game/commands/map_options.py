"""The words that settle a map on the command line, the same for every command that has one."""

import argparse

from game.music.score import Reading
from game.neck.neck_map import DEFAULT_POSITION, NeckMap, standard_map
from game.neck.tuning import DEFAULT_FRETS, tuning_named
from game.text.catalogue import say


def add_map_words(parser: argparse.ArgumentParser) -> None:
    """`--position --tuning --frets`."""
    parser.add_argument(
        "--position",
        type=int,
        default=DEFAULT_POSITION,
        metavar="P",
        help=say("command.option.position", default=DEFAULT_POSITION),
    )
    parser.add_argument("--tuning", default="standard", metavar="T", help=say("command.option.tuning"))
    parser.add_argument(
        "--frets",
        type=int,
        default=DEFAULT_FRETS,
        metavar="N",
        help=say("command.option.frets", default=DEFAULT_FRETS),
    )


def add_read_word(parser: argparse.ArgumentParser) -> None:
    """`--read`."""
    parser.add_argument("--read", choices=[reading.value for reading in Reading], help=say("command.option.read"))


def reading_from(args: argparse.Namespace) -> Reading | None:
    """What `--read` asked for, None when it was left open."""
    return Reading(args.read) if args.read else None


def map_from(args: argparse.Namespace, reading: Reading = Reading.GUITAR) -> NeckMap:
    """The map the words ask for. Raises `MapError`."""
    return standard_map(position=args.position, tuning=tuning_named(args.tuning), frets=args.frets, reading=reading)
