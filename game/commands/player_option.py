"""The word that says which player of this computer is meant."""

import argparse

from game.player.profiles import PLAYER_VARIABLE, Player, chosen_player


def add_player_word(parser: argparse.ArgumentParser) -> None:
    """Add `--player`."""
    parser.add_argument(
        "--player",
        metavar="NAME",
        help=f"whose, where several play on this computer (${PLAYER_VARIABLE}, or the first)",
    )


def player_from(args: argparse.Namespace) -> Player:
    """The player meant. Raises `PlayerError` for a name that nobody has."""
    return chosen_player(args.player)
