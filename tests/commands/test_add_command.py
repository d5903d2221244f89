"""`homefret add`: files, folders and books into the library, from the command line."""

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
