"""A command from its words to its exit status."""

import pytest

from game.commands import main as module
from game.commands import play_command
from game.commands.main import main
from game.player.profiles import players


def test_a_command_that_goes_well_ends_with_0(capsys):
    assert main(["players"]) == 0
    assert capsys.readouterr().out.startswith("name")


def test_a_mistake_of_the_users_ends_with_2_and_one_line(capsys):
    assert main(["map", "--frets", "3"]) == 2
    assert capsys.readouterr() == ("", "homefret: a neck has 4 to 30 frets, not 3\n")


def test_a_command_that_nobody_reads_ends_quietly(monkeypatch, capsys):
    def unread(_words):
        raise BrokenPipeError

    monkeypatch.setattr(module, "_done", unread)
    monkeypatch.setattr(module.sys.stderr, "close", lambda: None)
    assert main(["map"]) == 1
    assert capsys.readouterr() == ("", "")


def test_without_a_word_it_is_the_game(monkeypatch):
    monkeypatch.setattr(play_command, "run", lambda files: 7 + len(files))
    assert main([]) == 7


def test_the_version_is_told(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out.startswith("homefret 0.")


def test_a_command_for_a_player_speaks_that_players_language(monkeypatch, capsys):
    monkeypatch.delenv("HOMEFRET_LANGUAGE")
    monkeypatch.setenv("LC_ALL", "C")
    main(["players", "--add", "Fink"])
    (path,) = [player.settings_path for player in players() if player.name == "Fink"]
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text('{"language": "de"}', encoding="utf-8")
    capsys.readouterr()
    assert main(["log", "--player", "Fink"]) == 0
    assert capsys.readouterr().out.startswith("0 Durchgänge in ")
    assert main(["log"]) == 0
    assert capsys.readouterr().out.startswith("0 takes in ")
