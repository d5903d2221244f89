"""What was judged again waits in a file of its own, which may be thrown away at any time."""

import sqlite3

import pytest

from game.practice_log.writing.judged_file import (
    DUE,
    FOLD,
    GoneThrough,
    JudgedFile,
    Waiting,
    delivered_so_far,
    judged_path,
)
from tests.practice_log.old_takes import in_time_take, old_judgement, played_by

TAKE = in_time_take()
JUDGEMENT = old_judgement(TAKE, played_by(TAKE, count=20))
KEYS = {1: "a 1 1", 2: "a 2 2", 3: "a 3 3"}


@pytest.fixture
def log(tmp_path):
    return tmp_path / "practice.sqlite"


def kept(log, judge=2):
    with JudgedFile(log, judge) as file:
        file.keep([GoneThrough(1, KEYS[1], JUDGEMENT), GoneThrough(2, KEYS[2], "said the same")])
        file.keep([GoneThrough(3, KEYS[3], JUDGEMENT)])


def test_what_was_found_out_is_there_at_the_next_start_the_newest_take_first(log):
    kept(log)
    with JudgedFile(log, 2) as file:
        assert file.known(KEYS) == {1, 2, 3}
        assert file.waiting(1) == [Waiting(3, JUDGEMENT)]
        assert [one.take for one in file.waiting(9)] == [3, 1]
        assert file.counts() == {"waiting": 2, "said the same": 1}


def test_what_is_in_the_log_waits_no_longer_and_all_is_to_be_made_anew(log):
    kept(log)
    with JudgedFile(log, 2) as file:
        assert (file.noted(FOLD), delivered_so_far(log)) == (None, 0)
        file.delivered([1, 3])
        file.tidy()
        assert (file.waiting(9), file.noted(FOLD), delivered_so_far(log)) == ([], DUE, 2)
        assert file.known(KEYS) == {1, 2, 3}


def test_takes_of_another_log_in_the_same_place_are_not_known(log):
    kept(log)
    with JudgedFile(log, 2) as file:
        assert file.known({1: KEYS[1], 2: "b 2 2"}) == {1}
        assert file.counts() == {"waiting": 1}


def test_what_another_judge_found_out_goes(log):
    kept(log)
    with JudgedFile(log, 3) as file:
        assert (file.known(KEYS), file.waiting(9)) == (set(), [])


def test_a_file_that_is_damaged_begins_anew(log):
    kept(log)
    path = judged_path(log)
    path.write_bytes(b"nothing of ours" + path.read_bytes()[15:])
    assert delivered_so_far(log) == 0
    with JudgedFile(log, 2) as file:
        assert file.known(KEYS) == set()


def test_damage_in_the_middle_of_it_is_found_where_all_of_it_is_gone_through(log):
    with JudgedFile(log, 2) as file:
        file.keep(GoneThrough(take, str(take), JUDGEMENT) for take in range(1, 200))
    path = judged_path(log)
    content = bytearray(path.read_bytes())
    content[3 * 4096 : 5 * 4096] = b"x" * 8192
    path.write_bytes(content)
    with JudgedFile(log, 2, checked=True) as file:
        assert (file.waiting(200), file.counts()) == ([], {})


def test_it_is_the_players_own(log):
    kept(log)
    assert judged_path(log).stat().st_mode & 0o077 == 0
    assert delivered_so_far(log.with_name("none")) == 0


def test_where_it_cannot_be_made_that_is_raised(tmp_path):
    (tmp_path / "practice.sqlite.judged").mkdir()
    with pytest.raises((sqlite3.Error, OSError)):
        JudgedFile(tmp_path / "practice.sqlite", 2)
