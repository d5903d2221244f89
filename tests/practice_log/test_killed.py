"""A program that is killed leaves a sound log, with all that was played but the last moments.

That these are less than a second is measured by `python -m tests.bench.kills`, where nothing else is going on.
"""

import sqlite3
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from random import Random

import pytest

from game.practice_log.queries.take_queries import unfinished_takes
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import Outcome
from game.practice_log.writing.cut_short import ending_of
from game.practice_log.writing.practice_log import PracticeLog
from tests.practice_log.logged_takes import begun, notes_of
from tests.practice_log.playing_process import device_of
from tests.sampling import sample

WAIT_S = 60.0
SEEDS = range(1, 6)
ROOT = Path(__file__).parents[2]


def practise(path, seed, *more):
    command = [sys.executable, "-m", "tests.practice_log.playing_process", str(path), str(seed), *more]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)


def killed_once_kept(path, seed, notes, *more):
    """What the process told of notes and takes up to its death, which comes once so many notes are in the file."""
    process = practise(path, seed, *more)
    until_s = time.monotonic() + WAIT_S
    while time.monotonic() < until_s and (not path.exists() or count_kept(path) < notes):
        time.sleep(0.01)
    process.kill()
    told = [line.split() for line in process.stdout.read().splitlines()]
    process.wait()
    process.stdout.close()
    assert count_kept(path) >= notes, "what is played never came into the file"
    return told


def count_kept(path):
    """How many notes are in the file by now; 0 where it has no tables yet."""
    file = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True, timeout=WAIT_S)
    try:
        return file.execute("SELECT count(*) FROM played").fetchone()[0]
    except sqlite3.OperationalError:
        return 0
    finally:
        file.close()


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


@pytest.mark.parametrize("seed", sample(SEEDS, by_default=2))
def test_a_killed_program_leaves_a_sound_log_that_goes_up_to_some_note_and_holds_everything_before_it(tmp_path, seed):
    path = tmp_path / "practice.sqlite"
    told = killed_once_kept(path, seed, Random(seed).randint(10, 40))
    handed_over = [(int(line[2]), int(line[3])) for line in told if line[0] == "played"]
    played, ended = kept(path, seed)
    # A note may have come into the file before the process could tell of it.
    assert sorted(played)[: len(handed_over)] == handed_over[: len(played)]
    assert len(played) <= len(handed_over) + 1
    last_take = max(take for take, _ in played)
    assert set(range(1, last_take)) <= ended <= set(range(1, last_take + 1))


def test_a_take_cut_short_is_found_at_the_next_start_judged_and_ended_once(tmp_path):
    path = tmp_path / "practice.sqlite"
    killed_once_kept(path, 9, 3, "0")
    log = PracticeLog(path, device=device_of(9), now=lambda: datetime.now(UTC))
    ((take, raw),) = log.unfinished_takes()
    assert take.begun.asked == begun().asked
    assert raw.played == notes_of(begun())[:3]
    log.reopen_take(take).end(ending_of(take.begun, raw, ended_at=datetime.now(UTC)))
    assert log.unfinished_takes() == ()
    with log.reading() as connection:
        assert unfinished_takes(connection, [device_of(9).uuid]) == ()
        verdicts = judgement_of(connection, take.take).verdicts
        answered = sum(len(verdict.answers) for verdict in verdicts)
        assert answered == 3
        (outcome,) = connection.execute("SELECT outcome FROM judgement WHERE take = ?", (take.take,)).fetchone()
    assert Outcome(outcome) is Outcome.CUT_SHORT
    assert log.close() is None


def test_two_programs_write_one_log_at_once_and_neither_loses_a_note(tmp_path):
    path = tmp_path / "practice.sqlite"
    processes = {seed: practise(path, seed, "5") for seed in (21, 22)}
    for seed, process in processes.items():
        told = [line.split() for line in process.communicate()[0].splitlines()]
        assert told[-1] == ["closed", "None"]
        played, ended = kept(path, seed)
        assert {(int(line[2]), int(line[3])) for line in told if line[0] == "played"} == played
        assert ended == set(range(1, 6))
