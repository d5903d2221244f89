"""Each player has a folder and settings of their own; who plays is found by name, and by who was chosen last."""

import json
from uuid import UUID

import pytest

from game.player.players_file import PlayerError
from game.player.profiles import add_player, chosen_player, first_player, player_at_start, players, remember_chosen
from game.practice_log.database.identity import Identity, read_identity, write_identity
from game.text.catalogue import tell
from tests.refusing import refusal


def table_path():
    return first_player().folder / "players.json"


def trouble():
    told = player_at_start().trouble
    return told and tell(told.message)


def test_the_first_player_is_always_there():
    assert players() == (first_player(),)
    assert chosen_player() == chosen_player("") == first_player()
    assert player_at_start().player == first_player()


def test_a_player_who_is_added_has_a_folder_by_an_id():
    added = add_player("  Grace\u202e ", new_uuid=lambda: UUID(int=5))
    assert (added.name, added.folder.name) == ("Grace", UUID(int=5).hex)
    assert added.settings_path == first_player().settings_path.parent / "players" / UUID(int=5).hex / "settings.json"
    assert read_identity(added.folder / "player.json", Identity).name == "Grace"
    assert players() == (first_player(), added)


@pytest.mark.parametrize(("name", "reason"), [(" \u202e", "needs a name"), ("GRACE", "'GRACE' already")])
def test_a_name_that_cannot_be_read_or_is_taken_is_refused(name, reason):
    add_player("Grace")
    with refusal(PlayerError, reason):
        add_player(name)
    assert len(players()) == 2


def test_the_first_player_may_have_a_name_and_is_found_by_it():
    assert first_player().name == ""
    write_identity(first_player().folder / "player.json", Identity(uuid=UUID(int=1), name="Ada"))
    assert chosen_player("ada") == first_player() == chosen_player()
    assert players()[0].name == "Ada"
    with refusal(PlayerError, "'ADA' already"):
        add_player("ADA")


def test_capitals_and_spaces_around_a_name_do_not_matter(monkeypatch):
    grace = add_player("Grace")
    assert chosen_player(" gRACE ") == grace
    monkeypatch.setenv("HOMEFRET_PLAYER", "grace")
    assert chosen_player() == player_at_start().player == grace


def test_where_only_the_first_plays_nobody_can_be_named():
    with refusal(PlayerError, r"there is: nobody yet"):
        chosen_player("Alan")


def test_a_name_that_nobody_has_is_refused_and_at_the_start_the_first_plays(monkeypatch):
    add_player("Grace")
    with refusal(PlayerError, r"no player 'Alan' here \(there is: Grace\)"):
        chosen_player("Alan")
    monkeypatch.setenv("HOMEFRET_PLAYER", "Alan")
    assert player_at_start().player == first_player()
    assert "no player 'Alan' here" in trouble()


def test_who_was_chosen_last_plays_at_the_next_start():
    grace = add_player("Grace")
    remember_chosen(grace)
    assert (player_at_start().player, trouble()) == (grace, None)
    remember_chosen(first_player())
    assert player_at_start().player == first_player()


def test_with_a_fault_in_the_table_who_was_chosen_last_still_plays_and_the_fault_is_told():
    grace = add_player("Grace")
    remember_chosen(grace)
    table = json.loads(table_path().read_text(encoding="utf-8"))
    table["players"].append({"folder": "../elsewhere", "name": "Dohle"})
    table_path().write_text(json.dumps(table), encoding="utf-8")
    assert player_at_start().player == grace
    assert '"../elsewhere"' in trouble()


def test_a_name_is_found_in_a_table_with_faults_at_the_start(monkeypatch):
    grace = add_player("Grace")
    table = json.loads(table_path().read_text(encoding="utf-8"))
    table_path().write_text(json.dumps(table | {"last": 5}), encoding="utf-8")
    monkeypatch.setenv("HOMEFRET_PLAYER", "grace")
    assert player_at_start().player == grace
    assert "last is" in trouble()


def test_a_table_that_cannot_be_read_at_all_leaves_the_first_player_and_is_told():
    table_path().write_text("[1, 2")
    assert player_at_start().player == first_player()
    assert "no JSON" in trouble()


def test_a_table_with_faults_is_not_written_over():
    grace = add_player("Grace")
    broken = table_path().read_text(encoding="utf-8").replace(grace.folder.name, "../elsewhere")
    table_path().write_text(broken, encoding="utf-8")
    for write in (lambda: add_player("Alan"), lambda: remember_chosen(grace), players, lambda: chosen_player("Grace")):
        with refusal(PlayerError, "makes no sense"):
            write()
    assert table_path().read_text(encoding="utf-8") == broken
    assert [folder.name for folder in (first_player().folder / "players").iterdir()] == [grace.folder.name]


def test_what_cannot_be_written_is_told_with_the_folder():
    (first_player().folder / "players").write_text("in the way")
    with refusal(PlayerError, "cannot be added in .*: free it"):
        add_player("Grace")


def test_a_choice_that_cannot_be_kept_is_told(monkeypatch):
    grace = add_player("Grace")

    def full(_table):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.player.profiles.write_players", full)
    with refusal(PlayerError, "who plays cannot be kept in .* .No space left on device"):
        remember_chosen(grace)


def test_a_player_has_their_log_in_their_own_folder():
    """Whatever was practised before other players came stays that of the first."""
    player = add_player("Grace")
    assert first_player().log_path.parent == first_player().folder
    assert player.log_path == player.folder / "practice.sqlite"
