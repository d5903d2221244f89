"""A teacher erases a student: nothing of them is left in folder, gathered file or pages, and nobody else is missing."""

import json
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path
from uuid import UUID

import pytest

from game.commands.main import main
from game.errors import LogError
from game.paths import user_data
from game.player import erasing
from game.player.class_place import CLASSES, class_place
from game.player.players_file import PlayerError
from game.player.profiles import add_player
from game.player.written_pages import remember_page
from game.practice_log.classes import file_owner, student_log, students_in_folder
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer import log_without
from game.report.page_names import page_name
from tests.practice_log.classes.students import ADA, BEN, CEM, hand_in, student
from tests.practice_log.classes.two_in_a_log import two_in_a_log
from tests.refusing import refusal

ZOE = Identity(uuid=ADA.uuid, name="Zoë Quist")
STRANGER = UUID(int=9)
NEEDLES = (
    "Zoë".encode(),
    b"Quist",
    b"laptop",
    ADA.uuid.bytes,
    CEM.uuid.bytes,
    str(ADA.uuid).encode(),
    str(CEM.uuid).encode(),
    page_name(ADA.uuid).encode(),
)


@pytest.fixture(autouse=True)
def _without_children(monkeypatch):
    for module in (file_owner, student_log, students_in_folder, log_without):
        monkeypatch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))


@pytest.fixture(scope="module")
def handed_in(tmp_path_factory):
    """Zoë with two ids, three files and a part in a log of Ben's; Ben."""
    folder = tmp_path_factory.mktemp("handed in") / "class"
    computer = student(ZOE, 1, steps=4)
    computer.device = Identity(uuid=computer.device.uuid, name="Zoë's laptop")
    computer.say(About.SAME_PLAYER, player=str(CEM.uuid))
    computer.say(About.ASSIGNMENT, text="for Quist alone", digest="f" * 64, title="Quist's week", due="")
    hand_in(computer, folder / "Zoë Quist.zip")
    hand_in(computer, folder / "deep" / "again.zip", later_days=1)
    hand_in(student(Identity(uuid=CEM.uuid, name="Quist"), 3, steps=3), folder / "old laptop.zip")
    hand_in(student(BEN, 2, steps=4), folder / "ben.zip")
    two_in_a_log(folder / "both.sqlite", ZOE, Identity(uuid=BEN.uuid, name="Ben"), steps=4)
    shared = folder / "shared" / "homefret" / str(ADA.uuid)
    (shared / "assignments").mkdir(parents=True)
    (shared / "assignments" / "quist.toml").write_text("title = 'for Quist'")
    return folder


@pytest.fixture
def folder(handed_in, tmp_path):
    return shutil.copytree(handed_in, tmp_path / "class")


def pages(folder, names):
    """Pages as they are written of a class: of all, and of each."""
    folder.mkdir(exist_ok=True)
    index = folder / "index.html"
    index.write_text(
        '<meta name="generator" content="Homefret">' + "".join(f'<a href="{page_name(one)}">' for one in names)
    )
    for one, name in names.items():
        (folder / page_name(one)).write_text(f"<h1>{name}</h1>")
        (folder / page_name(one).replace(".html", "-takes.csv")).write_text(name)
    return index


