"""`homefret report` tells what practice came to; `homefret log` keeps, restores and hands over what was practised."""

import csv
import html.parser
import json
import re
import sqlite3
import zipfile
from contextlib import closing
from types import SimpleNamespace

import msgspec
import pytest

from game.commands.report_command import own_written, report_answer
from game.paths import user_data
from game.player.profiles import Profile
from tests.commands.running import answer, homefret, refused
from tests.practice_log.classes.students import ADA, hand_in, student
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.plain_sightings import put_plain_sightings
from tests.report.month import last_day, write_month

HOSTILE = '<script>alert(1)</script>=cmd|"x" & more'


@pytest.fixture
def practised():
    """A month in the player's own log."""
    folder = user_data()
    (folder / "player.json").write_text(json.dumps({"uuid": str(PLAYER.uuid), "name": PLAYER.name}))
    return folder, write_month(folder / "practice.sqlite")


@pytest.fixture(scope="module")
def month(tmp_path_factory):
    """A month, its log, the report of it as the command answers, and the page; made once, for it is only looked at."""
    folder = tmp_path_factory.mktemp("month")
    (folder / "player.json").write_text(json.dumps({"uuid": str(PLAYER.uuid), "name": PLAYER.name}))
    written = write_month(folder / "practice.sqlite")
    player = Profile(name="", folder=folder, settings_path=folder / "settings.json")
    told = msgspec.to_builtins(report_answer(own_written(player, folder / "r.html")))
    return SimpleNamespace(log=folder / "practice.sqlite", written=written, told=told, page=folder / "r.html")


class Outside(html.parser.HTMLParser):
    """What a page would load or run."""

    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, attrs):
        if tag in ("script", "iframe"):
            self.found.append(tag)
        self.found += [
            value
            for name, value in attrs
            if name in ("src", "xlink:href", "href") and value and not value.startswith(("#", "data:"))
        ]


def test_the_figures_of_the_report_are_those_of_the_raw_log(month):
    days, takes, read, clean = month.written
    (student,) = month.told["students"]
    assert student["days"] == days
    assert student["last_day"] == last_day().isoformat()
    with closing(sqlite3.connect(month.log)) as log, log:
        put_plain_sightings(log)
        counted = log.execute(
            "SELECT count(*), sum(verdict = 'clean') FROM verdict JOIN judgement USING (judgement) "
            "JOIN plain_sighting USING (take) WHERE nth <= 2"
        ).fetchone()
        passages = log.execute("SELECT count(DISTINCT passage_key) FROM bars").fetchone()
        minutes = log.execute(
            "SELECT sum((julianday(ended_utc) - julianday(started_utc)) * 1440) FROM judgement JOIN take USING (take)"
        ).fetchone()
    assert counted == (read, clean)
    assert passages == (len(student["passages"]),)
    assert sum(passage["takes"] for passage in student["passages"]) == takes
    assert student["minutes"] == pytest.approx(minutes[0], abs=0.01)


def test_first_sight_is_counted_over_the_last_four_weeks_and_has_its_interval(month):
    """Wilson 1927, 95 %: z = 1.959964 (standard table)."""
    first = month.told["students"][0]["first_sight"]
    n, p, z = first["read"], first["share"], 1.959964
    assert n == 16
    middle, half = p + z * z / (2 * n), z * (p * (1 - p) / n + z * z / (4 * n * n)) ** 0.5
    low, high = ((middle + sign * half) / (1 + z * z / n) for sign in (-1, 1))
    assert first["surely"] == pytest.approx([low, high], abs=1e-4)


def test_the_page_stands_alone_and_runs_nothing(month):
    text = month.page.read_text(encoding="utf-8")
    outside = Outside()
    outside.feed(text)
    assert outside.found == []
    asked_for = re.findall(r"""url\((?!["']?(?:data:|#))[^)]{0,60}""", text)
    assert asked_for == []
    assert 'lang="en"' in text
    assert text.count("<caption") >= 2
    assert "clinician" in text


