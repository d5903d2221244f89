"""Whether what was made of a log still holds is told by the entries it was made of."""

from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.entry_order import BEFORE_ALL, position_at
from game.practice_log.queries.log_cut import LogCut, cut_at, newest_cut, stands
from game.practice_log.rows.entry_rows import put_clock_right, us_of
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of, recorded

TOWER = Identity(uuid=UUID(int=12), name="the tower")


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    for minutes in (0, 10, 20):
        put(log, minutes)
    yield log
    log.close()


def put(log, minutes, device=DEVICE):
    take = begun(minutes=minutes)
    number = put_take(log, take, device)
    put_ending(log, number, ended(judged(take, notes_of(take)), minutes=minutes + 1), device)
    return number


def at(log, minutes):
    return cut_at(log, PLAYER.uuid, position_at(log, PLAYER.uuid, us_of(MORNING + timedelta(minutes=minutes))))


def test_nothing_always_stands(log):
    assert stands(log, PLAYER.uuid, LogCut())
    assert at(log, -1) == LogCut(position=BEFORE_ALL)


def test_a_cut_tells_of_each_device_how_many_entries_and_up_to_which_count(log):
    put(log, 5, TOWER)
    devices = {share.device: (share.entries, share.newest) for share in newest_cut(log, PLAYER.uuid).shares}
    assert devices == {str(DEVICE.uuid): (6, 6), str(TOWER.uuid): (2, 2)}
    devices = {share.device: (share.entries, share.newest) for share in at(log, 10).shares}
    assert devices == {str(DEVICE.uuid): (3, 3), str(TOWER.uuid): (2, 2)}


def test_what_comes_after_changes_nothing_of_what_stands_before(log):
    cuts = [at(log, 11), newest_cut(log, PLAYER.uuid)]
    put(log, 30)
    put(log, 40, TOWER)
    assert all(stands(log, PLAYER.uuid, cut) for cut in cuts)


def test_an_entry_that_comes_late_leaves_what_stood_before_it_and_ends_what_came_after(log):
    early, late = at(log, 1), newest_cut(log, PLAYER.uuid)
    put(log, 5, TOWER)
    assert stands(log, PLAYER.uuid, early)
    assert not stands(log, PLAYER.uuid, late)


def test_a_later_judgement_leaves_what_stood_before_its_take_and_ends_what_came_after(log):
    early, before, late = at(log, 1), at(log, 11), newest_cut(log, PLAYER.uuid)
    put_ending(log, 2, ended(judged(begun(), ()), minutes=50), DEVICE)
    assert stands(log, PLAYER.uuid, early)
    assert not stands(log, PLAYER.uuid, before)
    assert not stands(log, PLAYER.uuid, late)
    assert stands(log, PLAYER.uuid, at(log, 11))


def test_a_clock_that_is_put_right_ends_what_it_moved(log):
    """The tower's clock was an hour ahead: what it recorded moves, though it stays what it was."""
    early = at(log, 11)
    put(log, 80, TOWER)
    late = newest_cut(log, PLAYER.uuid)
    assert stands(log, PLAYER.uuid, late)
    put_clock_right(log, replace_device(recorded(log, MORNING + timedelta(minutes=25)), log))
    assert stands(log, PLAYER.uuid, early)
    assert not stands(log, PLAYER.uuid, late)


def replace_device(by, log):
    (number,) = log.execute("SELECT device FROM device WHERE uuid = ?", (str(TOWER.uuid),)).fetchone()
    return by._replace(device=number)


def test_another_players_entries_are_not_counted(log):
    cut = newest_cut(log, PLAYER.uuid)
    put_take(log, replace(begun(minutes=5), player=Identity(uuid=UUID(int=11), name="Bo")), TOWER)
    assert stands(log, PLAYER.uuid, cut)
