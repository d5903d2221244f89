"""What was written of a class is found again, by its folder or its file, and by nobody else."""

from game.paths import user_data
from game.player.class_place import CLASSES
from game.player.written_pages import remember_page, remembered_pages, written_of


def test_pages_are_found_by_folder_and_by_file_however_these_are_named(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    remember_page(tmp_path / "class", tmp_path / "a.sqlite", tmp_path / "index.html")
    remember_page(tmp_path / "other", tmp_path / "b.sqlite")
    (one,) = written_of(tmp_path / "x" / ".." / "class")
    assert (one.page, one.place) == (str(tmp_path / "index.html"), str(tmp_path / "a.sqlite"))
    assert written_of(tmp_path / "a.sqlite") == (one,)
    assert [page.page for page in written_of(tmp_path / "other")] == [""]
    assert written_of(tmp_path) == ()


def test_each_is_remembered_once_and_its_file_is_the_owners_alone(tmp_path):
    for _ in range(2):
        remember_page(tmp_path / "class", tmp_path / "a.sqlite", tmp_path / "index.html")
    assert len(remembered_pages()) == 1
    (file,) = (user_data() / CLASSES).iterdir()
    assert file.stat().st_mode & 0o077 == 0


def test_a_file_that_makes_no_sense_remembers_nothing_and_is_written_anew(tmp_path):
    (user_data() / CLASSES).mkdir(parents=True)
    for text in ("{", '{"pages": [{"source": 1}]}', "[]"):
        (user_data() / CLASSES / "pages.json").write_text(text)
        assert remembered_pages() == ()
    remember_page(tmp_path, tmp_path / "a.sqlite")
    assert len(remembered_pages()) == 1
