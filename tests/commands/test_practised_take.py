"""`homefret take --day --number`: takes that were practised, as they were judged; as MIDI files; and aloud."""

import json
import sqlite3
import zipfile
from contextlib import closing
from datetime import UTC, datetime
from types import SimpleNamespace

import mido
import numpy as np
import pytest

from game.__main__ import main
from game.coach.stages import Stage
from game.paths import user_data
from game.practice_log.rows.log_records import Terms
from game.practice_log.transfer.export import write_export
from game.practice_log.writing.practice_log import PracticeLog
from tests.commands.running import answer, homefret
from tests.fixtures_of_november.november import laid_out
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of
from tests.practice_log.transfer.tables_export import write_tables

DAY = "2026-11-25"
GAPS = (0.4, 0.45)
WRONG = ({2, 5}, set())
NOW = datetime(2026, 12, 1, tzinfo=UTC)
RATE = 44100


def _write(path, *, early_s=0.0):
    """Two takes that were judged, one that was cut short, and one of naming; the notes of the judged ones."""
    played = []
    with PracticeLog(path, device=DEVICE, now=lambda: MORNING) as log:
        for at, (gap_s, wrong) in enumerate(zip(GAPS, WRONG, strict=True)):
            take = begun(minutes=at)
            handle = log.begin_take(take, zero_s=0.0)
            played.append(notes_of(take, gap_s=gap_s, wrong=wrong, zero_s=-early_s))
            for note in played[-1]:
                handle.played(note)
            handle.end(ended(judged(take, played[-1]), minutes=at + 1))
        take = begun(minutes=5)
        handle = log.begin_take(take, zero_s=0.0)
        for note in notes_of(take, gap_s=1.0)[:3]:
            handle.played(note)
        handle = log.begin_take(begun(Terms(stage=Stage.LETTERS), minutes=6), zero_s=0.0)
        handle.end(ended(None, minutes=7))
        assert log.flush(20)
    return played


@pytest.fixture(scope="module")
def handed(tmp_path_factory):
    """An export and the log it was made of."""
    folder = tmp_path_factory.mktemp("handed")
    played = _write(folder / "practice.log")
    with closing(sqlite3.connect(folder / "practice.log")) as connection, connection:
        write_export(connection, PLAYER, folder / "ada.zip", now=NOW)
        write_tables(connection, PLAYER, folder / "tables.zip", now=NOW)
    return SimpleNamespace(folder=folder, export=folder / "ada.zip", tables=folder / "tables.zip", played=played)


@pytest.fixture
def kept(handed, capsys):
    """The answer for a take of the export, in this process, which saves a second each."""

    def told(number, *words):
        assert _run("--from", handed.export, "--day", DAY, "--number", number, *words, "--json") == 0
        return json.loads(capsys.readouterr().out)

    return told


@pytest.fixture
def refused(capsys):
    """The one line with which a mistake ends."""

    def told(*words):
        try:
            status = _run(*words)
        except SystemExit as ended:
            status = ended.code
        assert status == 2
        read = capsys.readouterr()
        (line,) = read.err.splitlines()
        assert read.out == ""
        return line

    return told


def _run(*words):
    return main(["take", *map(str, words)])


def test_a_take_of_an_export_is_answered_as_it_was_judged(handed):
    read = answer("take", "--from", handed.export, "--day", DAY, "--number", 1)
    assert {v["n"]: v["verdict"] for v in read["verdicts"] if v["verdict"] != "clean"} == {
        2: "wrong pitch", 5: "wrong pitch",
    }  # fmt: skip
    assert read["take"] == {
        "day": DAY, "number": 1, "title": "The Ford at Low Water", "bars": ["1", "2"], "stage": "places",
        "tempo": None, "sighting": 1, "notes": 8,
    }  # fmt: skip
    assert read["summary"]["clean_share"] == pytest.approx(4 / 6, abs=1e-4)
    assert read["stage"] == "places"


def test_a_log_from_elsewhere_serves_as_an_export_does(handed, kept, capsys):
    local = MORNING.astimezone().date().isoformat()
    assert _run("--from", handed.folder / "practice.log", "--day", local, "--number", 1, "--json") == 0
    assert json.loads(capsys.readouterr().out)["verdicts"] == kept(1)["verdicts"]


