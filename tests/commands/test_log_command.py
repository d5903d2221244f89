"""`homefret log`: back-up, restore, export."""

import json
import shutil

import pytest

from game.commands.main import main
from game.paths import user_data
from tests.report.month import write_month


@pytest.fixture(scope="module")
def month(tmp_path_factory):
    path = tmp_path_factory.mktemp("month") / "practice.sqlite"
    write_month(path)
    return path


@pytest.fixture
def log(month):
    user_data().mkdir(parents=True, exist_ok=True)
    return shutil.copy(month, user_data() / "practice.sqlite")


def answer(capsys, *words):
    assert main(["log", *map(str, words), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_it_tells_how_many_takes_there_are_and_none_before_the_first(capsys, month):
    assert answer(capsys)["takes"] == 0
    shutil.copy(month, user_data() / "practice.sqlite")
    assert answer(capsys) == {
        "log": str(user_data() / "practice.sqlite"), "takes": 45, "file": None, "kept": None,
    }  # fmt: skip


def test_a_back_up_can_be_put_back_and_the_log_before_is_kept(capsys, log, tmp_path):
    assert answer(capsys, "--back-up", tmp_path / "b.sqlite")["takes"] == 45
    told = answer(capsys, "--restore", tmp_path / "b.sqlite")
    assert (told["takes"], told["file"]) == (45, str(tmp_path / "b.sqlite"))
    assert told["kept"].startswith(str(log).removesuffix(".sqlite"))


def test_an_export_tells_what_it_holds(capsys, log, tmp_path):
    told = answer(capsys, "--export", tmp_path / "me.zip")
    assert told["contents"]["format"] == "homefret practice export"
    assert told["takes"] == told["contents"]["rows"]["take"] == 45
    assert (tmp_path / "me.zip").is_file()
    assert str(log) == told["log"]


@pytest.mark.usefixtures("log")
def test_people_are_told_in_a_line(capsys, tmp_path):
    copy = tmp_path / "b.sqlite"
    for words, line in (
        (("--back-up", copy), f"45 takes copied into {copy}"),
        (("--export", tmp_path / "me.zip"), f"45 takes written to {tmp_path / 'me.zip'}"),
        ((), f"45 takes in {user_data() / 'practice.sqlite'}"),
    ):
        assert main(["log", *map(str, words)]) == 0
        assert capsys.readouterr().out == f"{line}\n"
    assert main(["log", "--restore", str(copy)]) == 0
    assert capsys.readouterr().out.startswith(f"45 takes restored from {copy}; the log before is kept in ")


def test_back_up_restore_and_export_are_done_one_at_a_time(capsys, tmp_path):
    with pytest.raises(SystemExit) as ended:
        main(["log", "--back-up", str(tmp_path / "a"), "--export", str(tmp_path / "b.zip")])
    assert ended.value.code == 2
    assert "not allowed with argument --back-up" in capsys.readouterr().err