def told(capsys, *words):
    assert main([*map(str, words), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def left(*folders):
    """Which needles are found, in names and bytes of all files."""
    files = [path for folder in folders for path in folder.rglob("*")]
    held = b"\n".join(path.read_bytes() for path in files if path.is_file())
    held += b"\n".join(str(path.name).encode() for path in files)
    return [needle for needle in NEEDLES if needle in held]


def students_of(place):
    with closing(sqlite3.connect(place)) as connection:
        return {name for (name,) in connection.execute("SELECT name FROM student")}


def test_nothing_of_them_is_left_anywhere_and_what_is_delivered_again_stays_out(folder, tmp_path, capsys):
    elsewhere, kept = tmp_path / "for print", tmp_path / "kept"
    shutil.copytree(folder, kept)
    told(capsys, "gather", folder)
    told(capsys, "gather", folder, "--into", tmp_path / "mine.sqlite")
    here = pages(folder, {ADA.uuid: "Zoë Quist", BEN.uuid: "Ben"})
    there = pages(elsewhere, {ADA.uuid: "Zoë Quist", STRANGER: "Ben"})
    remember_page(folder, class_place(folder), there)
    assert set(left(folder, user_data(), elsewhere)) == set(NEEDLES)

    answer = told(capsys, "erase", "--player", "zoë quist", "--from", folder, "--yes")
    assert set(answer["ids"]) == {str(ADA.uuid), str(CEM.uuid)}
    assert set(answer["to_write_anew"]) == {str(here), str(there)}
    assert (answer["logs"], answer["unknown"]) == ([str(folder / "both.sqlite")], [])
    assert left(folder, user_data(), elsewhere) == []
    assert not any(needle in (tmp_path / "mine.sqlite").read_bytes() for needle in NEEDLES)
    assert (elsewhere / page_name(STRANGER)).exists()

    assert told(capsys, "gather", folder)["students"] == 1
    assert students_of(class_place(folder)) == {"Ben"}
    shutil.copy(kept / "Zoë Quist.zip", folder / "a new name.zip")
    assert "a new name.zip is of a player who was erased here" in told(capsys, "gather", folder)["faults"][0]
    assert students_of(class_place(folder)) == {"Ben"}


@pytest.mark.parametrize("shown", [(), ("--initials",)])
def test_pages_and_marks_that_were_really_written_name_them_no_more(folder, tmp_path, capsys, shown):
    out = tmp_path / "for print"
    out.mkdir()
    (folder / "both.sqlite").unlink()
    told(capsys, "report", "--from", folder, "--out", out / "3b.html", "--marks", out / "marks.csv", *shown)
    others = out / page_name(BEN.uuid)
    assert (out / page_name(ADA.uuid)).exists()
    assert others.exists()
    answer = told(capsys, "erase", "--player", ADA.uuid, "--from", folder, "--yes")
    assert set(answer["to_write_anew"]) == {str(out / "3b.html"), str(out / "marks.csv")}
    assert left(out) == []
    assert others.exists()
    told(capsys, "report", "--from", folder, "--out", out / "3b.html", "--marks", out / "marks.csv", *shown)
    assert left(folder, out, user_data()) == []
    assert str(BEN.uuid) in (out / "marks.csv").read_text()


@pytest.mark.parametrize("who", [str(ADA.uuid), "zoë quist.zip"])
def test_the_list_that_names_them_still_is_told_and_pages_name_them_no_more_by_their_id(folder, tmp_path, capsys, who):
    (folder / "both.sqlite").unlink()
    names = tmp_path / "list.csv"
    names.write_text(f"{who},Zoë Q.\nben.zip,Benjamin\n", encoding="utf-8")
    told(capsys, "gather", folder, "--list", names)
    assert main(["erase", "--player", str(ADA.uuid), "--from", str(folder), "--yes"]) == 0
    assert f"The list of the class names them still; take their line out yourself: {names}" in capsys.readouterr().out
    if who == str(ADA.uuid):
        told(capsys, "report", "--from", folder)
        assert left(folder, user_data()) == []
    assert told(capsys, "erase", "--player", BEN.uuid, "--from", folder, "--yes")["lists"] == [str(names)]


@pytest.mark.parametrize("wanted", [str(ADA.uuid), str(CEM.uuid), "ada0".rjust(32, "0").upper(), " QUIST "])
def test_they_are_found_by_any_id_or_a_name(folder, wanted):
    assert erasing.player_files(wanted, folder).ids == {ADA.uuid, CEM.uuid}


def test_the_first_eight_digits_of_an_id_are_enough_and_seven_are_not(folder):
    other = Identity(uuid=UUID(int=0xDEADBEEF << 96), name="Dora")
    hand_in(student(other, 4, steps=2), folder / "dora.zip")
    assert erasing.player_files("DeadBeef", folder).ids == {other.uuid}
    with refusal(PlayerError, "no player 'deadbee' here .*Dora deadbeef"):
        erasing.player_files("deadbee", folder)


def test_where_several_are_called_so_all_are_named_with_a_file_and_nothing_goes(folder, capsys):
    other = Identity(uuid=UUID(int=0xDD << 100), name="Ben")
    hand_in(student(other, 4, steps=2), folder / "another ben.zip")
    before = sorted(folder.rglob("*"))
    assert main(["erase", "--player", "Ben", "--from", str(folder), "--yes"]) == 2
    said = capsys.readouterr().err
    assert f"Ben {BEN.uuid.hex[:8]} (ben.zip)" in said
    assert f"Ben {other.uuid.hex[:8]} (another ben.zip)" in said
    assert sorted(folder.rglob("*")) == before


def test_a_student_who_is_called_as_the_teacher_is_does_not_take_the_teacher_along(folder, capsys):
    teacher = add_player("Ben")
    assert main(["erase", "--player", "Ben", "--from", str(folder), "--yes"]) == 2
    assert "is said of several" in capsys.readouterr().err
    assert teacher.folder.exists()
    told(capsys, "erase", "--player", BEN.uuid, "--from", folder, "--yes")
    assert teacher.folder.exists()


def test_from_a_gathered_file_alone_they_are_erased_too(folder, tmp_path, capsys):
    told(capsys, "gather", folder, "--into", tmp_path / "mine.sqlite")
    index = pages(tmp_path / "for print", {ADA.uuid: "Zoë Quist", BEN.uuid: "Ben"})
    remember_page(tmp_path / "mine.sqlite", tmp_path / "mine.sqlite", index)
    answer = told(capsys, "erase", "--player", ADA.uuid, "--from", tmp_path / "mine.sqlite", "--yes")
    assert answer["classes"] == [str(tmp_path / "mine.sqlite")]
    assert not any(needle in (tmp_path / "mine.sqlite").read_bytes() for needle in NEEDLES)
    assert left(tmp_path / "for print") == []
    assert (folder / "Zoë Quist.zip").exists()


def test_what_stands_in_the_way_is_one_sentence_and_it_goes_on_from_there(folder, capsys, monkeypatch):
    told(capsys, "gather", folder)
    unlink = Path.unlink

    def refusing(path, **how):
        if path.name == "old laptop.zip":
            raise PermissionError(13, "Permission denied", str(path))
        unlink(path, **how)

    monkeypatch.setattr(Path, "unlink", refusing)
    assert main(["erase", "--player", str(ADA.uuid), "--from", str(folder), "--yes"]) == 2
    said = capsys.readouterr().err
    assert "old laptop.zip cannot be removed (Permission denied)" in said
    assert said.count("\n") == 1
    monkeypatch.undo()
    told(capsys, "erase", "--player", ADA.uuid, "--from", folder, "--yes")
    assert left(folder, user_data() / CLASSES) == []


def test_a_class_that_is_being_gathered_keeps_all_files_and_it_is_told(folder, capsys, monkeypatch):
    told(capsys, "gather", folder)

    def busy(*_):
        raise LogError("class.cannot_be_written", file="class.sqlite", reason="database is locked")

    monkeypatch.setattr(erasing, "erase_from_class", busy)
    assert main(["erase", "--player", str(ADA.uuid), "--from", str(folder), "--yes"]) == 2
    assert "database is locked" in capsys.readouterr().err
    monkeypatch.undo()
    assert (folder / "Zoë Quist.zip").exists()
    told(capsys, "erase", "--player", "Quist", "--from", folder, "--yes")
    assert left(folder, user_data()) == []


def test_files_of_which_nobody_knows_whose_they_are_are_named(folder, capsys):
    (folder / "noise.zip").write_bytes(b"PK noise")
    assert main(["erase", "--player", str(ADA.uuid), "--from", str(folder), "--yes"]) == 0
    said = capsys.readouterr().out
    assert (
        f"Nobody can tell whose these files are; look yourself, and delete what is theirs: {folder / 'noise.zip'}"
        in said
    )
    assert f"Others played into these too, and stay in them: {folder / 'both.sqlite'}" in said


def test_where_a_class_took_two_for_one_that_page_goes_and_the_other_has_one_of_their_own_again(
    folder, tmp_path, capsys
):
    """By a log into which both played."""
    out = tmp_path / "for print"
    out.mkdir()
    told(capsys, "report", "--from", folder, "--out", out / "3b.html")
    told(capsys, "erase", "--player", BEN.uuid, "--from", folder, "--yes")
    assert not [path for path in out.iterdir() if b"Ben" in path.read_bytes()]
    assert not list(out.glob("student-*"))
    told(capsys, "report", "--from", folder, "--out", out / "3b.html")
    assert [path.name for path in out.glob("student-*.html")] == [page_name(ADA.uuid)]
