"""`homefret players` tells who plays on this computer."""

import json

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
