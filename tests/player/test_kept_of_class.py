"""For how many months a class is kept, and which list names it, is remembered for each, and for its teacher alone."""

from pathlib import Path

from game.paths import user_data
from game.player.class_place import CLASSES
from game.player.kept_of_class import keep_list, keep_months, kept_list, kept_months


def test_each_class_has_months_of_its_own_until_it_is_kept_for_ever(tmp_path):
    assert kept_months(tmp_path / "a.sqlite") is None
    keep_months(tmp_path / "a.sqlite", 12)
    keep_months(tmp_path / "b.sqlite", 6)
    keep_months(tmp_path / "x" / ".." / "a.sqlite", 24)
    assert (kept_months(tmp_path / "a.sqlite"), kept_months(tmp_path / "b.sqlite")) == (24, 6)
    keep_months(tmp_path / "b.sqlite", None)
    assert kept_months(tmp_path / "b.sqlite") is None
    (file,) = (user_data() / CLASSES).iterdir()
    assert file.stat().st_mode & 0o077 == 0


def test_each_class_has_a_list_of_its_own_which_says_nothing_of_its_months(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    keep_months(tmp_path / "a.sqlite", 12)
    keep_list(tmp_path / "a.sqlite", Path("3a\udcff.csv"))
    keep_list(tmp_path / "b.sqlite", tmp_path / "3b.csv")
    assert kept_list(tmp_path / "x" / ".." / "a.sqlite") == tmp_path / "3a\udcff.csv"
    keep_months(tmp_path / "a.sqlite", None)
    keep_list(tmp_path / "b.sqlite", None)
    assert (kept_list(tmp_path / "a.sqlite"), kept_list(tmp_path / "b.sqlite")) == (tmp_path / "3a\udcff.csv", None)


def test_a_file_that_makes_no_sense_keeps_all_for_ever(tmp_path):
    (user_data() / CLASSES).mkdir(parents=True)
    for text in ("{", '{"months": {"/a": -3}}', "[]"):
        (user_data() / CLASSES / "kept.json").write_text(text)
        assert (kept_months(tmp_path / "a.sqlite"), kept_list(tmp_path / "a.sqlite")) == (None, None)
