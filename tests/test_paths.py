"""Where things lie."""

import errno
import os
from pathlib import Path

import pytest

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


def test_a_file_is_written_whole_and_nothing_lies_beside_it(tmp_path):
    path = tmp_path / "map.toml"
    for content in (b"one", b"another"):
        paths.write_whole_file(path, content)
        assert path.read_bytes() == content
    assert list(tmp_path.iterdir()) == [path]


def test_where_it_cannot_be_finished_what_was_there_stays(tmp_path, monkeypatch):
    path = tmp_path / "map.toml"
    path.write_bytes(b"before")

    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        paths.write_whole_file(path, b"after")
    assert path.read_bytes() == b"before"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="only some systems have pipes among files")
def test_a_link_leads_on_and_a_pipe_stays_one(tmp_path):
    path, link, pipe = tmp_path / "map.toml", tmp_path / "link.toml", tmp_path / "pipe.toml"
    path.write_bytes(b"before")
    link.symlink_to(path)
    paths.write_whole_file(link, b"after")
    assert path.read_bytes() == b"after"
    assert link.is_symlink()
    os.mkfifo(pipe)
    with os.fdopen(os.open(pipe, os.O_RDWR), "r+b", buffering=0) as reader:
        paths.write_whole_file(pipe, b"through")
        assert reader.read(7) == b"through"
    assert pipe.is_fifo()


def test_links_that_lead_to_each_other_and_folders_are_told_as_systems_tell(tmp_path):
    one, other = tmp_path / "one.toml", tmp_path / "other.toml"
    one.symlink_to(other)
    other.symlink_to(one)
    with pytest.raises(OSError, match=os.strerror(errno.ELOOP)):
        paths.write_whole_file(one, b"x")
    with pytest.raises(IsADirectoryError):
        paths.write_whole_file(tmp_path, b"x")
    assert set(tmp_path.iterdir()) == {one, other}


def test_a_path_without_links_is_whole_and_one_that_leads_round_in_a_circle_stays_in_it(tmp_path):
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to("folder")
    (tmp_path / "round").symlink_to("round")
    assert paths.without_links(tmp_path / "link" / "gone") == tmp_path.resolve() / "folder" / "gone"
    assert paths.without_links(tmp_path / "round") == tmp_path.resolve() / "round"


def test_the_root_is_a_folder_as_any_other():
    with pytest.raises(IsADirectoryError):
        paths.write_whole_file(Path("/"), b"x")


def test_a_file_is_found_by_a_name_that_other_systems_take_for_the_same(tmp_path):
    other = tmp_path / "WALZER A\N{COMBINING DIAERESIS}.abc"
    other.touch()
    assert paths.file_called(tmp_path, "Walzer ä.abc") == other
    (tmp_path / "Walzer ä.abc").touch()
    assert paths.file_called(tmp_path, "Walzer ä.abc").name == "Walzer ä.abc"
    for folder, name in ((tmp_path, "gone.abc"), (tmp_path / "gone", "gone.abc"), (tmp_path, "g\0.abc")):
        assert paths.file_called(folder, name) == folder / name
