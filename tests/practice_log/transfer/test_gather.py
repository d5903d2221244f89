"""Logs, back-ups and exports of one player brought together in their log."""

import json
import os
import shutil
import zipfile
from datetime import timedelta

import pytest

from game.errors import LogError
from game.practice_log.back_ups.backup import back_up
from game.practice_log.database.identity import PLAYER_FILE, Identity
from game.practice_log.database.own_player import own_player
from game.practice_log.documents.moments_brought import settle_brought
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.transfer.erased import mark_erased
from game.practice_log.transfer.export import Exported, write_export
from game.practice_log.transfer.gather import gather, gathering
from game.practice_log.transfer.log_fingerprint import fingerprint
from game.text.catalogue import in_english
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.old_logs.unpacking import FACTS, LOG, unpacked
from tests.practice_log.transfer.hostile_files import packed_up
from tests.practice_log.transfer.practised import Computer, changed, device_named, gathered, lines_of, told
from tests.practice_log.transfer.tables_export import write_tables
from tests.refusing import refusal
from tests.sampling import sample

BEN = Identity(uuid=device_named(99).uuid, name="Ben")


class Home(Computer):
    """A computer whose log lies in a folder of its own."""

    def __init__(self, folder, number, **how):
        self.folder = folder / f"home {number}"
        super().__init__(number, path=self.folder / LOG, **how)

    @property
    def path(self):
        return self.folder / LOG

    def gather(self, *paths, **how):
        return gather(self.path, paths, now=self.now, **how)


@pytest.fixture
def homes(tmp_path):
    return [Home(tmp_path, number).practise(8) for number in (1, 2, 3)]


def said(gathered_there):
    return [in_english(fault) for fault in gathered_there.faults]


def alike(*logs):
    return len({fingerprint(log) for log in logs}) == 1


def test_logs_back_ups_and_exports_of_both_forms_all_bring_the_same(homes, tmp_path):
    first, second, third = homes
    back_up(second.path, tmp_path / "copy.sqlite")
    write_export(third.log, PLAYER, tmp_path / "third.zip", now=third.now)
    came = first.gather(second.path, tmp_path / "copy.sqlite", tmp_path / "third.zip")
    assert (came.files, came.faults) == (3, [])
    assert came.devices == {str(home.device.uuid) for home in (second, third)}
    assert told(first.log)[0] == told(gathered(*(lines_of(home.log) for home in homes)))[0]
    write_tables(third.log, PLAYER, tmp_path / "tables.zip", now=third.now)
    assert first.gather(tmp_path / "tables.zip").files == 1


def test_a_folder_is_gathered_with_all_that_lies_in_it(homes, tmp_path):
    first, second, third = homes
    (tmp_path / "stick" / "deep").mkdir(parents=True)
    shutil.copy(second.path, tmp_path / "stick" / "second.sqlite")
    shutil.copy(f"{second.path}-wal", tmp_path / "stick" / "second.sqlite-wal")
    write_export(third.log, PLAYER, tmp_path / "stick" / "deep" / "third.zip", now=third.now)
    (tmp_path / "stick" / "letter.txt").write_text("Dear teacher")
    assert first.gather(tmp_path / "stick").files == 2
    assert alike(first.log, gathered(*(lines_of(home.log) for home in homes)))


def test_in_any_order_both_have_the_same_in_the_end(homes):
    first, second, third = homes
    first.gather(second.path, third.path)
    second.gather(third.path)
    second.gather(first.path)
    third.gather(first.path, second.path)
    assert alike(*(home.log for home in homes))
    assert told(first.log) == told(second.log) == told(third.log)


def test_what_was_gathered_is_known_again_and_not_read(homes, monkeypatch):
    first, second, _ = homes
    assert first.gather(second.path).came.changed
    monkeypatch.setattr("game.practice_log.transfer.gather.limited_lines", lambda *_: 1 / 0)
    again = first.gather(second.path)
    assert (again.files, again.came.changed) == (1, False)


def test_its_own_log_is_passed_over(homes):
    first, *_ = homes
    assert first.gather(first.folder).files == 0


def test_what_cannot_be_read_is_named_and_the_rest_taken_in(homes, tmp_path):
    first, second, _ = homes
    (tmp_path / "broken.zip").write_bytes(b"PK rubbish")
    os.mkfifo(tmp_path / "pipe.sqlite")
    came = first.gather(tmp_path / "broken.zip", tmp_path / "gone.zip", tmp_path / "pipe.sqlite", second.path)
    assert came.files == 1
    assert [fault.count("\n") for fault in said(came)] == [0, 0, 0]
    for fault, name in zip(said(came), ("broken.zip", "gone.zip", "pipe.sqlite"), strict=True):
        assert name in fault


