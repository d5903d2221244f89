"""The small files of marks that lay beside a log, before the log kept them."""

import os
from datetime import UTC, datetime, timedelta

from game.player import old_marks
from game.player.old_marks import read_old_marks, time_of_file
from game.practice_log.rows.entry_rows import About

NOW = datetime(2026, 11, 29, 12, tzinfo=UTC)
A, B = "a" * 32, "b" * 32


def keep(folder, name, text, at=NOW - timedelta(days=2)):
    path = folder / name
    path.write_text(text)
    os.utime(path, (at.timestamp(), at.timestamp()))
    return path


def contents(folder):
    return {marks.path.name: [fact.content for fact in marks.facts] for marks in read_old_marks(folder, NOW)}


def test_each_file_says_its_own_and_is_of_its_time(tmp_path):
    keep(tmp_path, "seen.txt", "ode-to-joy\n01-au-clair\node-to-joy\n")
    keep(tmp_path, "known-by-ear.txt", f"{A}\n")
    keep(tmp_path, "lines-seen.txt", f"{A}\n{B}\n")
    assert contents(tmp_path) == {
        "seen.txt": [{"tune": "ode-to-joy"}, {"tune": "01-au-clair"}],
        "known-by-ear.txt": [{"tune": A, "known": True}],
        "lines-seen.txt": [{"fingerprints": [A, B]}],
    }
    assert {marks.at for marks in read_old_marks(tmp_path, NOW)} == {NOW - timedelta(days=2)}


def test_without_files_nothing_is_said(tmp_path):
    assert read_old_marks(tmp_path, NOW) == ()
    assert read_old_marks(tmp_path / "nowhere", NOW) == ()


def test_what_is_no_mark_in_a_damaged_file_is_passed_over(tmp_path):
    for name in ("seen.txt", "known-by-ear.txt", "lines-seen.txt"):
        (tmp_path / name).write_bytes(b"\xff\xfe nonsense\n../etc\n" + A.encode() + b"\n" + bytes(range(256)) * 50)
    told = contents(tmp_path)
    assert told["seen.txt"] == [{"tune": A}]
    assert told["known-by-ear.txt"] == [{"tune": A, "known": True}]
    assert told["lines-seen.txt"] == [{"fingerprints": [A]}]


def test_many_lines_are_said_in_parts(tmp_path, monkeypatch):
    monkeypatch.setattr(old_marks, "_AT_ONCE", 2)
    marks = [f"{number:032x}" for number in range(5)]
    keep(tmp_path, "lines-seen.txt", "\n".join(marks))
    assert contents(tmp_path)["lines-seen.txt"] == [{"fingerprints": marks[at : at + 2]} for at in (0, 2, 4)]


def test_a_file_is_never_of_later_than_now(tmp_path):
    ahead = keep(tmp_path, "seen.txt", "ode", NOW + timedelta(days=400))
    assert time_of_file(ahead, NOW) == NOW
    long_ago = keep(tmp_path, "seen.txt", "ode", datetime(1960, 1, 1, tzinfo=UTC))
    assert time_of_file(long_ago, NOW) == datetime(1970, 1, 1, tzinfo=UTC)


def test_about_what_it_is_stands_with_each(tmp_path):
    keep(tmp_path, "seen.txt", "ode\n")
    ((fact,),) = [marks.facts for marks in read_old_marks(tmp_path, NOW)]
    assert fact.about is About.OPENED_TUNE