def test_a_day_alone_lists_its_takes(handed, capsys):
    takes = answer("take", "--from", handed.export, "--day", DAY)["takes"]
    assert [(take["number"], take["stage"], take["clean_share"]) for take in takes] == [
        (1, "places", 0.6667), (2, "places", 1.0), (3, "places", None), (4, "letters", None),
    ]  # fmt: skip
    assert _run("--from", handed.export, "--day", DAY) == 0
    rows = capsys.readouterr().out.splitlines()
    assert rows[1].split("  ")[0] == "1"
    assert rows[1].endswith("67%")


def test_a_take_that_was_cut_short_is_judged_now(kept):
    assert [v["verdict"] for v in kept(3)["verdicts"]] == ["clean"] * 3 + ["unread"] * 3


def test_the_midi_file_holds_what_was_played_with_its_own_times(handed, kept, tmp_path):
    """Read back by mido, tick by tick, against the rows of the raw log (times to a millisecond)."""
    for number in (1, 2):
        out = tmp_path / f"{number}.mid"
        assert kept(number, "--out", out)["file"] == str(out)
        at_s, read = 0.0, []
        for message in mido.MidiFile(out):
            at_s += message.time
            if message.type == "note_on" and message.velocity:
                read.append((round(at_s, 3), message.note, message.channel + 1, message.velocity))
        with closing(sqlite3.connect(handed.folder / "practice.log")) as log, log:
            rows = log.execute(
                "SELECT at_us, sounding, string, velocity FROM played JOIN take USING (take) "
                "WHERE take.number = ? ORDER BY at_us",
                (number,),
            ).fetchall()
        assert read == [(round(at_us / 1e6, 3), *rest) for at_us, *rest in rows]
        assert len(read) == len(handed.played[number - 1])


def test_the_midi_file_is_judged_like_the_take_itself(kept, tmp_path):
    tune = tmp_path / "ford.abc"
    tune.write_text("X:1\nT:The Ford at Low Water\nM:4/4\nL:1/4\nK:F\nFGAB|c2^F2|\n")
    kept(1, "--out", tmp_path / "take.mid")
    again = answer("take", tune, tmp_path / "take.mid", "--stage", "places", "--unfiltered")
    assert [v["verdict"] for v in again["verdicts"]] == [v["verdict"] for v in kept(1)["verdicts"]]


def test_a_full_disk_leaves_the_midi_file_there_was(tmp_path, monkeypatch):
    desk = laid_out(tmp_path)
    words = "take --day 2026-11-25 --player Möwe --out {out}/take.mid --number".split()
    assert desk.run(*words, "1").status == 0
    before = (desk.out / "take.mid").read_bytes()

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.paths.os.fsync", full)
    said = desk.run(*words, "2")
    assert (said.status, "No space left on device" in said.err) == (2, True)
    assert {path.name: path.read_bytes() for path in desk.out.iterdir()} == {"take.mid": before}


def test_notes_before_the_beat_put_time_0_later_and_that_is_said(tmp_path):
    _write(tmp_path / "log", early_s=0.5)
    with closing(sqlite3.connect(tmp_path / "log")) as connection, connection:
        write_export(connection, PLAYER, tmp_path / "early.zip", now=NOW)
    words = ("--day", DAY, "--number", 1, "--out", tmp_path / "early.mid")
    (warning,) = answer("take", "--from", tmp_path / "early.zip", *words)["warnings"]
    assert "0.100 s" in warning
    assert sum(message.time for message in mido.MidiFile(tmp_path / "early.mid")) > 8 * 0.4 - 0.5


def test_ones_own_take_needs_no_file():
    folder = user_data()
    (folder / "player.json").write_text(json.dumps({"uuid": str(PLAYER.uuid), "name": PLAYER.name}))
    _write(folder / "practice.sqlite")
    local = MORNING.astimezone().date().isoformat()
    read = answer("take", "--day", local, "--number", 2)
    assert read["summary"]["clean_share"] == 1
    told = homefret("take", "--day", local, "--number", 2).stdout
    assert told.startswith("Take 2 of ")


