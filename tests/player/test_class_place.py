"""Each folder of exports has its own gathered file, out of the way and for its owner alone."""

import os

from game.errors import LogError
from game.paths import user_data
from game.player.class_place import class_place
from tests.refusing import refusal


def test_a_folder_has_one_file_however_it_is_named(tmp_path, monkeypatch):
    folder = tmp_path / "monday"
    folder.mkdir()
    (tmp_path / "link").symlink_to(folder)
    monkeypatch.chdir(tmp_path)
    places = {class_place(named) for named in (folder, folder / ".." / "monday", tmp_path / "link")}
    places.add(class_place(folder.relative_to(tmp_path)))
    assert len(places) == 1
    assert class_place(tmp_path) not in places


def test_the_file_lies_with_what_is_the_programs_own_and_nobody_else_reads_it(tmp_path):
    place = class_place(tmp_path)
    assert place.parent == user_data() / "classes"
    assert place.suffix == ".sqlite"
    assert len(place.stem) == 16
    assert int(place.stem, 16) >= 0
    assert place.parent.stat().st_mode & 0o077 == 0
    assert not place.exists()


def test_a_name_that_is_no_utf_8_has_a_place_too(tmp_path):
    folder = tmp_path / os.fsdecode(b"caf\xe9")
    assert class_place(folder) != class_place(tmp_path / "caf")


def test_a_file_in_the_way_is_told_in_one_sentence(tmp_path):
    (user_data() / "classes").write_text("not a folder")
    with refusal(LogError, "classes"):
        class_place(tmp_path)
