"""`homefret demo`, and `homefret` alone where there is no screen."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.commands.demo_command import DEFAULT_SEED
from game.practice_log.rows.row_values import messages_from
from game.text.catalogue import tell_all
from tests.commands.running import answer, homefret, refused


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """Of the player who asks for the demo with seed 7."""
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="module")
def seed_7(tmp_path_factory, home):
    folders = {"HOME": str(home), "XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
    return answer("demo", "--fast", "--seed", 7, "--out", tmp_path_factory.mktemp("demo") / "out", **folders)


@pytest.fixture(scope="module")
def no_screen(tmp_path_factory):
    """What the game does where there is no screen: a demo, kept where the system keeps such things."""
    folder = str(tmp_path_factory.mktemp("temporary"))
    return homefret(SDL_VIDEODRIVER=None, DISPLAY=None, WAYLAND_DISPLAY=None, TMPDIR=folder), Path(folder)


def notes_and_takes(log_file):
    """Every note that was played, with what was asked for and what was decided of it."""
    with closing(sqlite3.connect(log_file)) as log, log:
        notes = log.execute("SELECT take, i, at_us, sounding FROM played ORDER BY take, i").fetchall()
        takes = log.execute("SELECT take, stage, tempo_bpm, started_utc FROM take ORDER BY take").fetchall()
        reasons = log.execute("SELECT coach_event, tempo_bpm, reason FROM decision ORDER BY coach_event").fetchall()
        return notes, takes, reasons


def test_the_demo_ends_signed_off_and_goes_from_untimed_through_rhythm_to_rising_tempos(seed_7):
    kinds = [(take["stage"], take["tempo"] is None) for take in seed_7["takes"]]
    order = list(dict.fromkeys(kinds))
    assert order == [("places", True), ("rhythm", True), ("rhythm", False), ("time", True), ("time", False)]
    tempos = [take["tempo"] for take in seed_7["takes"] if take["stage"] == "time" and take["tempo"]]
    assert seed_7["signed_off_tempo"] == tempos[-1] > tempos[0]
    assert seed_7["takes"][-1]["day"] > seed_7["takes"][0]["day"]


def test_the_demo_leaves_pages_before_and_after_the_tempo_curve_and_the_practice_log(seed_7):
    names = [Path(file).name for file in seed_7["files"]]
    for kind in ("places-free", "rhythm-free", "time-click"):
        assert any(f"{kind}-before" in name for name in names)
        assert any(f"{kind}-after" in name for name in names)
    pictures = [Path(file) for file in seed_7["files"] if file.endswith(".png")]
    assert all(picture.read_bytes().startswith(b"\x89PNG") for picture in pictures)
    assert any("tempo" in name for name in names)
    with closing(sqlite3.connect(seed_7["files"][-1])) as log, log:
        (takes,) = log.execute("SELECT count(*) FROM judgement").fetchone()
        reasons = [tell_all(messages_from(reason)) for (reason,) in log.execute("SELECT reason FROM decision")]
    assert takes == len(seed_7["takes"])
    assert {take["reason"] for take in seed_7["takes"]} <= set(reasons)


def test_the_same_seed_plays_the_same_takes_and_another_seed_others(seed_7, no_screen, tmp_path):
    """Without a screen the demo is that of the default seed."""
    assert DEFAULT_SEED == 7
    (again,) = no_screen[1].rglob("practice.sqlite")
    assert notes_and_takes(again) == notes_and_takes(seed_7["files"][-1])
    other = answer("demo", "--fast", "--seed", 2, "--out", tmp_path)
    assert other["takes"] != seed_7["takes"]


def test_the_demo_never_touches_the_players_own_folders(seed_7, home):
    assert seed_7["takes"]
    for folder in ("data", "config"):
        assert [path for path in (home / folder).rglob("*") if path.is_file()] == []


def test_days_that_cannot_be_practised_are_refused():
    for days in (0, -1, 367):
        assert "choose 1 to 366" in refused("demo", "--fast", "--days", days)


def test_without_any_screen_the_game_says_so_and_runs_the_demo(no_screen):
    done, _ = no_screen
    assert done.returncode == 0
    assert "no screen" in done.stderr
    pictures = [line for line in done.stdout.splitlines() if line.endswith(".png")]
    assert pictures
    assert all(Path(picture).exists() for picture in pictures)


def test_a_folder_that_cannot_be_written_is_refused(tmp_path):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    assert "name another folder with --out" in refused("demo", "--fast", "--out", tmp_path / "file")


def test_a_command_that_is_none_is_refused():
    assert "homefret --help" in refused("dance")
