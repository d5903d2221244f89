"""The words that settle a map on the command line, the same for every command that has one."""

import argparse

from game.commands.number_option import whole_number
from game.errors import MapError
from game.message import Message
from game.music.score import Reading
from game.neck.neck_map import DEFAULT_POSITION, NeckMap, standard_map
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Tuning, tuning_named
from game.text.catalogue import say


def add_map_words(parser: argparse.ArgumentParser) -> None:
    """`--position --tuning --frets`; None for those that are left out."""
    parser.add_argument(
        "--position", type=whole_number, metavar="P", help=say("command.option.position", default=DEFAULT_POSITION)
    )
    parser.add_argument("--tuning", metavar="T", help=say("command.option.tuning"))
    parser.add_argument(
        "--frets", type=whole_number, metavar="N", help=say("command.option.frets", default=DEFAULT_FRETS)
    )


def add_read_word(parser: argparse.ArgumentParser) -> None:
    """`--read`."""
    parser.add_argument("--read", choices=[reading.value for reading in Reading], help=say("command.option.read"))


def reading_from(args: argparse.Namespace) -> Reading | None:
    """What `--read` asked for, None when it was left open."""
    return Reading(args.read) if args.read else None


def map_from(args: argparse.Namespace, reading: Reading = Reading.GUITAR) -> NeckMap:
    """The map the words ask for. Raises `MapError` with all their faults."""
    tuning, faults = tuning_from(args.tuning)
    try:
        neck_map = standard_map(
            position=DEFAULT_POSITION if args.position is None else args.position,
            tuning=tuning,
            frets=DEFAULT_FRETS if args.frets is None else args.frets,
            reading=reading,
        )
    except MapError as error:
        faults.append(error.message)
    if faults:
        raise MapError("faults", faults=faults)
    return neck_map


def tuning_from(name: str | None) -> tuple[Tuning, list[Message]]:
    """The tuning of this name, the standard one for none; and what is wrong with it, where something is."""
    try:
        return tuning_named(STANDARD.name if name is None else name), []
    except MapError as error:
        return STANDARD, [error.message]