def test_another_players_log_is_refused_in_one_line(tmp_path, homes):
    first, *_ = homes
    other = Home(tmp_path, 9, player=BEN).practise(4)
    before = told(first.log)
    assert said(first.gather(other.path)) == [f"{LOG} is another player's (Ben): say --as-one if both are one person"]
    assert told(first.log) == before


def test_once_it_was_said_that_both_are_one_it_needs_not_be_said_again(tmp_path, homes):
    first, second, _ = homes
    other = Home(tmp_path, 9, player=BEN).practise(4)
    assert first.gather(other.path, as_one=True).faults == []
    other.practise(3)
    assert first.gather(other.path).faults == []
    assert uuids_of_owner(first.log) == {PLAYER.uuid, BEN.uuid}
    players = first.log.execute("SELECT DISTINCT uuid FROM entry JOIN player USING (player)").fetchall()
    assert players == [(str(PLAYER.uuid),)]
    # It travels: also those who gather from here know it, and whom it is said of.
    assert second.gather(first.path).faults == []
    assert second.gather(other.path).faults == []
    assert other.gather(first.path).faults == []
    second.gather(first.path, other.path)
    first.gather(second.path, other.path)
    assert alike(first.log, second.log)


def test_a_log_in_which_nothing_is_becomes_that_of_whoever_is_gathered(tmp_path, homes):
    first, *_ = homes
    new = tmp_path / "new" / LOG
    stranger = own_player(new)
    assert gather(new, [first.path], now=first.now).faults == []
    assert own_player(new).uuid == PLAYER.uuid != stranger.uuid
    assert json.loads((new.parent / PLAYER_FILE).read_text())["uuid"] == str(PLAYER.uuid)


def test_who_was_erased_here_does_not_come_back(tmp_path, homes):
    first, *_ = homes
    new = tmp_path / "new" / LOG
    new.parent.mkdir()
    mark_erased(new.parent, [PLAYER.uuid], first.now.date())
    (fault,) = said(gather(new, [first.path], now=first.now))
    assert "was erased here" in fault
    assert not new.exists() or own_player(new).uuid != PLAYER.uuid


def test_a_computer_whose_clock_is_years_ahead_does_no_lasting_harm(homes):
    first, second, _ = homes
    second.minutes += 3 * 365 * 1440
    second.play()
    first.practise(5)
    first.gather(second.path)
    (ahead,) = first.log.execute("SELECT MAX(moment_us) FROM entry").fetchone()
    from game.practice_log.rows.entry_rows import us_of

    assert ahead <= us_of(first.now + timedelta(days=1))
    said_once = "SELECT COUNT(*) FROM fact WHERE about = ?"
    (count,) = first.log.execute(said_once, (About.CLOCK.value,)).fetchone()
    first.gather(second.path)
    assert first.log.execute(said_once, (About.CLOCK.value,)).fetchone() == (count,)


def test_a_copy_without_notes_is_made_whole_by_the_log(homes, tmp_path):
    first, second, _ = homes
    write_export(second.log, PLAYER, tmp_path / "a.zip", now=second.now, what=Exported(with_notes=False))
    first.gather(tmp_path / "a.zip")
    first.gather(second.path)
    assert alike(first.log, gathered(lines_of(first.log), lines_of(second.log)))


def test_logs_of_before_are_gathered_too_and_once(tmp_path):
    folders = {name: unpacked(name, tmp_path / name) for name in ("first_computer", "third_computer")}
    new = tmp_path / "new" / LOG
    from tests.practice_log.logged_takes import MORNING

    for _ in range(2):
        gather(new, [folder / LOG for folder in folders.values()], now=MORNING, as_one=True)
    from game.practice_log.database.opening import opened_log

    takes = {(take[0], take[2]) for name in folders for take in FACTS[name]["takes"]}
    with opened_log(new) as log:
        assert log.execute("SELECT COUNT(*) FROM take").fetchone() == (len(takes),)


