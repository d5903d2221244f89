"""`homefret add`: files, folders and books into the library, from the command line."""

import os
from pathlib import Path

from game.paths import shipped
from game.tunes.library.library import library_folder
from tests.commands.running import answer, homefret, refused

TUNES = shipped("content", "tunes")
ABC = "X:1\nT:Ford\nC:Trad.\nM:3/4\nL:1/4\nK:F\nFGA|B2A|\n"


def test_a_file_is_added_and_told_with_its_difficulty(tmp_path):
    """The same twice is one tune."""
    path = tmp_path / "ford.abc"
    path.write_text(ABC)
    (entry,) = answer("add", path)["added"]
    assert (entry["title"], entry["key"], entry["meter"], entry["bars"], entry["notes"]) == ("Ford", "F", "3/4", 2, 5)
    assert (entry["lowest"], entry["highest"], entry["off_map"]) == (53, 58, 0)
    assert 0 < entry["difficulty"] < 3
    assert answer("add", path)["added"][0]["name"] == entry["name"]


def test_a_folder_is_added_easiest_first_and_what_is_broken_is_listed(tmp_path):
    """Three kinds of good files, one bad."""
    for name in ("09-study-sidelong.musicxml", "01-au-clair-de-la-lune.musicxml"):
        (tmp_path / name).write_bytes((TUNES / name).read_bytes())
    (tmp_path / "book.abc").write_text(f"{ABC}\n{ABC.replace('Ford', 'Mill')}")
    (tmp_path / "bad.xml").write_text("<score-partwise>")
    told = answer("add", tmp_path)
    difficulties = [entry["difficulty"] for entry in told["added"]]
    assert difficulties == sorted(difficulties)
    assert {entry["title"] for entry in told["added"]} >= {"Ford", "Mill", "Au clair de la lune"}
    (bad,) = told["refused"]
    assert bad["file"] == "bad.xml"
    assert "is broken XML" in bad["why"]


def test_people_are_told_what_to_read_next(tmp_path):
    """One line a tune, the easiest first."""
    for name in ("09-study-sidelong.musicxml", "01-au-clair-de-la-lune.musicxml"):
        (tmp_path / name).write_bytes((TUNES / name).read_bytes())
    done = homefret("add", tmp_path)
    lines = done.stdout.splitlines()
    assert lines[0] == "2 on the shelf, what to read next first:"
    assert lines[1].startswith("  Au clair de la lune: C, 8 bars, difficulty 1.")
    assert (done.returncode, done.stderr) == (0, "")


def test_nothing_to_add_is_one_line_and_status_2(tmp_path):
    """A missing file, an empty folder, a file that is no music, a part that is not there."""
    (tmp_path / "x.txt").write_text("strings")
    (tmp_path / "ford.abc").write_text(ABC)
    (tmp_path / "empty").mkdir()
    assert "there is no such file" in refused("add", tmp_path / "nowhere.abc")
    assert "empty: holds no tune files" in refused("add", tmp_path / "empty")
    assert "is not a music file we know" in refused("add", tmp_path / "x.txt")
    assert "has only one voice, no part 3" in refused("add", tmp_path / "ford.abc", "--part", 3)


DOUBTFUL = "X:1\nT:Weir\nM:4/4\nL:1/4\nK:C\nCDEF|[1 GABc|[2 cBAG|\n"
ASSUMED = (
    "The bracket over bar 2 has no repeat sign: it was read as leading back, since the next ending stands in bar 3."
)


def test_what_was_assumed_of_the_order_of_play_is_part_of_the_answer(tmp_path):
    """With the order itself, by the numbers of the bars."""
    (tmp_path / "weir.abc").write_text(DOUBTFUL)
    (tmp_path / "ford.abc").write_text(ABC)
    told = {entry["title"]: (entry["order"], entry["assumed"]) for entry in answer("add", tmp_path)["added"]}
    assert told == {"Weir": ("1-2, 1, 3", [ASSUMED]), "Ford": ("1-2", [])}


def test_people_are_told_what_was_assumed(tmp_path):
    (tmp_path / "weir.abc").write_text(DOUBTFUL)
    assert homefret("add", tmp_path / "weir.abc").stdout.splitlines()[2] == f"    {ASSUMED}"


def test_a_tune_on_the_shelf_whose_file_is_damaged_is_told_without_its_order(tmp_path):
    (tmp_path / "ford.abc").write_text(ABC)
    name = answer("add", tmp_path / "ford.abc")["added"][0]["name"]
    (library_folder() / f"{name}.tune.json").write_bytes(b"{")
    (entry,) = answer("add", tmp_path / "ford.abc")["added"]
    assert (entry["name"], entry["order"], entry["assumed"]) == (name, "", [])


def test_files_under_odd_names_are_added_or_named_in_one_line_whatever_else_is_added(tmp_path):
    """On a terminal that takes nothing but UTF-8: no byte of it breaks the line, and no sign of it steers the rest."""
    folder = os.fsencode(tmp_path)
    names = (b"caf\xe9.abc", b"two\nlines.abc", b"\x1b[2Jgone.abc", b"bad\xe9\n\x1b[31m.abc", b"bad\xe9.mid")
    paths = [Path(os.fsdecode(folder + b"/" + name)) for name in names]
    for number, path in enumerate(paths):
        path.write_text(
            "strings, a capo" if b"bad" in os.fsencode(path.name) else ABC.replace("Ford", f"Ford {number}")
        )
    strict = {"PYTHONIOENCODING": "utf-8:strict"}
    done = homefret("add", *paths, **strict)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.isprintable() or set(filter(lambda sign: not sign.isprintable(), done.stdout)) == {"\n"}
    assert done.stdout.splitlines()[-2].startswith("Not added: badé [31m.abc: is not a music file we know")
    told = answer("add", *paths, **strict)
    assert [one["file"] for one in told["refused"]] == ["badé [31m.abc", "badé.mid"]
    assert sorted(one["file"] for one in told["added"]) == ["[2Jgone.abc", "café.abc", "two lines.abc"]


def test_pipes_devices_and_links_to_themselves_do_not_keep_the_others_from_the_shelf(tmp_path):
    os.mkfifo(tmp_path / "a.abc")
    (tmp_path / "b.abc").symlink_to("/dev/zero")
    (tmp_path / "c.abc").symlink_to("c.abc")
    (tmp_path / "d.abc").write_text(ABC)
    told = answer("add", tmp_path)
    assert [one["title"] for one in told["added"]] == ["Ford"]
    assert [one["file"] for one in told["refused"]] == ["a.abc", "b.abc", "c.abc"]
    assert "is a pipe" in refused("add", tmp_path / "a.abc")
