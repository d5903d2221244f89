"""What teachers' folders hold besides good exports: things made to do harm, thousands of files of other programs, names
nobody thought of, and somebody who saves a file while the class is gathered.
"""

import os
import re
import sqlite3
import sys
from contextlib import closing
from random import Random
from uuid import UUID

import pytest

from game.practice_log.classes import deliveries
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from tests.bench.hostile_exports import hostile_exports
from tests.commands.running import answer, homefret
from tests.practice_log.classes.students import ADA, BEN, CEM, NOW, hand_in, held, student
from tests.sampling import how_many, only_where_all_is_run, sample

# Made anew for each run: some of them are files of a gigabyte.
TAKES_LONG = ("a bomb", "a bomb of documents", "an endless line", "a million members")
HOSTILE = [(kind, maker) for kind, maker in hostile_exports() if kind not in TAKES_LONG]


def rows(into):
    with closing(sqlite3.connect(into)) as connection:
        return held(connection)


def test_hostile_exports_are_named_one_by_one_and_the_students_beside_them_are_there(tmp_path):
    folder = tmp_path / "class"
    hand_in(student(ADA, 1), folder / "ada.zip")
    hand_in(student(BEN, 2), folder / "ben.zip")
    alone = answer("gather", folder, "--into", tmp_path / "alone.sqlite")
    names = []
    for number, (_, maker) in enumerate(sample(HOSTILE, by_default=1)):
        (tmp_path / f"{number}").mkdir()
        made = maker(tmp_path / f"{number}" / "log.sqlite")
        names.append(f"{number:02} hostile{made.suffix}")
        made.rename(folder / names[-1])
    told = answer("gather", folder, "--into", tmp_path / "class.sqlite")
    assert alone["students"] == 2
    with closing(sqlite3.connect(tmp_path / "class.sqlite")) as connection:
        there = {UUID(bytes=row[0]) for row in connection.execute("SELECT student FROM student")}
        taken = {
            path for (path,) in connection.execute("SELECT path FROM delivery WHERE path LIKE '%hostile%'").fetchall()
        }
    assert {ADA.uuid, BEN.uuid} <= there
    # What is a folder is no file, and what says nothing wrong may be somebody's: everything else is named.
    named = {name for name in names if any(name in sentence for sentence in told["faults"])}
    files = {name for name in names if not (folder / name).is_dir()}
    assert files - named <= taken
    assert all("\n" not in sentence and len(sentence) < 400 for sentence in told["faults"])
    for row in rows(tmp_path / "alone.sqlite")["take"]:
        assert row in rows(tmp_path / "class.sqlite")["take"]


class OpenedFiles:
    """Which files this program opens, while it is asked to note that."""

    paths: list[str] | None = None

    @classmethod
    def heard(cls, event, args):
        if cls.paths is not None and event == "open" and isinstance(args[0], str | bytes):
            cls.paths.append(os.fsdecode(args[0]))


sys.addaudithook(OpenedFiles.heard)


def test_of_ten_thousand_files_only_those_that_may_be_exports_are_opened(tmp_path, monkeypatch):
    folder = tmp_path / "school"
    for number in range(how_many(10_000, by_default=600)):
        ending = (".jpg", ".pdf", ".docx", ".zip.part", ".mscz", "")[number % 6]
        place = folder / f"{number % 40:02}"
        place.mkdir(parents=True, exist_ok=True)
        if number % 97:
            (place / f"{number}{ending}").write_bytes(b"PK nothing of ours")
        else:
            # Whoever opens it waits for ever.
            os.mkfifo(place / f"{number}{ending}")
    hand_in(student(ADA, 1), folder / "ada.zip")
    (folder / "letters.zip").write_bytes(b"PK\x05\x06" + bytes(18))
    monkeypatch.setattr(OpenedFiles, "paths", [])
    gathered = gather_class(folder, tmp_path / "class.sqlite")
    opened = {path for path in OpenedFiles.paths if path.startswith(str(folder))}
    monkeypatch.setattr(OpenedFiles, "paths", None)
    assert (gathered.students, len(gathered.faults)) == (1, 1)
    assert opened <= {str(folder / name) for name in ("ada.zip", "letters.zip")}


