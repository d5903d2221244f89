"""A player or a device keeps its id from run to run."""

import threading
from uuid import UUID

from game.practice_log.database.identity import read_or_make_identity


def test_an_identity_is_made_once_and_kept(tmp_path):
    made = read_or_make_identity(tmp_path / "there" / "device.json", name="la guitarra dé Ana")
    assert read_or_make_identity(tmp_path / "there" / "device.json", name="other") == made
    assert made.name == "la guitarra dé Ana"
    assert [path.name for path in (tmp_path / "there").iterdir()] == ["device.json"]


def test_a_file_that_makes_no_sense_is_written_anew(tmp_path):
    path = tmp_path / "device.json"
    path.write_text("[1, 2", encoding="utf-8")
    made = read_or_make_identity(path)
    assert read_or_make_identity(path) == made


def test_programs_that_begin_at_once_agree_on_one_identity(tmp_path):
    found, start = set(), threading.Barrier(8)

    def begin():
        start.wait()
        found.add(read_or_make_identity(tmp_path / "device.json"))

    threads = [threading.Thread(target=begin) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 1


def test_where_nothing_can_be_written_an_identity_holds_for_this_run(tmp_path):
    (tmp_path / "in the way").write_text("", encoding="utf-8")
    chosen = UUID(int=7)
    assert read_or_make_identity(tmp_path / "in the way" / "device.json", new_uuid=lambda: chosen).uuid == chosen
