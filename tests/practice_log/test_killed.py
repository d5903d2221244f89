"""A program that is killed loses at most the last second."""

import sqlite3
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from random import Random

import pytest

from game.practice_log.queries.take_queries import judgement_of, unfinished_takes
from game.practice_log.rows.log_records import Outcome
from game.practice_log.writing.cut_short import ending_of
from game.practice_log.writing.practice_log import PracticeLog
from tests.practice_log.logged_takes import begun, notes_of
from tests.practice_log.playing_process import device_of

LOST_AT_MOST_S = 1.0
KILLS = 5
ROOT = Path(__file__).parents[2]


def practise(path, seed, *more):
    command = [sys.executable, "-m", "tests.practice_log.playing_process", str(path), str(seed), *more]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)


def killed_after(path, seed, seconds):
    """What the process told up to its death, and when it died."""
    process = practise(path, seed)
    process.stdout.readline()
    time.sleep(seconds)
    process.kill()
    killed_s = time.monotonic()
    told = process.stdout.read().splitlines()
    process.wait()
    process.stdout.close()
    return [line.split() for line in told], killed_s


def kept(path, seed):
    """What is in the file: numbers of played notes by take of that process, and its takes with a judgement."""
    file = sqlite3.connect(path)
    assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert file.execute("PRAGMA foreign_key_check").fetchall() == []
    uuid = (str(device_of(seed).uuid),)
    of_device = "FROM take JOIN device USING (device)"
    played = file.execute(f"SELECT number, i {of_device} JOIN played USING (take) WHERE uuid = ?", uuid).fetchall()
    ended = file.execute(f"SELECT number {of_device} JOIN judgement USING (take) WHERE uuid = ?", uuid).fetchall()
    file.close()
    return set(played), {number for (number,) in ended}


@pytest.mark.parametrize("seed", range(1, KILLS + 1))
def test_a_killed_program_leaves_a_sound_log_with_all_but_the_last_second(tmp_path, seed):
    path = tmp_path / "practice.sqlite"
    told, killed_s = killed_after(path, seed, Random(seed).uniform(1.1, 2.2))
    due = [line for line in told if killed_s - float(line[1]) > LOST_AT_MOST_S]
    assert due, "the process was killed before anything was due"
    played, ended = kept(path, seed)
    assert {(int(line[2]), int(line[3])) for line in due if line[0] == "played"} <= played
    assert {int(line[2]) for line in due if line[0] == "ended"} <= ended


def test_a_take_cut_short_is_found_at_the_next_start_judged_and_ended_once(tmp_path):
    path = tmp_path / "practice.sqlite"
    killed_after(path, 9, 1.0)
    log = PracticeLog(path, device=device_of(9), utc_now=lambda: datetime.now(UTC))
    ((take, raw),) = log.unfinished_takes()
    assert take.begun.asked == begun().asked
    everything = [notes_of(begun(), wrong={n}) for n in range(1, 7)]
    assert any(played[: len(raw.played)] == raw.played for played in everything)
    log.take_up(take).end(ending_of(take.begun, raw, ended_utc=datetime.now(UTC)))
    assert log.unfinished_takes() == ()
    with log.reading() as connection:
        assert unfinished_takes(connection, device_of(9).uuid) == ()
        verdicts = judgement_of(connection, take.take).verdicts
        answered = sum(len(verdict.answers) for verdict in verdicts)
        assert answered == len(raw.played)
        (outcome,) = connection.execute("SELECT outcome FROM judgement WHERE take = ?", (take.take,)).fetchone()
    assert Outcome(outcome) is Outcome.CUT_SHORT
    assert log.close() is None


def test_two_programs_write_one_log_at_once_and_neither_loses_a_note(tmp_path):
    path = tmp_path / "practice.sqlite"
    processes = {seed: practise(path, seed, "8") for seed in (21, 22)}
    for seed, process in processes.items():
        told = [line.split() for line in process.communicate()[0].splitlines()]
        assert told[-1] == ["closed", "None"]
        played, ended = kept(path, seed)
        assert {(int(line[2]), int(line[3])) for line in told if line[0] == "played"} == played
        assert ended == set(range(1, 9))
