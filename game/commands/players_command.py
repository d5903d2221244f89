"""`homefret players`: who plays on this computer."""

import argparse
from typing import Any

from game.commands.answers.players_answer import ListedPlayer, PlayersAnswer
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json, print_table
from game.player.profiles import Profile, add_player, players
from game.player.renaming import rename_player
from game.practice_log.database.identity import PLAYER_FILE, Identity, read_identity
from game.text.catalogue import say


def add_parser(subparsers: Any) -> None:
    """Add `players` and its words to the program's commands."""
    parser = subparsers.add_parser("players", help=say("command.players.summary"))
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--add", metavar=say("metavar.name"), help=say("command.players.add"))
    what.add_argument("--rename", metavar=say("metavar.name"), help=say("command.players.rename"))
    add_player_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Add or rename a player where asked to, and list them all; raises `HomefretError`."""
    if args.add is not None:
        add_player(args.add)
    if args.rename is not None:
        rename_player(player_from(args), args.rename)
    answer = players_answer()
    if args.json:
        print_json(answer)
    else:
        first = say("command.players.first")
        print_table(("name", "folder"), ((player.name or first, player.folder) for player in answer.players))
    return 0


def players_answer() -> PlayersAnswer:
    """All players. Raises `PlayerError`."""
    return PlayersAnswer(players=[_listed(player) for player in players()])


def _listed(player: Profile) -> ListedPlayer:
    kept = read_identity(player.folder / PLAYER_FILE, Identity)
    return ListedPlayer(
        id=None if kept is None else str(kept.uuid),
        name=player.name,
        folder=str(player.folder),
        settings=str(player.settings_path),
    )
