"""A mark says that a player was erased, and neither who they were nor what they did."""

import json
import stat
from datetime import date
from uuid import UUID

import pytest

from game.practice_log.transfer import erased
from game.practice_log.transfer.erased import is_erased, is_mark, mark_erased

ADA, BO = UUID("5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11"), UUID(int=11)
DAY = date(2026, 11, 29)


def test_whoever_was_erased_is_known_by_their_id_and_nobody_else_is(tmp_path):
    mark_erased(tmp_path, [ADA], DAY)
    (mark,) = tmp_path.iterdir()
    assert is_erased(tmp_path, ADA)
    assert not is_erased(tmp_path, BO)
    assert is_mark(mark)
    assert not is_mark(tmp_path / "players.json")


def test_the_mark_holds_a_hash_of_the_id_and_the_day(tmp_path):
    """The hash as `printf 5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11 | sha256sum` tells it."""
    mark_erased(tmp_path, [ADA], DAY)
    (mark,) = tmp_path.iterdir()
    told = json.loads(mark.read_text())
    assert told == {"erased": "7c1a28c5671ebcc44d9fbadc9668525f025cf6752fce3a4c54c3de1e1c9a8bec", "day": "2026-11-29"}
    assert str(ADA) not in mark.name + mark.read_text()


def test_a_player_of_several_ids_is_erased_by_all_of_them_and_the_first_day_stays(tmp_path):
    mark_erased(tmp_path, [ADA], DAY)
    mark_erased(tmp_path, {ADA, BO}, date(2027, 1, 1))
    assert is_erased(tmp_path, ADA)
    assert is_erased(tmp_path, BO)
    days = sorted(json.loads(path.read_text())["day"] for path in tmp_path.iterdir())
    assert days == ["2026-11-29", "2027-01-01"]


def test_a_mark_beside_the_table_of_players_counts_for_the_folder_of_each(tmp_path):
    mark_erased(tmp_path, [ADA], DAY)
    assert is_erased(tmp_path / "players" / "00000001", ADA)
    assert not is_erased(tmp_path / "library" / "00000001", ADA)


def test_in_a_folder_for_several_people_all_may_read_the_mark(tmp_path):
    tmp_path.chmod(0o2770)
    mark_erased(tmp_path, [ADA], DAY)
    (mark,) = tmp_path.iterdir()
    assert stat.S_IMODE(mark.stat().st_mode) & 0o660 == 0o660


def test_a_full_disk_leaves_no_half_mark(tmp_path, monkeypatch):
    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(erased, "share_as_folder", full)
    with pytest.raises(OSError, match="No space"):
        mark_erased(tmp_path, [ADA], DAY)
    assert list(tmp_path.iterdir()) == []
