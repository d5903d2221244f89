"""`homefret erase` removes a player for good, and not before that was settled."""

import io
import json
import sys

import pytest

from game.commands.main import main
from game.paths import user_data
from game.player.profiles import add_player, players


@pytest.fixture(autouse=True)
def grace():
    add_player("Grace")
    return players()[1]


class Terminal(io.StringIO):
    """A person at a keyboard."""

    def isatty(self):
        return True


def at_a_terminal(monkeypatch, typed):
    monkeypatch.setattr(sys, "stdin", Terminal(typed))
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)


def test_with_yes_it_is_done_without_a_question_and_told(grace, capsys):
    file = str(grace.folder / "player.json")
    assert main(["erase", "--player", "grace", "--yes", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["player"], answer["files"], len(answer["ids"])) == ("Grace", [file], 1)
    assert len(players()) == 1
    assert len(list(user_data().glob("erased-*.json"))) == 1


def test_where_nobody_can_be_asked_nothing_is_done(capsys):
    assert main(["erase", "--player", "Grace"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == "homefret: nothing was erased: say --yes to remove 1 file of Grace for good\n"
    assert len(players()) == 2


@pytest.mark.parametrize(("typed", "left"), [("y\n", 1), (" YES \n", 1), ("n\n", 2), ("\n", 2), ("", 2)])
def test_at_a_terminal_every_file_is_told_and_the_answer_counts(grace, monkeypatch, capsys, typed, left):
    at_a_terminal(monkeypatch, typed)
    assert main(["erase", "--player", "Grace"]) == 0
    told = capsys.readouterr().out
    assert f"1 file of Grace:\n  {grace.folder / 'player.json'}\n" in told
    assert ("nothing was erased" in told) == (left == 2)
    assert len(players()) == left


def test_in_german_it_is_answered_in_german(monkeypatch, capsys):
    monkeypatch.setenv("HOMEFRET_LANGUAGE", "de")
    at_a_terminal(monkeypatch, "ja\n")
    assert main(["erase", "--player", "Grace"]) == 0
    assert "1 Datei von Grace wurde entfernt" in capsys.readouterr().out


def test_a_question_cannot_be_answered_where_json_is_wanted(monkeypatch):
    at_a_terminal(monkeypatch, "y\n")
    assert main(["erase", "--player", "Grace", "--json"]) == 2
    assert len(players()) == 2


def test_somebody_must_be_named(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["erase", "--yes"])
    assert ended.value.code == 2
    assert "--player" in capsys.readouterr().err
    assert main(["erase", "--player", "Alan", "--yes"]) == 2
    assert "there is no player 'Alan' here (there is: Grace)" in capsys.readouterr().err
