"""`homefret assign --check` tells every fault of a file at once."""

import json

import pytest

from game.commands.main import main

WEEK = 'title = "Week 12"\ndue = 2099-12-04\n[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\n[[line]]\nlevel = 1\n'


@pytest.fixture
def checked(tmp_path, capsys):
    def told(text, *words):
        path = tmp_path / "week.toml"
        path.write_bytes(text.encode("utf-8"))
        capsys.readouterr()
        status = main(["assign", "--check", str(path), *map(str, words)])
        read = capsys.readouterr()
        return status, read.out, read.err

    return told


def test_all_faults_are_told_at_once_with_the_nearest_titles(checked):
    text = (
        'title = "Week 12"\ndue = 2020-01-01\n[[tune]]\ntitle = "Od to Joy"\n[[tune]]\nfile = "gone.abc"\n'
        '[[tune]]\ntitle = "Ode to Joy"\nbars = [900, 901]\n[[tune]]\ntitle = "Zzyzx Xyzzy"\n'
    )
    status, out, err = checked(text)
    assert (status, out, len(err.splitlines())) == (2, "", 1)
    for said in ("Od to Joy", "Ode to Joy", "gone.abc", "900", "2020-01-01", "Zzyzx"):
        assert said in err


def test_a_title_and_a_day_are_held_against_shelf_and_calendar_though_the_file_is_wrong_elsewhere(checked):
    _, _, err = checked('title = "x"\nduo = 3\ndue = 2020-01-01\n[[tune]]\ntitle = "Od to Joy"\n[[line]]\nlevel = 99\n')
    assert "duo" in err
    assert "99" in err
    assert "2020-01-01" in err
    assert "Ode to Joy" in err


def test_a_file_by_notepad_with_which_nothing_is_wrong_is_said_to_be_so(checked, tmp_path):
    status, out, err = checked("\ufeff" + WEEK.replace("\n", "\r\n"))
    assert (status, err) == (0, "")
    assert "week.toml" in out
    status, out, _ = checked(WEEK, "--json")
    assert json.loads(out)["due"] == "2099-12-04"
    status, _, _ = checked(WEEK, "--calendar", tmp_path / "week.ics")
    assert status == 0
    assert b"DTSTART;VALUE=DATE:20991204\r\n" in (tmp_path / "week.ics").read_bytes()


def test_what_has_no_place_beside_it_is_told(checked, tmp_path):
    for words in (("--title", "other"), ("--calendar", tmp_path / "week.txt")):
        status, out, err = checked(WEEK, *words)
        assert (status, out, len(err.splitlines())) == (2, "", 1)
    status, _, err = checked(WEEK.replace("due = 2099-12-04\n", ""), "--calendar", tmp_path / "week.ics")
    assert status == 2
    assert "due" in err


def test_a_day_that_is_over_is_not_written_either(capsys, tmp_path):
    words = ["--title", "x", "--lines", "1", "--due", "2020-01-01", "--out", str(tmp_path / "x.toml")]
    assert main(["assign", *words]) == 2
    assert "2020-01-01" in capsys.readouterr().err
    assert not (tmp_path / "x.toml").exists()


def test_what_the_shelf_and_the_folder_say_is_told_of_each_tune_though_the_file_is_wrong_elsewhere(checked):
    _, _, err = checked(
        'title = "x"\ndue = 7.12.2099\n[[tune]]\ntitle = "Ode to Joy"\nbars = [900, 901]\n[[tune]]\nfile = "gone.abc"\n'
        'tempo = "120"\n[[tune]]\nfile = "../gone too.abc"\n'
    )
    for said in ("7.12.2099", "900", "gone.abc does not lie beside it", "'120'", "without folders, not '../gone too"):
        assert said in err


@pytest.mark.usefixtures("own_home")
def test_a_title_that_stands_on_the_shelf_twice_is_told_and_no_fault(checked, tmp_path, capsys):
    """Nobody can say which of them the student has."""
    (tmp_path / "mine.abc").write_text("X:1\nT:Ode to Joy\nM:4/4\nL:1/4\nK:G\nGABc|dcBA|\n")
    assert main(["add", str(tmp_path / "mine.abc")]) == 0
    status, out, _ = checked(WEEK)
    assert status == 0
    assert "2 tunes on the shelf are called 'Ode to Joy'" in out
    status, out, _ = checked(WEEK, "--json")
    assert len(json.loads(out)["warnings"]) == 1
    words = ["--title", "x", "--tune", "ode to joy", "--due", "2099-12-04", "--out", str(tmp_path / "made.toml")]
    assert main(["assign", *words]) == 0
    assert "2 tunes" in capsys.readouterr().out


def test_a_file_beside_it_is_found_as_a_mac_writes_its_name(checked, tmp_path):
    (tmp_path / "WALZER A\N{COMBINING DIAERESIS}.abc").write_text("X:1\n")
    status, _, _ = checked('title = "x"\n[[tune]]\nfile = "Walzer ä.abc"\n')
    assert status == 0
