"""`homefret log`: back-up, restore, export."""

import json
import shutil
from uuid import UUID

import pytest

from game.commands import log_command
from game.commands.main import main
from game.paths import user_data
from game.practice_log.database.identity import Identity
from game.practice_log.database.opening import opened_log
from game.practice_log.transfer.log_fingerprint import fingerprint
from game.text.catalogue import say
from tests.practice_log.logged_takes import DEVICE, PLAYER
from tests.practice_log.transfer.practised import Computer
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
    told = answer(capsys)
    assert (told["log"], told["takes"]) == (str(user_data() / "practice.sqlite"), 45)
    assert (told["file"], told["kept"]) == (None, None)


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
    ):
        assert main(["log", *map(str, words)]) == 0
        assert capsys.readouterr().out.splitlines()[-1] == line
    assert main(["log", "--restore", str(copy)]) == 0
    assert capsys.readouterr().out.startswith(f"45 takes restored from {copy}; the log before is kept in ")


def test_one_take_is_told_as_one():
    for key in ("backed_up", "exported", "restored", "restored_over_another"):
        assert say(f"command.log.{key}", count=1, file="me.zip", kept="old").startswith("1 take ")


def test_back_up_restore_and_export_are_done_one_at_a_time(capsys, tmp_path):
    with pytest.raises(SystemExit) as ended:
        main(["log", "--back-up", str(tmp_path / "a"), "--export", str(tmp_path / "b.zip")])
    assert ended.value.code == 2
    assert "not allowed with argument --back-up" in capsys.readouterr().err


def test_it_tells_whose_it_is_of_which_devices_which_days_and_how_much(capsys, log):
    told = answer(capsys)
    assert told["player"] == {"id": str(PLAYER.uuid), "name": PLAYER.name}
    assert told["devices"] == [{"id": str(DEVICE.uuid), "name": DEVICE.name, "takes": 45}]
    assert (told["days"], told["first"], told["last"]) == (15, "2026-11-25", "2026-12-23")
    with opened_log(log) as connection:
        assert (told["notes"],) == connection.execute("SELECT COUNT(*) FROM played").fetchone()
        assert told["fingerprint"] == fingerprint(connection)


