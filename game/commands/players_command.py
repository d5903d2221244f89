"""`homefret players`: who plays on this computer."""

import argparse
from typing import Any

from game.commands.answers.players_answer import ListedPlayer, PlayersAnswer
from game.commands.printing import add_json_flag, print_json, print_table
from game.player.profiles import add_player, players
from game.text.catalogue import say


def add_parser(subparsers: Any) -> None:
    """Add `players` and its words to the program's commands."""
    parser = subparsers.add_parser("players", help=say("command.players.summary"))
    parser.add_argument("--add", metavar=say("metavar.name"), help=say("command.players.add"))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Add a player where asked to, and list them all; raises `PlayerError`."""
    if args.add is not None:
        add_player(args.add)
    answer = players_answer()
    if args.json:
        print_json(answer)
    else:
        first = say("command.players.first")
        print_table(("name", "folder"), ((player.name or first, player.folder) for player in answer.players))
    return 0


def players_answer() -> PlayersAnswer:
    """All players. Raises `PlayerError`."""
    return PlayersAnswer(
        players=[
            ListedPlayer(name=player.name, folder=str(player.folder), settings=str(player.settings_path))
            for player in players()
        ]
    )
