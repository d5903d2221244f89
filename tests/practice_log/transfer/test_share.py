"""What a computer writes into a shared folder: its own files only, a month that is over once and for good."""

import json
import os
import stat
import zipfile
from contextlib import closing
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.rows.entry_rows import About, Recorded, put_fact
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from game.practice_log.transfer.erased import mark_erased
from game.practice_log.transfer.share import Sharing, month_of, write_share
from game.practice_log.transfer.shared_folder import device_folder, shared_files
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended
from tests.refusing import refusal

OTHER = Identity(uuid=UUID(int=7), name="the desk at work")
DAY = timedelta(days=1)


@pytest.fixture
def sharing(tmp_path):
    (tmp_path / "cloud").mkdir()
    return Sharing(log=tmp_path / "practice.sqlite", folder=tmp_path / "cloud", player=PLAYER, device=DEVICE.uuid)


def record(sharing, *days, device=DEVICE):
    """A fact so many days after the morning of 25 November, each on a device."""
    with closing(open_store(sharing.log, now_utc=MORNING)) as log:
        for day in days:
            who = Recorded(put_device(log, device), put_player(log, PLAYER), MORNING + day * DAY)
            put_fact(log, who, About.OPENED_TUNE, {"tune": f"tune-{day}"})


def write(sharing, day):
    return write_share(sharing, now=MORNING + day * DAY)


def files(sharing, device=DEVICE):
    folder = device_folder(sharing.folder, PLAYER.uuid, device.uuid)
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.suffix == ".zip"}


def counts(sharing, name):
    """The counts of the entries in a file."""
    with zipfile.ZipFile(sharing.own_folder / name) as archive:
        lines = [json.loads(line) for line in archive.read("entries.jsonl").splitlines()]
    return [line["sequence"] for line in lines if "sequence" in line]


def closed(sharing):
    return sorted(name for name in files(sharing) if name[0] == "2")


def test_what_is_new_goes_into_the_open_file_and_nothing_is_rewritten_where_nothing_is(sharing):
    record(sharing, 0, 1)
    assert write(sharing, 1) == 2
    assert list(files(sharing)) == ["open.zip"]
    assert counts(sharing, "open.zip") == [1, 2]
    before = files(sharing)
    assert write(sharing, 2) == 0
    record(sharing, 2)
    write(sharing, 2)
    assert counts(sharing, "open.zip") == [1, 2, 3]
    assert files(sharing) != before


def test_a_month_that_is_over_is_written_once_and_never_changes(sharing):
    record(sharing, 0, 1, 10)
    write(sharing, 10)
    (november,) = closed(sharing)
    assert november.startswith("2026-11-")
    assert (counts(sharing, november), counts(sharing, "open.zip")) == ([1, 2], [3])
    content = files(sharing)[november]
    record(sharing, 40)
    write(sharing, 40)
    assert [name[:7] for name in closed(sharing)] == ["2026-11", "2026-12"]
    assert files(sharing)[november] == content
    assert counts(sharing, "open.zip") == [4]


def test_an_open_file_goes_when_all_of_it_stands_in_months_that_are_over(sharing):
    record(sharing, 0)
    write(sharing, 0)
    write(sharing, 20)
    assert [name[:7] for name in files(sharing)] == ["2026-11"]


def test_the_same_entries_give_the_same_files_wherever_and_whenever_they_are_written(sharing, tmp_path):
    record(sharing, 0, 1, 10)
    write(sharing, 12)
    first = files(sharing)
    (tmp_path / "cloud").rename(tmp_path / "lost")
    (tmp_path / "cloud").mkdir()
    write(sharing, 14)
    assert files(sharing) == first


def test_what_a_wrong_clock_recorded_goes_along_and_no_month_comes_twice(sharing):
    record(sharing, 0, 700, 700.1, 1, 10)
    write(sharing, 12)
    (november,) = closed(sharing)
    told = [*counts(sharing, november), *counts(sharing, "open.zip")]
    assert told == sorted(set(told))
    assert len(told) == 6  # the five, and that the clock was put right


