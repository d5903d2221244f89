"""Where things lie."""

from pathlib import Path

from game import paths


def test_what_is_shipped_lies_beside_the_package_in_a_checkout():
    tunes = paths.shipped("content", "tunes")
    assert tunes.is_dir()
    assert tunes.parent.parent == Path(paths.__file__).parents[1]


def test_installed_it_lies_inside_the_package(tmp_path, monkeypatch):
    (tmp_path / "game" / "content").mkdir(parents=True)
    monkeypatch.setattr(paths, "_PACKAGE", tmp_path / "game")
    assert paths.shipped("content") == tmp_path / "game" / "content"


def test_what_the_player_owns_lies_in_their_home_and_its_folder_is_made(own_home):
    assert paths.user_data().is_dir()
    assert own_home in paths.user_data().parents


def test_the_settings_may_not_be_there_yet(own_home):
    assert paths.user_settings().name == "settings.json"
    assert own_home in paths.user_settings().parents
    assert not paths.user_settings().exists()