def test_a_take_is_heard_with_its_own_times(handed, tmp_path):
    """What SDL's disk driver was given: each pluck within a fortieth of a second of its time in the log. (The driver
    runs at ten times the speed and keeps no time, so that a block may be put off by `GUARD_S`, 20 ms.)
    """
    done = homefret(
        "take", "--from", handed.export, "--day", DAY, "--number", 2, "--hear", "--json",
        SDL_AUDIODRIVER="disk", SDL_DISKAUDIOFILE=str(tmp_path / "raw"), SDL_DISKAUDIODELAY="1",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["warnings"] == []
    samples = np.fromfile(tmp_path / "raw", np.int16).reshape(-1, 2)[:, 0].astype(float)
    # A pluck is bright: the step from sample to sample jumps when it comes.
    window = RATE // 200
    steps = np.abs(np.diff(samples))
    bright = steps[: len(steps) // window * window].reshape(-1, window).max(axis=1)
    loud = [
        at
        for at in range(2, len(bright))
        if bright[at] > 2.5 * bright[max(0, at - 4) : at].max() and bright[at] > 0.1 * bright.max()
    ]
    plucks = [at / 200 for at, before in zip(loud, [-100, *loud], strict=False) if at - before > 20]
    wanted = [note.started_s - handed.played[1][0].started_s for note in handed.played[1]]
    assert [pluck - plucks[0] for pluck in plucks] == pytest.approx(wanted, abs=0.025)


def test_without_a_sound_device_that_is_said_and_the_rest_is_done(kept):
    (warning,) = kept(2, "--hear")["warnings"]
    assert "Nothing was heard" in warning


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--number", 1), "Give --day and --number"),
        (("--day", DAY, "--hear"), "--day alone lists them"),
        (("--day", DAY, "--number", 9), "takes 1 to 4, not 9"),
        (("--day", "2026-11-24", "--number", 1), "nothing was played on 24 November 2026"),
        (("--day", "yesterday", "--number", 1), "write it as 2026-11-14"),
        (("--day", DAY, "--number", 4, "--hear"), "holds no played notes"),
        (("--day", DAY, "--number", 1, "--out", "take.txt"), "ending in .mid"),
    ],
)
def test_what_is_not_there_is_told_in_one_line(handed, refused, words, why):
    assert why in refused("--from", handed.export, *words)


def test_files_and_log_are_not_mixed_and_nothing_else_is_written_over(handed, refused, tmp_path):
    assert "not by both" in refused("a.abc", "b.mid", "--day", DAY, "--number", 1)
    assert "name it with --day" in refused("a.abc", "b.mid", "--out", "c.mid")
    assert "give FILE and TAKE.mid" in refused()
    (tmp_path / "diary.mid").write_text("my diary")
    words = ("--day", DAY, "--number", 1, "--out", tmp_path / "diary.mid")
    assert "no MIDI file" in refused("--from", handed.export, *words)
    assert (tmp_path / "diary.mid").read_text() == "my diary"


def test_a_broken_export_is_refused_in_one_line(handed, refused, tmp_path):
    (tmp_path / "cut.zip").write_bytes(handed.export.read_bytes()[:3000])
    assert "cut.zip" in refused("--from", tmp_path / "cut.zip", "--day", DAY, "--number", 1)


@pytest.mark.parametrize(
    ("table", "column", "value", "why"),
    [
        ("verdict", 6, "long", "make no sense"),
        ("played", 3, 4_000, "nobody can play"),
        ("played", 2, 10**13, "nobody can play"),
        ("asked", 2, "[]]", "make no sense"),
        ("played", 4, 77, "nobody can play"),
        ("played", 3, 60.5, "nobody can play"),
    ],
)
def test_rows_that_make_no_sense_are_refused_in_one_line(handed, refused, tmp_path, table, column, value, why):
    """In an export of the first form, whose rows nobody looked at before they were asked for."""
    with zipfile.ZipFile(handed.tables) as good, zipfile.ZipFile(tmp_path / "odd.zip", "w") as odd:
        for name in good.namelist():
            text = good.read(name)
            if name == f"{table}.jsonl":
                rows = [json.loads(row) for row in text.splitlines()]
                text = "".join(f"{json.dumps([*row[:column], value, *row[column + 1 :]])}\n" for row in rows)
            odd.writestr(name, text)
    words = ("--day", DAY, "--number", 1, "--out", tmp_path / "odd.mid")
    assert why in refused("--from", tmp_path / "odd.zip", *words)
    assert not (tmp_path / "odd.mid").exists()


def test_a_recorded_take_can_be_heard_too(kept, tmp_path, capsys):
    tune = tmp_path / "ford.abc"
    tune.write_text("X:1\nT:The Ford at Low Water\nM:4/4\nL:1/4\nK:F\nFGAB|c2^F2|\n")
    kept(2, "--out", tmp_path / "take.mid")
    assert _run(tune, tmp_path / "take.mid", "--hear", "--json") == 0
    assert any("Nothing was heard" in said for said in json.loads(capsys.readouterr().out)["warnings"])
