"""`homefret gather` says what came of a folder, and reads only what changed the next time."""

import pytest

from game.player.class_place import class_place
from tests.commands.running import answer, homefret, refused
from tests.practice_log.classes.students import ADA, BEN, hand_in, student


@pytest.fixture
def folder(tmp_path):
    hand_in(student(ADA, 1), tmp_path / "class" / "ada.zip")
    (tmp_path / "class" / "broken.zip").write_bytes(b"PK no zip")
    return tmp_path / "class"


def test_what_came_is_told_and_the_second_time_only_what_is_new(folder):
    first = answer("gather", folder)
    assert (first["students"], first["changed"], first["read"]) == (1, 1, 1)
    assert first["takes"] > 0
    assert "broken.zip" in first["faults"][0]
    assert first["file"] == str(class_place(folder))
    hand_in(student(BEN, 2), folder / "ben.zip")
    second = answer("gather", folder)
    assert (second["students"], second["changed"], second["read"]) == (2, 1, 1)


def test_a_class_is_gathered_into_a_file_of_ones_own_and_told_in_words(folder, tmp_path):
    done = homefret("gather", folder, "--into", tmp_path / "mine.sqlite")
    assert (done.returncode, done.stderr) == (0, "")
    assert "Students: 1" in done.stdout
    assert "broken.zip" in done.stdout
    assert str(tmp_path / "mine.sqlite") in done.stdout
    assert (tmp_path / "mine.sqlite").stat().st_mode & 0o077 == 0


def test_for_how_many_months_a_class_is_kept_is_said_with_it(folder):
    assert any(
        "is not kept in the gathered class" in fault
        for fault in answer("gather", folder, "--keep-months", 12)["faults"]
    )
    assert "give 2 to 600 months" in refused("gather", folder, "--keep-months", 1)


def test_what_cannot_be_gathered_is_one_line(tmp_path, folder):
    assert "there is no folder" in refused("gather", tmp_path / "nowhere")
    (tmp_path / "diary.txt").write_text("dear diary", encoding="utf-8")
    assert "diary.txt" in refused("gather", folder, "--into", tmp_path / "diary.txt")
    assert (tmp_path / "diary.txt").read_text(encoding="utf-8") == "dear diary"
    (tmp_path / "empty").mkdir()
    assert "holds no export" in refused("gather", tmp_path / "empty")
