"""`homefret FILE` opens the game with a tune, a folder of tunes or an assignment."""

import pytest

from game.commands import play_command
from game.commands.files_to_open import files_to_open
from game.commands.main import main
from game.errors import TuneError
from tests.refusing import refusal


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("The Weir.abc", "map", "week.toml", "-odd.abc", "naïve – Ж.mid"):
        (tmp_path / name).write_text("X:1\n", encoding="utf-8")
    (tmp_path / "solos").mkdir()
    return tmp_path


@pytest.mark.parametrize("name", ["The Weir.abc", "week.toml", "solos", "./map", "./-odd.abc", "naïve – Ж.mid"])
def test_a_file_or_folder_is_opened_wherever_the_program_goes_afterwards(folder, name):
    assert files_to_open([name]) == (folder / name,)


def test_several_are_opened_in_their_order(folder):
    assert files_to_open(["solos", "The Weir.abc"]) == (folder / "solos", folder / "The Weir.abc")


@pytest.mark.parametrize("words", [[], ["map"], ["map", "--for", "The Weir.abc"], ["--version"], ["mpa"]])
def test_a_command_stays_one_also_where_a_file_has_its_name(folder, words):
    assert (folder / "map").exists()
    assert files_to_open(words) is None


@pytest.mark.parametrize("name", ["Weir.abc", "solos/none", "solos/none.xml"])
def test_a_file_that_is_not_there_is_named(folder, name):
    assert folder.exists()
    with refusal(TuneError, "there is no such file"):
        files_to_open([name])


def test_the_game_is_begun_with_it(folder, monkeypatch):
    monkeypatch.setattr(play_command, "run", len)
    assert main(["The Weir.abc", str(folder / "week.toml")]) == 2
    assert main(["The Weir.abc"]) == 1


def test_a_mistake_in_the_name_ends_with_one_line(capsys):
    assert main(["/nowhere/The Weir.abc"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("homefret: /nowhere/The Weir.abc: there is no such file")
    assert said.err.count("\n") == 1


def test_a_name_no_system_can_have_is_told_and_no_fault():
    with refusal(TuneError, "there is no such file"):
        files_to_open(["a\0b.abc"])