@pytest.mark.usefixtures("log")
def test_people_are_told_the_same_in_words(capsys):
    assert main(["log"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"45 takes in {user_data() / 'practice.sqlite'}"
    assert lines[1] == "Player: Ada"
    assert lines[2].startswith("Practised on 15 days, from 25 November 2026 to 23 December 2026; ")
    assert lines[3] == "On 1 device: the old laptop, 45 takes."
    assert lines[4].startswith("Fingerprint: ")


def test_before_the_first_take_nobody_and_no_day_is_told(capsys):
    told = answer(capsys)
    assert (told["player"], told["devices"], told["days"], told["first"], told["fingerprint"]) == (
        None,
        [],
        0,
        None,
        None,
    )


@pytest.fixture
def another(tmp_path):
    """The log of the player's other computer."""
    computer = Computer(1, path=tmp_path / "other" / "practice.sqlite")
    for _ in range(3):
        computer.play()
    yield computer
    computer.log.close()


@pytest.mark.usefixtures("log", "another")
def test_what_was_practised_elsewhere_is_gathered(capsys, tmp_path):
    path = tmp_path / "other"
    told = answer(capsys, "--gather", path)
    assert told["gathered"] == {
        "files": 1, "takes": 3, "devices": 1, "new": 3, "new_entries": told["gathered"]["new_entries"], "faults": [],
    }  # fmt: skip
    assert (told["takes"], len(told["devices"])) == (48, 2)
    assert main(["log", "--gather", str(path)]) == 0
    assert capsys.readouterr().out == "All of it was gathered before.\n"


@pytest.mark.usefixtures("log", "another")
def test_how_much_came_and_what_was_new_is_said_and_what_cannot_be_read_named_at_the_end(capsys, tmp_path):
    (tmp_path / "broken.zip").write_bytes(b"PK nothing")
    assert main(["log", "--gather", str(tmp_path / "broken.zip"), str(tmp_path / "other")]) == 0
    first, second = capsys.readouterr().out.splitlines()
    assert first == "3 takes came, of 1 device; 3 of them are new."
    assert second.startswith("broken.zip cannot be read")


@pytest.mark.usefixtures("log")
def test_where_nothing_can_be_read_it_ends_with_a_mistake(capsys, tmp_path):
    (tmp_path / "broken.zip").write_bytes(b"PK nothing")
    assert main(["log", "--gather", str(tmp_path / "broken.zip")]) == 2
    assert "broken.zip cannot be read" in capsys.readouterr().err


@pytest.mark.usefixtures("log")
def test_another_players_log_needs_the_word_that_both_are_one(capsys, tmp_path):
    ben = Identity(uuid=UUID(int=9), name="Ben")
    other = Computer(1, path=tmp_path / "other.sqlite", player=ben)
    other.play()
    assert main(["log", "--gather", str(tmp_path / "other.sqlite")]) == 2
    assert "another player's (Ben): say --as-one" in capsys.readouterr().err
    assert answer(capsys, "--gather", tmp_path / "other.sqlite", "--as-one")["takes"] == 46
    other.log.close()


@pytest.mark.usefixtures("log")
def test_a_folder_is_shared_until_that_is_taken_back(capsys, tmp_path):
    (tmp_path / "cloud").mkdir()
    assert answer(capsys, "--share", tmp_path / "cloud")["shared"] == str(tmp_path / "cloud")
    assert list((tmp_path / "cloud" / "homefret" / str(PLAYER.uuid)).iterdir())
    assert main(["log", "--share", ""]) == 0
    assert capsys.readouterr().out == "Shared no longer; what lies in the folder stays.\n"
    assert list((tmp_path / "cloud" / "homefret").iterdir())
    assert answer(capsys, "--share", "")["shared"] is None


@pytest.mark.usefixtures("log")
def test_an_export_since_a_day_and_without_notes_says_so(capsys, tmp_path):
    contents = answer(capsys, "--export", tmp_path / "a.zip", "--since", "2026-12-20", "--without-notes")["contents"]
    assert (contents["since"], contents["with_notes"], contents["rows"]["take"], contents["rows"]["played"]) == (
        "2026-12-20", False, 6, 0,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (("--since", "2026-12-20"), "--since goes with --export"),
        (("--without-notes",), "--without-notes goes with --export"),
        (("--as-one",), "--as-one goes with --gather"),
    ],
)
def test_words_that_go_with_another_mean_nothing_alone(capsys, words, line):
    assert main(["log", *words]) == 2
    assert line in capsys.readouterr().err


@pytest.mark.usefixtures("log")
def test_before_an_export_is_written_it_is_told_what_will_be_in_it(capsys, tmp_path):
    words = {
        (): ["takes on", "your name, Ada, and the names of your computers", "with every note that was played"],
        ("--without-notes",): ["your name, Ada", "only how each written note was judged"],
        ("--initials",): ["your initials, A.; no name of a computer"],
        ("--without-name", "--since", "2026-12-20"): ["no name: not yours", "20 December 2026"],
    }
    for options, told in words.items():
        assert main(["log", "--export", str(tmp_path / "me.zip"), *options]) == 0
        out = capsys.readouterr().out
        assert out.startswith(f"This goes into {tmp_path / 'me.zip'}:\n")
        assert all(one in out for one in told), out
        assert "each with its day and hour" in out
        assert "what you read: titles, bars" in out
        assert "not locked" in out
        assert out.splitlines()[-1].endswith(f"written to {tmp_path / 'me.zip'}")


@pytest.mark.usefixtures("log")
@pytest.mark.parametrize(("said", "is_written"), [("", True), ("y", True), ("n", False), (None, False)])
def test_at_a_terminal_whoever_exports_may_leave_it_at_that(capsys, monkeypatch, tmp_path, said, is_written):
    def asked(_):
        if said is None:
            raise EOFError
        return said

    monkeypatch.setattr(log_command, "_at_a_terminal", lambda: True)
    monkeypatch.setattr("builtins.input", asked)
    assert main(["log", "--export", str(tmp_path / "me.zip")]) == 0
    assert (tmp_path / "me.zip").exists() is is_written
    assert ("Nothing was written." in capsys.readouterr().out) is not is_written


@pytest.mark.usefixtures("log")
def test_with_yes_or_as_json_nobody_is_asked(capsys, monkeypatch, tmp_path):
    monkeypatch.setattr(log_command, "_at_a_terminal", lambda: True)
    monkeypatch.setattr("builtins.input", lambda _: pytest.fail("asked all the same"))
    assert main(["log", "--export", str(tmp_path / "me.zip"), "--yes"]) == 0
    capsys.readouterr()
    assert answer(capsys, "--export", tmp_path / "you.zip", "--initials")["contents"]["player"]["name"] == "A."


def test_initials_and_no_name_at_all_are_one_or_the_other(capsys, tmp_path):
    with pytest.raises(SystemExit) as ended:
        main(["log", "--export", str(tmp_path / "a.zip"), "--initials", "--without-name"])
    assert ended.value.code == 2
    assert "not allowed with argument" in capsys.readouterr().err
