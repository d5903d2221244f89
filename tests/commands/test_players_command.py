"""`homefret players` tells who plays on this computer."""

import json

import pytest

from game.commands.main import main
from game.commands.players_command import players_answer
from game.paths import user_data


def test_on_a_computer_of_one_there_is_the_first_who_has_no_name(capsys):
    assert main(["players"]) == 0
    heading, row = capsys.readouterr().out.splitlines()
    assert heading.split() == ["name", "folder"]
    assert row == f"(the first)  {user_data()}"


def test_a_player_is_added_with_a_folder_of_their_own(capsys):
    assert main(["players", "--add", "Möwe", "--json"]) == 0
    first, added = json.loads(capsys.readouterr().out)["players"]
    assert (first["name"], added["name"]) == ("", "Möwe")
    assert added["folder"].startswith(str(user_data()))
    assert added["settings"] != first["settings"]
    assert [player.name for player in players_answer().players] == ["", "Möwe"]


def test_a_name_that_is_taken_is_refused(capsys):
    main(["players", "--add", "Möwe"])
    capsys.readouterr()
    assert main(["players", "--add", "MÖWE"]) == 2
    assert "there is a player 'MÖWE' already" in capsys.readouterr().err


def test_the_first_player_is_given_a_name(capsys):
    assert main(["players", "--rename", "Ada", "--json"]) == 0
    (first,) = json.loads(capsys.readouterr().out)["players"]
    assert first["name"] == "Ada"
    assert json.loads((user_data() / "player.json").read_text())["uuid"] == first["id"]


def test_another_player_is_renamed_by_the_name_they_had(capsys):
    main(["players", "--add", "Möwe"])
    assert main(["players", "--rename", "Lachmöwe", "--player", "möwe"]) == 0
    assert "Lachmöwe" in capsys.readouterr().out
    assert [player.name for player in players_answer().players] == ["", "Lachmöwe"]


def test_a_player_who_is_added_is_not_renamed_at_once(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["players", "--add", "Möwe", "--rename", "Ada"])
    assert ended.value.code == 2
    assert "--rename" in capsys.readouterr().err
