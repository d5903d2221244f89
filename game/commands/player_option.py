"""The word that says which player of this computer is meant."""

import argparse

from game.player.profiles import PLAYER_VARIABLE, Profile, chosen_player
from game.text.catalogue import say


def add_player_word(parser: argparse._ActionsContainer) -> None:
    """Add `--player` to a parser or a group of its words."""
    parser.add_argument(
        "--player",
        metavar=say("metavar.name"),
        help=say("command.option.player", variable=PLAYER_VARIABLE),
    )


def player_from(args: argparse.Namespace) -> Profile:
    """The player meant. Raises `PlayerError` for a name that nobody has."""
    return chosen_player(args.player)