def test_hostile_titles_are_only_text_on_the_page_and_in_the_tables(tmp_path):
    folder = user_data()
    (folder / "player.json").write_text(json.dumps({"uuid": str(PLAYER.uuid), "name": HOSTILE}))
    write_month(folder / "practice.sqlite", title=HOSTILE)
    answer("report", "--out", tmp_path / "r.html")
    assert "<script" not in (tmp_path / "r.html").read_text(encoding="utf-8")
    for table in tmp_path.glob("*.csv"):
        for line in table.read_text(encoding="utf-8").splitlines():
            assert not any(cell.lstrip('"').startswith(("=", "@")) for cell in line.split(","))


def test_without_a_log_it_says_so_in_one_line():
    assert "practise first" in refused("report")


def test_what_is_handed_over_gives_the_same_figures_to_the_teacher(practised, tmp_path):
    own = answer("report", "--out", tmp_path / "r.html")["students"][0]
    there = tmp_path / "class"
    there.mkdir()
    handed = answer("log", "--export", there / "ada.zip")
    assert handed["contents"]["rows"]["take"] == practised[1][1]
    (there / "broken.zip").write_bytes(b"PK no zip")
    read = answer("report", "--from", there)
    (theirs,) = read["students"]
    assert theirs["name"] == PLAYER.name
    for figure in ("days", "minutes", "first_sight", "slow_notes", "passages"):
        assert theirs[figure] == own[figure]
    assert len(read["faults"]) == 1
    assert "broken.zip" in read["faults"][0]
    assert PLAYER.name in (there / "index.html").read_text(encoding="utf-8")


@pytest.mark.usefixtures("practised")
def test_an_export_says_what_it_is_to_whoever_opens_it(tmp_path):
    answer("log", "--export", tmp_path / "ada.zip")
    with zipfile.ZipFile(tmp_path / "ada.zip") as export:
        contents = json.loads(export.read("contents.json"))
    assert "homefret report --from" in contents["says"]
    assert contents["player"]["name"] == PLAYER.name


def test_a_folder_without_exports_is_refused(tmp_path):
    assert "holds no export" in refused("report", "--from", tmp_path)


def test_a_back_up_is_restored_and_the_log_before_it_is_kept(practised, tmp_path):
    folder, (_, takes, *_) = practised
    assert answer("log", "--back-up", tmp_path / "kept.sqlite")["takes"] == takes
    with closing(sqlite3.connect(folder / "practice.sqlite")) as log, log:
        log.execute("DROP TRIGGER take_no_delete")
        log.execute("PRAGMA foreign_keys = OFF")
        log.execute("DELETE FROM take")
    back = answer("log", "--restore", tmp_path / "kept.sqlite")
    assert back["takes"] == takes
    assert back["kept"]
    assert answer("log")["takes"] == takes


def test_what_is_no_log_is_not_restored(practised, tmp_path):
    (tmp_path / "junk.sqlite").write_bytes(b"junk" * 500)
    assert "junk.sqlite" in refused("log", "--restore", tmp_path / "junk.sqlite")
    assert "the practice log itself" in refused("log", "--restore", practised[0] / "practice.sqlite")
    assert answer("log")["takes"] == practised[1][1]


def test_several_players_have_logs_of_their_own(practised, tmp_path):
    assert homefret("players", "--add", "../Grace").returncode == 0
    first, second = answer("players")["players"]
    assert first["folder"] == str(practised[0])
    assert "Grace" not in second["folder"]
    assert ".." not in second["folder"]
    assert answer("log", "--player", "../Grace")["takes"] == 0
    assert "no player" in refused("log", "--player", "Nobody")
    assert "already" in refused("players", "--add", "../grace")
    assert "practise first" in refused("report", "--player", "../Grace", "--out", tmp_path / "g.html")


def test_the_marks_of_a_class_are_written_beside_its_pages(tmp_path):
    folder, out = tmp_path / "class", tmp_path / "marks.csv"
    hand_in(student(ADA, 1), folder / "ada.zip")
    (folder / "week.toml").write_text('title = "Week"\n[[line]]\nlevel = 1\n', encoding="utf-8")
    told = answer("report", "--from", folder, "--marks", out)
    assert told["marks"] == str(out)
    with out.open(encoding="utf-8", newline="") as file:
        assert list(csv.reader(file)) == [
            ["student_id", "student_name", "Week"],
            [str(ADA.uuid), ADA.name, "0"],
        ]
    assert "--from" in refused("report", "--marks", out)
    assert ".csv" in refused("report", "--from", folder, "--marks", tmp_path / "marks.xlsx")
