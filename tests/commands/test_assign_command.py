"""`homefret assign` makes from words the file a student drops on the window; all that is wrong is told at once."""

import json
import tomllib
from datetime import date

import pytest

from game.__main__ import main
from game.assignments.assignment_reader import read_assignment
from game.coach.stages import Stage
from tests.commands.running import answer

WORDS = (
    "--title", "The second week", "--note", 'Slow, "quiet", and eyes on the page', "--due", "2027-01-15",
    "--position", "7", "--read", "concert", "--stage", "places,time", "--tempo", "80",
    "--tune", "Ode to Joy:1-4", "--tune", "Amazing Grace", "--tempo", "66", "--tune", "my waltz.abc:3",
    "--lines", "3:2", "--stage", "sight", "--lines", "1",
)  # fmt: skip


@pytest.fixture
def refused(capsys):
    """The one line with which a mistake ends."""

    def told(*words):
        capsys.readouterr()
        assert main(["assign", *map(str, words)]) == 2
        read = capsys.readouterr()
        assert read.out == ""
        (line,) = read.err.splitlines()
        return line

    return told


def test_the_file_is_read_as_what_the_answer_says(tmp_path):
    out = tmp_path / "second.toml"
    told = answer("assign", *WORDS, "--out", out)
    assert told["warnings"] == ["my waltz.abc does not lie beside it yet: put it there, and hand both over."]
    read = read_assignment(out)
    assert told["file"] == str(out)
    assert (read.title, read.due, read.note) == (told["title"], date(2027, 1, 15), told["note"])
    assert (read.neck_map.position, read.neck_map.reading.value, read.neck_map.frets) == (7, "concert", 22)
    assert [(tune.title, tune.file_name, tune.bars, tune.target_bpm) for tune in read.tunes] == [
        ("Ode to Joy", "", (1, 4), 80),
        ("Amazing Grace", "", None, 66),
        ("", "my waltz.abc", (3, 3), 80),
    ]
    assert [tune["stages"] for tune in told["tunes"]] == [["places", "time"]] * 3
    assert [(line.level, line.a_day, line.stages) for line in read.lines] == [
        (3, 2, (Stage.SIGHT,)),
        (1, 1, (Stage.PLACES, Stage.TIME)),
    ]


def test_without_a_file_the_text_is_shown_and_is_toml(capsys):
    """Held against Python's own reader of TOML 1.0."""
    assert main(["assign", *WORDS]) == 0
    table = tomllib.loads(capsys.readouterr().out)
    assert table["note"] == 'Slow, "quiet", and eyes on the page'
    assert table["map"] == {"position": 7, "tuning": "standard", "frets": 22, "read": "concert"}
    assert [tune.get("bars") for tune in table["tune"]] == [[1, 4], None, [3, 3]]


def test_the_students_own_map_stays_where_none_is_set(capsys):
    assert main(["assign", "--title", "Lines", "--lines", "2", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["map"], told["due"], told["lines"][0]["stages"]) == (None, None, [])


def test_all_that_is_wrong_is_told_at_once(refused, tmp_path):
    line = refused(
        "--due", "soon", "--position", "80", "--tuning", "odd", "--read", "upside", "--lines", "99:two",
        "--stage", "flying", "--tempo", "fast", "--tune", ":4-1", "--out", tmp_path / "week.txt",
    )  # fmt: skip
    for fault in (
        "ending in .toml", "add --title", "2026-12-24", "not 80", "'odd'", "'upside'", "not 99", "'two'", "flying",
        "'fast'", "tune 1: it is named", "[4, 1]",
    ):  # fmt: skip
        assert fault in line
    assert list(tmp_path.iterdir()) == []


def test_an_assignment_asks_for_something_and_has_a_title(refused):
    line = refused()
    assert "add --title" in line
    assert "add --tune or --lines" in line


def test_tunes_and_bars_that_the_shelf_does_not_have_are_told(refused):
    line = refused("--title", "x", "--tune", "Ode to Joy:90-94", "--tune", "No Such Tune", "--tune", "../etc/x.mid")
    assert "has no bars 90 to 94" in line or "without folders" in line
    line = refused("--title", "x", "--tune", "ode to joy:90-94", "--tune", "No Such Tune")
    assert "tune 1: Ode to Joy has no bars 90 to 94" in line
    assert "tune 2: no tune on the shelf is called 'No Such Tune'" in line


def test_a_colon_in_a_title_of_the_shelf_is_no_sign_for_bars(tmp_path, capsys):
    file = tmp_path / "etude.abc"
    file.write_text("X:1\nT:Etude 12:8\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|\n", encoding="utf-8")
    assert main(["add", str(file)]) == 0
    capsys.readouterr()
    told = answer("assign", "--title", "Etudes", "--tune", "Etude 12:8", "--tune", "etude 12:8:2")
    assert [(tune["title"], tune["bars"]) for tune in told["tunes"]] == [("Etude 12:8", None), ("etude 12:8", [2, 2])]


def test_an_older_assignment_is_replaced_and_nothing_else(refused, tmp_path):
    out = tmp_path / "week.toml"
    for title in ("First", "Second"):
        assert main(["assign", "--title", title, "--lines", "1", "--out", str(out)]) == 0
    assert read_assignment(out).title == "Second"
    out.write_text("[tool]\nname = 'mine'\n")
    assert "is no assignment" in refused("--title", "Third", "--lines", "1", "--out", out)
    assert "mine" in out.read_text()
    assert "cannot be written" in refused("--title", "x", "--lines", "1", "--out", tmp_path / "no" / "week.toml")


def test_the_day_of_an_edited_file_is_the_same_event_and_another_calendar_stays(tmp_path, refused):
    toml, calendar = tmp_path / "week.toml", tmp_path / "week.ics"
    uids = []
    for due in ("2099-12-04", "2099-12-11"):
        toml.write_text(f'title = "Week"\ndue = {due}\n[[line]]\nlevel = 1\n', encoding="utf-8")
        assert main(["assign", "--check", str(toml), "--calendar", str(calendar)]) == 0
        lines = calendar.read_bytes().split(b"\r\n")
        uids.append(next(line for line in lines if line.startswith(b"UID:")))
    assert uids[0] == uids[1]
    assert b"SEQUENCE:1" in lines
    year = b"BEGIN:VCALENDAR\r\nPRODID:-//Somebody//EN\r\nEND:VCALENDAR\r\n"
    calendar.write_bytes(year)
    assert "week.ics" in refused("--check", toml, "--calendar", calendar)
    assert calendar.read_bytes() == year


def test_a_calendar_is_called_as_calendars_are(tmp_path, refused):
    words = ("--title", "x", "--lines", "1", "--due", "2099-12-04", "--calendar", tmp_path / "week.txt")
    assert "week.txt is no name of a calendar: give it one ending in .ics" in refused(*words)


@pytest.mark.parametrize("command", ["assign", "line"])
def test_a_full_disk_leaves_the_file_there_was(command, tmp_path, monkeypatch, capsys):
    out = tmp_path / f"kept.{'toml' if command == 'assign' else 'musicxml'}"
    words = ["assign", "--title", "Week", "--lines", "1"] if command == "assign" else ["line"]
    assert main([*words, "--out", str(out)]) == 0
    before = out.read_bytes()

    def full(_number):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert main([*words, *(["--note", "Slow"] if command == "assign" else ["--level", "2"]), "--out", str(out)]) == 2
    assert "No space left on device" in capsys.readouterr().err
    assert out.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == [out.name]
