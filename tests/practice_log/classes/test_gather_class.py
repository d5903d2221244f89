"""A folder of exports, logs and shared folders becomes one file, student by student, and only what changed is read."""

import errno
import json
import os
import shutil
import sqlite3
import zipfile
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.classes import deliveries, file_owner, student_log
from game.practice_log.classes import gather_class as module
from game.practice_log.classes.gather_class import gather_class, how_many_processes
from game.practice_log.classes.helper_processes import HelperProcesses
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer.erased import mark_erased
from game.practice_log.transfer.export import Exported
from game.text.catalogue import tell
from tests.practice_log.classes.students import ADA, BEN, CEM, counts, hand_in, held, student
from tests.practice_log.transfer.practised import Computer
from tests.refusing import refusal


@pytest.fixture(autouse=True)
def read_here(request, monkeypatch):
    """Files are read without a child of their own, but in the tests that are about it: it costs some tenths a file."""
    if "by_child" not in request.fixturenames:
        for module_of in (file_owner, student_log):
            monkeypatch.setattr(module_of, "limited_lines", lambda path, _: documents_of_file(path))


@pytest.fixture
def by_child():
    """Files are read as they are for a teacher."""


@pytest.fixture
def room(tmp_path):
    """A folder, and the file of its class."""
    folder = tmp_path / "class"
    folder.mkdir()
    return folder, tmp_path / "class.sqlite"


def rows_of(into):
    with closing(sqlite3.connect(into)) as connection:
        return held(connection)


def takes_of(into):
    with closing(sqlite3.connect(into)) as connection:
        return counts(connection, "take")


def judged_takes(computer):
    return computer.log.execute("SELECT COUNT(DISTINCT take) FROM judgement").fetchone()[0]


def told(gathered):
    return [tell(fault) for fault in gathered.faults]


def test_each_student_of_a_folder_is_there_with_the_figures_of_their_own_log(room):
    folder, into = room
    computers = [student(player, number) for number, player in enumerate((ADA, BEN), start=1)]
    for computer in computers:
        hand_in(computer, folder / f"{computer.player.name}.zip")
    gathered = gather_class(folder, into)
    assert (gathered.students, gathered.changed, gathered.read, gathered.faults) == (2, 2, 2, [])
    with closing(sqlite3.connect(into)) as connection:
        for computer in computers:
            who = (computer.player.uuid.bytes,)
            with figures_of(computer.log, computer.player.uuid) as figures:
                days = [(day.day.isoformat(), day.takes, day.read, day.clean) for day in figures.days()]
                passages = [(one.key, one.takes, one.clean_bpm) for one in figures.passages()]
            kept = connection.execute("SELECT day, takes, read, clean FROM day WHERE student = ? ORDER BY day", who)
            assert kept.fetchall() == days
            kept = connection.execute("SELECT passage_key, takes, clean_bpm FROM passage WHERE student = ?", who)
            assert sorted(kept.fetchall()) == sorted(passages)


def test_what_is_as_it_was_is_not_read_again_and_what_grew_adds_only_what_is_new(room, monkeypatch):
    folder, into = room
    ada, ben = student(ADA, 1), student(BEN, 2)
    hand_in(ada, folder / "ada.zip")
    hand_in(ben, folder / "ben.zip")
    first = gather_class(folder, into)
    monkeypatch.setattr(deliveries, "_RACY_NS", 0)
    again = gather_class(folder, into)
    assert (again.students, again.read, again.takes) == (2, 0, 0)
    before = judged_takes(ada)
    hand_in(ada.practise(8), folder / "ada.zip")
    grown = gather_class(folder, into)
    assert (grown.read, grown.changed) == (1, 1)
    assert grown.takes == judged_takes(ada) - before > 0
    assert first.takes + grown.takes == sum(takes_of(into).values())


