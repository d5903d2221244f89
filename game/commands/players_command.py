"""`homefret players`: who plays on this computer."""

import argparse
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.player.profiles import Player, add_player, players


def add_parser(subparsers: Any) -> None:
    """Add `players` and its words to the program's commands."""
    parser = subparsers.add_parser("players", help="who plays on this computer, each with their own log and settings")
    parser.add_argument("--add", metavar="NAME", help="one more player")
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Add a player where asked to, and list them all; raises `PlayerError`."""
    if args.add is not None:
        add_player(args.add)
    listed = [_told(player) for player in players()]
    if args.json:
        print_json({"players": listed})
    else:
        print_table(("name", "folder"), ((player["name"] or "(the first)", player["folder"]) for player in listed))
    return 0


def _told(player: Player) -> dict[str, Any]:
    return {"name": player.name, "folder": str(player.folder), "settings": str(player.settings_path)}
