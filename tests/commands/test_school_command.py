"""`homefret school` sets up a school, gives people their parts, and lists what each class practised."""

import shlex

import pytest

from game.commands.parser import command_parser
from game.paths import shipped
from tests.commands.running import answer, homefret, refused
from tests.practice_log.classes.students import ADA, BEN, NOW, hand_in, student

TODAY = ("--today", NOW.date().isoformat())


@pytest.fixture
def folder(tmp_path):
    hand_in(student(ADA, 1), tmp_path / "3a" / "ada.zip")
    hand_in(student(BEN, 2), tmp_path / "3a" / "ben.zip")
    return tmp_path / "3a"


def test_a_school_is_set_up_and_filled_and_listed_by_commands_alone(school_server, school, folder):
    """A database that was set up already may be set up again."""
    admin = school_server.address(school)
    done = homefret("school", admin, "--set-up", "--gatherer", "gwen", "--head", "hilda")
    assert (done.returncode, done.stderr) == (0, "")
    assert "gwen gathers" in done.stdout
    assert "there is no class yet" in done.stdout
    told = answer("school", admin, "--teacher", "tina", "--class", "3a")
    assert [(one["name"], one["teachers"], one["students"]) for one in told["classes"]] == [("3a", ["tina"], 0)]
    came = answer("gather", folder, "--into", school_server.address(school, "gwen"))
    assert (came["students"], came["changed"], came["faults"]) == (2, 2, [])
    assert came["file"] == school_server.address(school, "gwen")
    assert answer("gather", folder, "--into", school_server.address(school, "gwen"))["changed"] == 0
    (listed,) = answer("school", school_server.address(school, "hilda"), *TODAY)["classes"]
    assert (listed["students"], listed["teachers"]) == (2, ["tina"])
    told = homefret("school", school_server.address(school, "hilda"), *TODAY).stdout
    assert "students" in told
    assert "3a" in told
    assert "tina" in told
    page = folder.parent / "school.html"
    assert str(page) in homefret("school", school_server.address(school, "hilda"), *TODAY, "--out", page).stdout
    assert "tina" in page.read_text(encoding="utf-8")
    gone = homefret("school", admin, "--teacher", "tina", "--class", "3a", "--no-longer")
    assert "tina sees 3a no longer" in gone.stdout
    assert "does not see 3a" in refused("school", admin, "--teacher", "tina", "--class", "3a", "--no-longer")


def test_whoever_has_no_right_is_told_so_in_one_line(school_server, school):
    admin = school_server.address(school)
    answer("school", admin, "--teacher", "tina", "--class", "3a")
    for words in ((), ("--set-up",), ("--teacher", "tina", "--class", "3b"), ("--head", "tina")):
        assert "allows you none of that" in refused("school", school_server.address(school, "tina"), *words)


def test_a_teachers_pages_are_those_of_the_folder_to_the_letter(school_server, school, folder, tmp_path):
    answer("school", school_server.address(school), "--gatherer", "gwen", "--teacher", "tina", "--class", "3a")
    answer("gather", folder, "--into", school_server.address(school, "gwen"))
    sources = {"database": school_server.address(school, "tina"), "folder": folder}
    for name, source in sources.items():
        answer("report", "--from", source, "--out", tmp_path / name / "index.html", *TODAY)
    there, here = ({path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in sources)
    assert there == here
    assert len(there) > 3


def test_no_answer_and_no_message_holds_the_password(school_server, school):
    address = school_server.address(school, "admin", "s3cr3t")
    told = homefret("school", address, "--json", *TODAY)
    assert told.returncode == 0
    assert "everybody on this computer can see the password" in told.stdout
    assert "s3cr3t" not in told.stdout + told.stderr
    assert "s3cr3t" not in refused("school", school_server.address("no_such", "admin", "s3cr3t"))


def test_words_that_need_others_are_told_so():
    address = "postgresql:///school"
    assert "--class" in refused("school", address, "--class", "3a")
    assert "--class" in refused("school", address, "--teacher", "anna")
    assert "--no-longer" in refused("school", address, "--no-longer")
    assert ".html" in refused("school", address, "--out", "page.pdf")
    assert "is no address of a database" in refused("school", "class")


def test_a_class_is_named_for_a_school_alone(tmp_path):
    assert "--class" in refused("gather", tmp_path, "--class", "3a")


def test_a_database_that_is_away_is_one_line(tmp_path):
    pytest.importorskip("psycopg")
    address = f"postgresql:///school?host={tmp_path}"
    assert "no database answers" in refused("school", address)


def test_every_command_of_the_page_for_schools_is_one_that_the_program_understands():
    page = shipped("content", "school", "school.md").read_text(encoding="utf-8")
    blocks = [line for block in page.split("```")[1::2] for line in block.splitlines()]
    commands = [line.split("/bin/homefret ", 1)[1] for line in blocks if "/bin/homefret " in line]
    assert len(commands) >= 8
    for command in commands:
        words = shlex.split(command.partition(">>")[0])
        assert command_parser(words).parse_args(words).command == words[0]