def test_a_log_that_cannot_be_written_is_said_in_one_sentence(homes, monkeypatch):
    first, second, _ = homes

    def full(*_):
        import sqlite3

        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr("game.practice_log.documents.take_in.settle_brought", full)
    with refusal(LogError, "nothing can be gathered into .* now .*disk is full"):
        first.gather(second.path)


def test_a_game_may_write_meanwhile(homes):
    first, second, _ = homes
    with gathering(first.path, first.now) as under_way:
        first.play()
        from game.practice_log.transfer.files_to_gather import FileToGather

        under_way.take_in_file(FileToGather(second.path, named=True))
        first.play()
        under_way.finish()
    assert alike(first.log, gathered(lines_of(first.log), lines_of(second.log)))


NO_ID = b'{"format": "homefret practice export", "version": 2, "player": {"uuid": "../..", "name": ""}}'


def tampered(path, name, content):
    """The export with another member."""
    with zipfile.ZipFile(path) as archive:
        members = {member: archive.read(member) for member in archive.namelist()}
    return packed_up(path, members | {name: content})


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("entries.jsonl", b"x\n" * 100_000),
        ("entries.jsonl", b"\n" * 5_000_000),
        ("entries.jsonl", b"[" * 100_000 + b"\n"),
        ("entries.jsonl", b"x" * 5_000_000),
        ("entries.jsonl", b"\xff\n"),
        ("contents.json", b"{}"),
        (
            "contents.json",
            b'{"format": "homefret practice export", "version": 2, "player": {"uuid": "../..", "name": ""}}',
        ),
        ("contents.json", b'{"format": "homefret practice export", "version": [2]}'),
    ],
    ids=["nonsense", "empty lines", "deep", "endless line", "no text", "nothing said", "no id", "no version"],
)
def test_hostile_exports_are_told_in_one_sentence_and_nothing_of_them_taken_in(homes, tmp_path, name, content):
    first, second, _ = homes
    write_export(second.log, PLAYER, tmp_path / "a.zip", now=second.now)
    before = told(first.log)
    (fault,) = said(first.gather(tampered(tmp_path / "a.zip", name, content)))
    assert fault.startswith("a.zip")
    assert "\n" not in fault
    assert told(first.log) == before


def test_what_was_left_out_of_a_file_is_told_and_the_rest_taken_in(homes, tmp_path):
    first, second, _ = homes
    second.say(name="volume", value=1)
    write_export(second.log, PLAYER, tmp_path / "a.zip", now=second.now)
    lines = lines_of(second.log).splitlines(keepends=True)
    ben = changed(lines[-1], player=str(BEN.uuid), sequence=9000)
    clash = changed(lines[-1], content={"name": "volume", "value": 2})
    path = tampered(tmp_path / "a.zip", "entries.jsonl", b"".join([*lines, ben, clash, b"nonsense\n"]))
    assert said(first.gather(path)) == [
        "a.zip: 1 entry makes no sense and was left out",
        "a.zip: 1 entry is another player's and was left out",
        "a.zip: 1 entry is another one here by the same key; the one here stands",
    ]
    assert alike(first.log, gathered(lines_of(first.log), lines_of(second.log)))


def line_by_line(*asked):
    for block in limited_lines(*asked):
        yield from block.splitlines(keepends=True)


@pytest.mark.parametrize("transactions", sample(range(2, 6), by_default=2))
def test_interrupted_between_two_transactions_it_goes_on_where_it_was(homes, monkeypatch, transactions):
    """What is in the log by then is whole, and the file is not known yet: it is read again."""
    first, second, _ = homes
    monkeypatch.setattr("game.practice_log.documents.decoded_documents.AT_ONCE", 3)
    monkeypatch.setattr("game.practice_log.transfer.gather.limited_lines", line_by_line)
    calls = iter(range(transactions))

    def until_killed(*args):
        if next(calls, None) is None:
            raise KeyboardInterrupt
        settle_brought(*args)

    with monkeypatch.context() as patched:
        patched.setattr("game.practice_log.documents.take_in.settle_brought", until_killed)
        with pytest.raises(KeyboardInterrupt):
            first.gather(second.path)
    came = "SELECT COUNT(*) FROM entry JOIN device USING (device) WHERE uuid = ?"
    assert first.log.execute(came, (str(second.device.uuid),)).fetchone() > (0,)
    assert first.gather(second.path).faults == []
    assert told(first.log)[0] == told(gathered(lines_of(first.log), lines_of(second.log)))[0]
    assert alike(first.log, gathered(lines_of(first.log), lines_of(second.log)))