def test_what_cannot_be_read_is_named_and_nobody_else_is_lost(tmp_path):
    folder = tmp_path / "class"
    hand_in(student(ADA, 1), folder / "ada.zip")
    (folder / "away.zip").symlink_to(tmp_path / "memory stick" / "away.zip")
    (folder / "round.zip").symlink_to(folder / "round.zip")
    (folder / "unpacked.zip").mkdir()
    os.mkfifo(folder / "pipe.zip")
    told = answer("gather", folder)
    assert told["students"] == 1
    for name in ("away.zip", "round.zip", "pipe.zip"):
        assert sum(name in sentence for sentence in told["faults"]) == 1, name
    assert len(told["faults"]) == 3


NAMES = (
    "../../x",
    "/etc/passwd",
    "<script>alert(1)</script>",
    "\u202etxet desrever",
    "Ä" * 500,
    "a\x00b\nc\x1b[31m",
    "'; DROP TABLE student; --",
    "\ud800",
    "  ",
)


def test_whatever_somebody_calls_themselves_they_are_in_the_class_and_nothing_lies_elsewhere(tmp_path):
    folder = tmp_path / "deep" / "down" / "class"
    names = sample(NAMES, by_default=3)
    for number, name in enumerate(names):
        plain = name.encode("utf-8", "replace").decode()
        hand_in(
            student(Identity(uuid=UUID(int=0xBAD0 + number), name=plain), number + 1, steps=4), folder / f"{number}.zip"
        )
    before = sorted(tmp_path.rglob("*"))
    told = answer("gather", folder, "--into", tmp_path / "class.sqlite")
    assert (told["students"], told["faults"]) == (len(names), [])
    assert sorted(path for path in tmp_path.rglob("*") if path not in before and "class.sqlite" not in path.name) == []
    with closing(sqlite3.connect(tmp_path / "class.sqlite")) as connection:
        called = [name for (name,) in connection.execute("SELECT name FROM student")]
    assert all(name.isprintable() and 0 < len(name) <= 60 for name in called)


@only_where_all_is_run("pages with pictures for each name")
def test_whatever_somebody_calls_themselves_their_pages_lie_in_the_folder_and_do_nothing(tmp_path):
    folder = tmp_path / "deep" / "down" / "class"
    for number, name in enumerate(NAMES):
        player = Identity(uuid=UUID(int=0xBAD0 + number), name=name.encode("utf-8", "replace").decode())
        hand_in(student(player, number + 1, steps=4), folder / f"{number}.zip")
    before = {path for path in tmp_path.rglob("*") if path != folder}
    told = answer("report", "--from", folder, "--today", NOW.date())
    assert len(told["students"]) + len(told["never_practised"]) == len(NAMES)
    written = {path for path in tmp_path.rglob("*") if path.is_file()} - before
    assert {path.parent for path in written} == {folder}
    assert all(re.fullmatch(r"index\.html|student-[0-9a-f]{12}(-\w+)?\.(html|csv)", path.name) for path in written)
    for page in folder.glob("*.html"):
        content = page.read_text(encoding="utf-8")
        assert "<script" not in content
        assert not set("\u202e\x00\x1b") & set(content)
    called = [one["name"] for one in (*told["students"], *told["never_practised"])]
    assert len(set(called)) == len(called)


LISTS = {
    "semicolons of a Western Windows": (";", "cp1252"),
    "tabs in UTF-16": ("\t", "utf-16"),
    "commas with a mark": (",", "utf-8-sig"),
}