def test_devices_without_files_of_their_own_there_go_along_and_others_do_not(sharing):
    record(sharing, 0)
    record(sharing, 0.1, 0.2, device=OTHER)
    write(sharing, 1)
    (theirs,) = (name for name in files(sharing) if name.startswith("of-"))
    assert theirs.startswith(f"of-{OTHER.uuid}-")
    assert counts(sharing, theirs) == [1, 2]
    record(sharing, 0.3, device=OTHER)
    write(sharing, 1)
    (grown,) = (name for name in files(sharing) if name.startswith("of-"))
    assert counts(sharing, grown) == [1, 2, 3]
    device_folder(sharing.folder, PLAYER.uuid, OTHER.uuid).mkdir()
    (device_folder(sharing.folder, PLAYER.uuid, OTHER.uuid) / "open.zip").touch()
    record(sharing, 0.4, device=OTHER)
    assert write(sharing, 1) == 0


def test_a_judgement_brings_the_take_of_another_device_along(sharing):
    with closing(open_store(sharing.log, now_utc=MORNING)) as log:
        put_ending(log, put_take(log, begun(), OTHER), ended(), DEVICE)
    device_folder(sharing.folder, PLAYER.uuid, OTHER.uuid).mkdir(parents=True)
    write(sharing, 0)
    with zipfile.ZipFile(sharing.own_folder / "open.zip") as archive:
        kinds = {json.loads(line)["kind"] for line in archive.read("entries.jsonl").splitlines()}
    assert kinds == {"asked", "take", "judgement"}


def test_only_the_own_folder_is_written_into(sharing):
    theirs = device_folder(sharing.folder, PLAYER.uuid, OTHER.uuid)
    theirs.mkdir(parents=True)
    (theirs / "open.zip").write_bytes(b"theirs")
    (sharing.folder / "holiday.jpg").write_bytes(b"sea")
    record(sharing, 0, 10)
    write(sharing, 11)
    assert (theirs / "open.zip").read_bytes() == b"theirs"
    assert {path.name for path in sharing.folder.iterdir()} == {"homefret", "holiday.jpg"}
    assert len(shared_files(sharing.folder, [PLAYER.uuid])) == 3


def test_no_half_file_is_ever_under_its_name_and_what_was_begun_is_cleared_away(sharing, monkeypatch):
    record(sharing, 0)

    def pulled_out(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("game.practice_log.transfer.share.put_in_place", pulled_out)
        with refusal(LogError, "nothing can be written into the shared folder .*No space left"):
            write(sharing, 0)
    assert files(sharing) == {}
    write(sharing, 0)
    assert {path.name for path in sharing.own_folder.iterdir()} == {"open.zip", "written.json"}


@pytest.mark.parametrize("state", [b"", b"[]", b'{"closed": "x"}', b"{" * 10_000], ids=lambda state: state[:9].decode())
def test_where_nobody_can_read_what_was_written_all_of_it_is_written_again(sharing, state):
    record(sharing, 0, 10)
    write(sharing, 11)
    before = files(sharing)
    (sharing.own_folder / "written.json").write_bytes(state)
    write(sharing, 11)
    assert files(sharing) == before


def test_a_folder_that_is_away_is_told(sharing):
    record(sharing, 0)
    sharing.folder.rmdir()
    with refusal(LogError, "no folder that can be reached"):
        write(sharing, 0)


def test_nothing_of_a_player_who_was_erased_there_is_put_there_again(sharing):
    record(sharing, 0)
    mark_erased(sharing.folder, [PLAYER.uuid], MORNING.date())
    with refusal(LogError, "erased"):
        write(sharing, 0)
    assert not (sharing.folder / "homefret").exists()


@pytest.mark.skipif(os.name == "nt", reason="permissions of Windows are others")
def test_what_lies_there_is_for_whoever_the_folder_is_for(sharing):
    sharing.folder.chmod(0o750)
    record(sharing, 0)
    write(sharing, 0)
    assert stat.S_IMODE((sharing.own_folder / "open.zip").stat().st_mode) == 0o640
    assert stat.S_IMODE(sharing.own_folder.stat().st_mode) == 0o750


def test_months_are_those_of_universal_time_on_every_computer():
    assert month_of(datetime(2026, 11, 30, 23, 59, tzinfo=UTC)) == "2026-11"