def test_gathering_again_and_again_comes_to_the_same_as_gathering_at_the_end(room, tmp_path):
    folder, into = room
    ada = Computer(1, player=ADA, seed=4)
    for week in range(4):
        hand_in(ada.practise(8), folder / "ada.zip", later_days=7 * week)
        gather_class(folder, into)
    gather_class(folder, tmp_path / "at the end.sqlite")
    assert rows_of(into) == rows_of(tmp_path / "at the end.sqlite")


def test_it_is_told_which_student_is_gone_through_and_nothing_where_all_is_as_it_was(room, monkeypatch):
    folder, into = room
    monkeypatch.setattr(deliveries, "_RACY_NS", 0)
    for number, player in enumerate((ADA, BEN), start=1):
        hand_in(student(player, number, steps=2), folder / f"{player.name}.zip")
    heard = []
    gather_class(folder, into, tell=lambda *of: heard.append(of))
    assert heard == [(1, 2), (2, 2), (3, 2)]
    gather_class(folder, into, tell=lambda *of: heard.append(of))
    assert len(heard) == 3


def test_a_file_that_changed_within_the_same_second_is_read_again(room):
    folder, into = room
    ada = student(ADA, 1)
    hand_in(ada, folder / "ada.zip")
    gather_class(folder, into)
    stat = (folder / "ada.zip").stat()
    old = (folder / "ada.zip").read_bytes()
    hand_in(ada.practise(6), folder / "ada.zip")
    grown = (folder / "ada.zip").read_bytes()
    assert len(grown) != len(old)
    os.utime(folder / "ada.zip", ns=(stat.st_atime_ns, stat.st_mtime_ns))
    assert gather_class(folder, into).read == 1


def test_old_and_new_exports_are_one_student_and_the_old_one_is_read_but_once(room, monkeypatch):
    folder, into = room
    monkeypatch.setattr(deliveries, "_RACY_NS", 0)
    ada = student(ADA, 1)
    hand_in(ada, folder / "november.zip")
    hand_in(ada.practise(8), folder / "december.zip", later_days=7)
    assert gather_class(folder, into).read == 2
    assert takes_of(into) == {ADA.uuid: judged_takes(ada)}
    hand_in(ada.practise(8), folder / "january.zip", later_days=14)
    assert gather_class(folder, into).read == 2
    assert takes_of(into) == {ADA.uuid: judged_takes(ada)}


def test_exports_of_single_weeks_come_together_and_go_with_their_files(room):
    folder, into = room
    ada = student(ADA, 1, steps=10)
    hand_in(ada, folder / "first.zip")
    whole = judged_takes(ada)
    ada.minutes += 14 * 1440
    since = ada.now.date()
    hand_in(ada.practise(10), folder / "second.zip", later_days=14, what=Exported(since=since))
    gather_class(folder, into)
    assert takes_of(into) == {ADA.uuid: judged_takes(ada)}
    (folder / "second.zip").unlink()
    gather_class(folder, into)
    assert takes_of(into) == {ADA.uuid: whole}


def test_who_is_known_by_two_ids_is_one_student_once_an_export_says_so(room):
    folder, into = room
    school, home = student(BEN, 1), student(Identity(uuid=ADA.uuid, name="Ben"), 2)
    hand_in(school, folder / "school.zip")
    hand_in(home, folder / "home.zip")
    assert gather_class(folder, into).students == 2
    school.say(About.SAME_PLAYER, player=str(ADA.uuid))
    hand_in(school, folder / "school.zip", later_days=1)
    assert gather_class(folder, into).students == 1
    assert takes_of(into) == {min(ADA.uuid, BEN.uuid): judged_takes(school) + judged_takes(home)}


def test_two_of_the_same_name_stay_two_and_one_in_two_classes_is_one(room):
    folder, into = room
    other = Identity(uuid=CEM.uuid, name=ADA.name)
    ada = student(ADA, 1)
    hand_in(ada, folder / "monday" / "ada.zip")
    hand_in(ada, folder / "friday" / "ada again.zip")
    hand_in(student(other, 2), folder / "monday" / "ada2.zip")
    assert gather_class(folder, into).students == 2
    assert takes_of(into)[ADA.uuid] == judged_takes(ada)