@pytest.mark.parametrize("way", sample(LISTS, by_default=1))
def test_a_list_of_strange_names_in_strange_letters_names_whom_it_knows(tmp_path, way):
    divider, letters = LISTS[way]
    folder = tmp_path / "class"
    for number, player in enumerate((ADA, BEN, CEM), start=1):
        hand_in(student(player, number, steps=4), folder / f"{player.name}.zip")
    lines = [
        ("id", "name"),
        (str(ADA.uuid), "Jürgen <script>"),
        ("ben.ZIP", "../../Zoë"),
        (str(UUID(int=99)), "Nobody"),
        ("Cem", "É" * 500),
        ("only one cell",),
    ]
    text = "".join(f"{divider.join(cells)}\r\n" for cells in lines)
    (tmp_path / "list.csv").write_bytes(text.encode(letters))
    told = answer("gather", folder, "--into", tmp_path / "class.sqlite", "--list", tmp_path / "list.csv")
    with closing(sqlite3.connect(tmp_path / "class.sqlite")) as connection:
        named = dict(connection.execute("SELECT name, named FROM student").fetchall())
    assert (named["Ada"], named["Ben"]) == ("Jürgen <script>", "../../Zoë")
    assert named["Cem"].startswith("É" * 50)
    assert len(named["Cem"]) <= 60
    assert any("Nobody" in sentence for sentence in told["faults"])
    assert any("6" in sentence for sentence in told["faults"])


def test_somebody_in_two_classes_is_the_same_in_both(tmp_path):
    ada = student(ADA, 1, steps=6)
    for name in ("monday", "friday"):
        hand_in(ada, tmp_path / name / "ada.zip")
        hand_in(student(BEN if name == "monday" else CEM, 2, steps=4), tmp_path / name / "other.zip")
        answer("gather", tmp_path / name, "--into", tmp_path / f"{name}.sqlite")
    monday, friday = (rows(tmp_path / f"{name}.sqlite") for name in ("monday", "friday"))
    who = repr(ADA.uuid.bytes)
    for table in ("student", "take", "note", "day", "passage"):
        both = [[row for row in found[table] if who in row] for found in (monday, friday)]
        assert both[0] == both[1] != []
    assert repr(CEM.uuid.bytes) not in str(monday)
    assert repr(BEN.uuid.bytes) not in str(friday)


CHANGES = ("goes", "is cut off", "becomes another's", "grows", "comes")


@pytest.mark.parametrize("change", sample(CHANGES, by_default=1))
def test_a_folder_that_changes_while_it_is_gathered_comes_right_the_next_time(tmp_path, monkeypatch, change):
    folder, into = tmp_path / "class", tmp_path / "class.sqlite"
    ada, ben = student(ADA, 1), student(BEN, 2)
    hand_in(ada, folder / "ada.zip")
    hand_in(ben, folder / "ben.zip")
    owner_of, changed = deliveries.owner_of, []

    def owner_while_somebody_saves(path):
        owner = owner_of(path)
        if path.name == "ben.zip" and not changed:
            changed.append(path)
            if change == "goes":
                path.unlink()
            elif change == "is cut off":
                path.write_bytes(path.read_bytes()[:300])
            elif change == "becomes another's":
                path.unlink()
                hand_in(student(CEM, 3), path)
            elif change == "grows":
                path.unlink()
                hand_in(ben.practise(6), path)
            else:
                hand_in(student(CEM, 3), folder / "aaa.zip")
        return owner

    monkeypatch.setattr(deliveries, "owner_of", owner_while_somebody_saves)
    gather_class(folder, into)
    assert changed
    monkeypatch.setattr(deliveries, "owner_of", owner_of)
    # Ada is whole whatever became of the other.
    alone = tmp_path / "alone"
    hand_in(ada, alone / "ada.zip")
    gather_class(alone, tmp_path / "alone.sqlite")
    assert set(rows(tmp_path / "alone.sqlite")["take"]) <= set(rows(into)["take"])
    gather_class(folder, into)
    gather_class(folder, tmp_path / "anew.sqlite")
    assert rows(into) == rows(tmp_path / "anew.sqlite")


@only_where_all_is_run("exports of three students, twice")
def test_files_in_any_order_and_at_any_depth_are_the_same_class(tmp_path):
    rng, computers = Random(5), [student(player, number) for number, player in enumerate((ADA, BEN, CEM), start=1)]
    for way in ("flat", "deep"):
        for number, computer in enumerate(rng.sample(computers, 3)):
            hand_in(computer, tmp_path / way / ("a/b/c" if way == "deep" and number else ".") / f"{number}.ZIP".lower())
        done = homefret("gather", tmp_path / way, "--into", tmp_path / f"{way}.sqlite")
        assert done.returncode == 0
    assert rows(tmp_path / "flat.sqlite") == rows(tmp_path / "deep.sqlite")
