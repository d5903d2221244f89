"""The parser of all commands."""

import pytest

from game.commands.parser import COMMANDS, command_parser
from tests.speaking import speaking


def test_only_the_command_that_is_named_is_loaded_and_all_where_none_is(capsys):
    for words, there in ((["map", "--json"], ("map",)), ([], COMMANDS), (["--help"], COMMANDS)):
        with pytest.raises(SystemExit):
            command_parser(words).parse_args(["--help"])
        told = capsys.readouterr().out
        assert [name for name in COMMANDS if f"\n    {name} " in told] == list(there)


def test_a_mistake_is_told_in_one_line_with_where_to_look(capsys):
    with pytest.raises(SystemExit) as ended:
        command_parser(["log"]).parse_args(["log", "--colour"])
    assert ended.value.code == 2
    assert capsys.readouterr().err == "homefret: unrecognized arguments: --colour; see 'homefret --help'\n"


def test_the_parser_itself_says_nothing_that_is_not_in_the_catalogue():
    with speaking("pseudo"):
        told = command_parser(["log"]).format_help()
    assert "«Learn to read music on the guitar" in told
    assert "«COMMAND»" in told