def test_shared_folders_and_logs_are_gathered_beside_exports(room, tmp_path):
    folder, into = room
    path = tmp_path / "practice.sqlite"
    at_school = Computer(1, player=ADA, path=path).practise(10)
    at_home = Computer(2, player=ADA, seed=3).practise(10)
    hand_in(at_home, folder / "shared" / "homefret" / str(ADA.uuid) / str(at_home.device.uuid) / "open.zip")
    at_school.log.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    shutil.copy(path, folder / "ada.sqlite")
    assert told(gather_class(folder, into)) == []
    assert takes_of(into) == {ADA.uuid: judged_takes(at_school) + judged_takes(at_home)}


def test_who_was_erased_is_taken_out_and_stays_out_when_their_file_comes_again(room):
    folder, into = room
    for number, player in enumerate((ADA, BEN), start=1):
        hand_in(student(player, number), folder / f"{player.name}.zip")
    gather_class(folder, into)
    mark_erased(folder, [ADA.uuid], date(2026, 12, 1))
    for _ in range(2):
        gathered = gather_class(folder, into)
        assert ["erased" in sentence for sentence in told(gathered)] == [True]
        assert takes_of(into).keys() == {BEN.uuid}
        assert ADA.uuid.bytes not in into.read_bytes()
        hand_in(student(ADA, 1), folder / "again.zip")
        (folder / "Ada.zip").unlink(missing_ok=True)


def test_a_file_that_was_nobodys_to_read_is_read_once_it_may_be(room, monkeypatch):
    """Whoever gives the right to read a file changes nothing in it, nor when it was changed."""
    folder, into = room
    hand_in(student(ADA, 1), folder / "ada.zip")
    os.utime(folder / "ada.zip", (10**9, 10**9))
    with monkeypatch.context() as patched:
        patched.setattr(Path, "open", denied)
        assert ["cannot be opened" in one for one in told(gather_class(folder, into))] == [True]
    assert told(gather_class(folder, into)) == []
    assert takes_of(into).keys() == {ADA.uuid}


def denied(*_, **__):
    raise PermissionError(errno.EACCES, "Permission denied")


def test_nobody_erases_another_by_a_mark_in_a_folder_of_their_own(room):
    """Who knows another's id leaves a mark of it beside their own files, and a copy of the other's export."""
    folder, into = room
    hand_in(student(ADA, 1), folder / "ada" / "ada.zip")
    hand_in(student(BEN, 2), folder / "ben" / "ben.zip")
    mark_erased(folder / "ben", [ADA.uuid], date(2026, 12, 1))
    hand_in(student(ADA, 1), folder / "ben" / "copied.zip")
    sentences = told(gather_class(folder, into))
    assert takes_of(into).keys() == {ADA.uuid, BEN.uuid}
    assert [
        "ada/ada.zip" in one and "ben/erased-" in one for one in sentences if "counts in its own folder" in one
    ] == [True]
    assert ["copied.zip" in one for one in sentences if "was erased here" in one] == [True]


def test_a_mark_of_this_computer_counts_for_every_folder(room, tmp_path):
    folder, into = room
    hand_in(student(ADA, 1), folder / "ada.zip")
    mark_erased(tmp_path, [ADA.uuid], date(2026, 12, 1))
    assert gather_class(folder, into, marks=[tmp_path]).students == 0


