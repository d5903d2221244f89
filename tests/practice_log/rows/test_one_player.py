"""All entries of a log become those of one player, and that they are one person is a fact of the log."""

import json
from datetime import timedelta
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.rows.entry_rows import Recorded
from game.practice_log.rows.one_player import become_one, has_several, uuids_of_owner
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun

BO, CY = (Identity(uuid=UUID(int=number), name=name) for number, name in ((11, "Bo"), (12, "Cy")))


@pytest.fixture
def log():
    connection = open_store(None, now_utc=MORNING)
    yield connection
    connection.close()


def play(log, *players):
    for minutes, player in enumerate(players):
        put_take(log, begun(player=player, minutes=minutes), DEVICE)


def become(log, player):
    later = MORNING + timedelta(hours=1)
    become_one(log, Recorded(put_device(log, DEVICE), put_player(log, player), later))


def owners(log):
    return {uuid for (uuid,) in log.execute("SELECT uuid FROM entry JOIN player USING (player)")}


def said(log):
    return [json.loads(content) for (content,) in log.execute("SELECT content FROM fact WHERE about = 'same player'")]


def test_the_entries_of_all_become_those_of_one(log):
    play(log, PLAYER, BO, CY, PLAYER)
    assert has_several(log)
    become(log, PLAYER)
    assert owners(log) == {str(PLAYER.uuid)}
    assert said(log) == [{"player": str(BO.uuid)}, {"player": str(CY.uuid)}]
    assert not has_several(log)
    assert uuids_of_owner(log) == {PLAYER.uuid, BO.uuid, CY.uuid}


def test_nothing_else_of_an_entry_changes(log):
    play(log, PLAYER, BO)
    columns = "SELECT entry, device, sequence, at_us, zone_minutes, kind, row, moment_us FROM entry"
    before = log.execute(columns).fetchall()
    become(log, PLAYER)
    assert log.execute(columns).fetchall()[: len(before)] == before


def test_a_log_of_one_player_stays_as_it_is(log):
    play(log, PLAYER, PLAYER)
    become(log, PLAYER)
    assert said(log) == []
    assert uuids_of_owner(log) == {PLAYER.uuid}


def test_what_comes_later_under_an_id_that_is_known_is_taken_over_and_said_once(log):
    play(log, PLAYER, BO)
    become(log, PLAYER)
    play(log, BO)
    become(log, PLAYER)
    assert owners(log) == {str(PLAYER.uuid)}
    assert said(log) == [{"player": str(BO.uuid)}]


def test_a_fact_that_makes_no_sense_names_nobody(log):
    play(log, PLAYER, BO)
    become(log, PLAYER)
    log.execute("DROP TRIGGER fact_no_update")
    log.execute('UPDATE fact SET content = \'{"player": "no id"}\'')
    assert uuids_of_owner(log) == {PLAYER.uuid}
