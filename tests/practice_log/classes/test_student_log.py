"""The files of a student come together in one log, and one that breaks off leaves nothing in it."""

import pytest

from game.practice_log.classes import student_log as module
from game.practice_log.classes.file_owner import FileOwner, owner_of
from game.practice_log.classes.student_log import student_log, told_of
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.text.catalogue import tell
from tests.practice_log.classes.students import ADA, BEN, hand_in, student


@pytest.fixture(autouse=True)
def read_here(monkeypatch):
    monkeypatch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))


def _files(*paths):
    return [(path, owner_of(path)) for path in paths]


def _count(connection, table):
    return connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0]


def test_two_exports_of_a_student_are_one_log_without_what_was_played(tmp_path):
    computer = student(ADA, 1)
    hand_in(computer, tmp_path / "old.zip")
    hand_in(computer.practise(6), tmp_path / "new.zip", later_days=1)
    with student_log(ADA.uuid, _files(tmp_path / "new.zip", tmp_path / "old.zip")) as log:
        for table in ("take", "judgement", "verdict", "coach_event", "entry"):
            assert _count(log.connection, table) == _count(computer.log, table)
        for table in ("played", "revised", "help", "name_given"):
            assert _count(log.connection, table) == 0
        first = "SELECT COUNT(*) FROM {} JOIN verdict USING (judgement, n) WHERE k = 1 AND verdict NOT IN {}"
        right = "('clean', 'early', 'late')"
        (wanted,) = computer.log.execute(first.format("answer", right)).fetchone()
        assert _count(log.connection, "answer") == wanted
        assert log.came[tmp_path / "old.zip"].new.total() == 0


def test_a_file_that_breaks_off_leaves_nothing_and_the_others_stand(tmp_path, monkeypatch):
    computer = student(ADA, 1, steps=8)
    hand_in(computer, tmp_path / "good.zip")
    hand_in(student(ADA, 2, steps=8), tmp_path / "bad.zip")

    def breaking(path, _):
        yield from documents_of_file(path)
        if path.name == "bad.zip":
            raise module.LogError("export.damaged", file=path.name, reason="it stops")

    monkeypatch.setattr(module, "limited_lines", breaking)
    with student_log(ADA.uuid, _files(tmp_path / "bad.zip", tmp_path / "good.zip")) as log:
        assert _count(log.connection, "take") == _count(computer.log, "take")
        assert [path.name for path in log.refused] == ["bad.zip"]
        assert "it stops" in tell(log.refused[tmp_path / "bad.zip"])


def test_entries_of_others_in_a_file_are_left_out_and_told(tmp_path, monkeypatch):
    hand_in(student(BEN, 1), tmp_path / "bens.zip")
    lines = b"".join(documents_of_file(tmp_path / "bens.zip")).replace(
        str(BEN.uuid).encode(), str(ADA.uuid).encode(), 1
    )
    owner = FileOwner((ADA.uuid,), "Ada", "2026")

    def altered(*_):
        yield lines

    monkeypatch.setattr(module, "limited_lines", altered)
    with student_log(ADA.uuid, [(tmp_path / "bens.zip", owner)]) as log:
        assert _count(log.connection, "take") == 0
        (came,) = log.came.values()
        assert came.others > 0
        assert ["another player" in tell(one) for one in told_of(tmp_path / "bens.zip", came)] == [True]


def test_a_file_whose_first_bytes_say_another_than_what_is_in_it_is_refused(tmp_path):
    hand_in(student(BEN, 1), tmp_path / "bens.zip")
    with student_log(ADA.uuid, [(tmp_path / "bens.zip", FileOwner((ADA.uuid,), "Ada", "2026"))]) as log:
        assert [path.name for path in log.refused] == ["bens.zip"]