def spoilt(folder, whole):
    """Files that are broken, each in another way, by name."""
    (folder / "cut.zip").write_bytes(whole.read_bytes()[: whole.stat().st_size // 2])
    (folder / "letter.zip").write_bytes(b"hello")
    (folder / "none.sqlite").write_bytes(b"SQLite format 3\0" + bytes(4000))
    with zipfile.ZipFile(folder / "other.zip", "w") as other:
        other.writestr("letter.txt", "hello")
    with zipfile.ZipFile(whole) as good:
        contents, entries = good.read("contents.json"), good.read("entries.jsonl")
    made = {
        "half.zip": (contents, entries + b"{" * 5_000_000),
        "newer.zip": (json.dumps(json.loads(contents) | {"version": 9}).encode(), entries),
        "names.zip": (contents.replace(str(ADA.uuid).encode(), b"somebody"), entries),
    }
    for name, (head, rest) in made.items():
        with zipfile.ZipFile(folder / name, "w") as bad:
            bad.writestr("contents.json", head)
            bad.writestr("entries.jsonl", rest)
    return ["cut.zip", "half.zip", "letter.zip", "names.zip", "newer.zip", "none.sqlite", "other.zip"]


@pytest.mark.usefixtures("by_child")
def test_each_broken_file_is_named_in_one_sentence_every_time_and_the_rest_is_gathered(room, tmp_path):
    folder, into = room
    ada = student(ADA, 1)
    hand_in(ada, folder / "good.zip")
    names = spoilt(folder, folder / "good.zip")
    first = told(gather_class(folder, into))
    assert sorted(name for name in names for sentence in first if name in sentence) == names
    assert len(first) == len(names)
    assert all("\n" not in sentence for sentence in first)
    assert sorted(told(gather_class(folder, into))) == sorted(first)
    alone = tmp_path / "alone"
    hand_in(ada, alone / "good.zip")
    gather_class(alone, tmp_path / "alone.sqlite")
    assert rows_of(into) == rows_of(tmp_path / "alone.sqlite")


def test_an_export_that_says_it_is_everybodys_is_refused(room):
    folder, into = room
    ada, ben = student(ADA, 1), student(BEN, 2)
    for number in range(20):
        ada.say(About.SAME_PLAYER, player=str(Identity(uuid=type(ADA.uuid)(int=0xBE00 + number)).uuid))
    hand_in(ada, folder / "ada.zip")
    hand_in(ben, folder / "ben.zip")
    gathered = gather_class(folder, into)
    assert ["ada.zip" in sentence for sentence in told(gathered)] == [True]
    assert takes_of(into).keys() == {BEN.uuid}


def test_thousands_of_files_of_other_programs_cost_no_child_each(room, monkeypatch):
    folder, into = room
    for number in range(300):
        (folder / f"{number}.zip").write_bytes(b"PK\x05\x06" + bytes(18))
    hand_in(student(ADA, 1), folder / "ada.zip")

    def never(*_):
        raise AssertionError("a child was started")

    monkeypatch.setattr("game.practice_log.classes.file_owner.limited_lines", never)
    gathered = gather_class(folder, into)
    assert (gathered.students, len(gathered.faults)) == (1, 300)


def test_what_breaks_off_in_the_middle_leaves_whole_students_and_goes_on_next_time(room, tmp_path, monkeypatch):
    folder, into = room
    for number, player in enumerate((ADA, BEN, CEM), start=1):
        hand_in(student(player, number), folder / f"{player.name}.zip")
    take = module.take_over
    seen = []

    def dies(connection, who, staged):
        seen.append(who)
        take(connection, who, staged)
        if len(seen) == 2:
            raise KeyboardInterrupt

    monkeypatch.setattr(module, "take_over", dies)
    with pytest.raises(KeyboardInterrupt):
        gather_class(folder, into)
    assert takes_of(into).keys() == {seen[0]}
    monkeypatch.setattr(module, "take_over", take)
    monkeypatch.setattr(deliveries, "_RACY_NS", 0)
    assert gather_class(folder, into).read == 2
    gather_class(folder, tmp_path / "anew.sqlite")
    assert rows_of(into) == rows_of(tmp_path / "anew.sqlite")


def _no_parts_of_ben(_log, player):
    if player == BEN.uuid:
        os._exit(1)
    return ()


@pytest.mark.usefixtures("by_child")
def test_whose_process_breaks_off_is_named_and_the_others_are_gathered_as_one_process_would(
    room, tmp_path, monkeypatch
):
    folder, into = room
    for number, player in enumerate((ADA, BEN), start=1):
        hand_in(student(player, number, steps=4), folder / f"{player.name}.zip")
    monkeypatch.setattr(module, "how_many_processes", lambda *_: 2)
    gathered = gather_class(folder, into, parts_of=_no_parts_of_ben)
    assert ["Ben.zip" in sentence for sentence in told(gathered)] == [True]
    assert takes_of(into).keys() == {ADA.uuid}
    monkeypatch.setattr(module, "how_many_processes", lambda *_: 1)
    assert told(gather_class(folder, into)) == []
    gather_class(folder, tmp_path / "anew.sqlite")
    assert rows_of(into) == rows_of(tmp_path / "anew.sqlite")


@pytest.mark.parametrize(
    ("students", "size_bytes", "expected"),
    [
        pytest.param(1, 10**9, 1, id="one student"),
        pytest.param(400, 100_000, 0, id="little to read"),
        pytest.param(400, 10**9, 6, id="as many as there are"),
    ],
)
def test_processes_are_started_where_there_is_enough_to_read(monkeypatch, students, size_bytes, expected):
    monkeypatch.setattr(module, "most_processes", lambda: 6)
    assert how_many_processes(students, size_bytes) == expected


def test_what_somebody_else_gathered_meanwhile_is_not_lost(room, tmp_path, monkeypatch):
    folder, into = room
    ada = student(ADA, 1)
    hand_in(ada, folder / "ada.zip")
    answers = HelperProcesses.answers

    def slowly(helpers, do, tasks, processes):
        for task, answer in answers(helpers, do, tasks, processes):
            monkeypatch.setattr(HelperProcesses, "answers", answers)
            hand_in(ada.practise(6), folder / "ada.zip", later_days=1)
            gather_class(folder, into)
            yield task, answer

    monkeypatch.setattr(HelperProcesses, "answers", slowly)
    gather_class(folder, into)
    gather_class(folder, tmp_path / "anew.sqlite")
    assert rows_of(into) == rows_of(tmp_path / "anew.sqlite")


def test_a_folder_that_is_none_and_a_file_that_is_another_are_refused_and_stay(room, tmp_path):
    folder, into = room
    with refusal(LogError, "no folder"):
        gather_class(tmp_path / "nowhere", into)
    into.write_bytes(b"my diary")
    with refusal(LogError, "class.sqlite"):
        gather_class(folder, into)
    assert into.read_bytes() == b"my diary"


def test_the_file_of_the_class_may_lie_in_the_folder_it_is_made_of(room):
    folder, _ = room
    hand_in(student(ADA, 1), folder / "ada.zip")
    for _ in range(2):
        gathered = gather_class(folder, folder / "class.sqlite")
        assert (gathered.students, gathered.faults) == (1, [])


def test_whoever_is_missed_is_told_once_with_the_file_that_is_gone_and_nobody_who_was_erased(room):
    folder, into = room
    for number, player in enumerate((ADA, BEN, CEM), start=1):
        hand_in(student(player, number, steps=2), folder / f"{player.name}.zip")
    assert gather_class(folder, into).faults == []
    (folder / "Ada.zip").unlink()
    (folder / "Ben.zip").unlink()
    mark_erased(folder, [BEN.uuid], date(2026, 3, 20))
    (folder / "Cem.zip").write_bytes(b"")
    told = [(fault.key, dict(fault.values)) for fault in gather_class(folder, into).faults]
    assert told == [("gather.empty_file", {"file": "Cem.zip"}), ("gather.gone", {"file": "Ada.zip"})]
    assert [fault.key for fault in gather_class(folder, into).faults] == ["gather.empty_file"]
