"""The names of the commands are those that have a parser."""

from importlib.util import find_spec

from game.commands.command_names import COMMANDS


def test_every_command_has_its_file():
    assert all(find_spec(f"game.commands.{name}_command") for name in COMMANDS)
