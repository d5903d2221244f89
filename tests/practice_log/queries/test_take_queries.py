"""Questions to the log."""

from dataclasses import replace
from datetime import date, timedelta, timezone
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.take_queries import has_takes, takes_between, unfinished_takes
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Outcome
from game.practice_log.rows.take_rows import put_take
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of, takes_of_bars

OTHER = Identity(uuid=UUID(int=11), name="Bo")
DAY = timedelta(days=1)


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def minutes_of(takes):
    return [(take.begun.started_at - MORNING).total_seconds() / 60 for take in takes]


def test_the_takes_of_a_day_are_those_begun_on_it_by_the_clock_on_the_wall(log):
    for minutes in (0, 90, 16 * 60 + 29, 16 * 60 + 30, 40 * 60 + 30):
        put_take(log, begun(minutes=minutes), DEVICE)
    put_take(log, begun(minutes=2430, player=OTHER), DEVICE)
    today, tomorrow = MORNING.date(), (MORNING + DAY).date()
    assert minutes_of(takes_between(log, PLAYER.uuid, today, today)) == [0, 90, 989]
    assert minutes_of(takes_between(log, PLAYER.uuid, tomorrow, tomorrow)) == [990]
    assert len(takes_between(log, PLAYER.uuid, today, tomorrow + DAY)) == 5
    assert minutes_of(takes_between(log, OTHER.uuid, today, tomorrow + DAY)) == [2430]


def test_the_day_of_a_take_is_that_of_the_zone_in_which_it_was_begun(log):
    for zone in (timezone(timedelta(hours=-11)), timezone(timedelta(hours=14))):
        at = (MORNING + timedelta(hours=3)).astimezone(zone)
        put_take(log, replace(begun(), started_at=at), DEVICE)
    takes = takes_between(log, PLAYER.uuid, date.min, date.max)
    assert [take.day for take in takes] == [MORNING.date() - DAY, MORNING.date() + DAY]
    assert [len(takes_between(log, PLAYER.uuid, take.day, take.day)) for take in takes] == [1, 1]


def test_the_takes_of_bars_are_found_in_whatever_tune_they_stand(log):
    rows = ("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h")
    put_take(log, begun(), DEVICE)
    put_take(log, begun(tune=passage("F4 w"), minutes=1), DEVICE)
    put_take(log, begun(tune=passage(*rows, key=-1), minutes=2), DEVICE)
    assert minutes_of(takes_of_bars(log, PLAYER.uuid, begun().bars.passage_key)) == [0, 2]


def test_a_take_without_a_judgement_is_unfinished_on_its_own_device_only(log):
    other = Identity(uuid=UUID(int=12), name="the tower")
    finished, cut_short, elsewhere = (put_take(log, begun(), device) for device in (DEVICE, DEVICE, other))
    put_ending(log, finished, ended(judged(begun(), notes_of(begun()))), DEVICE)
    assert [take.take for take in unfinished_takes(log, [DEVICE.uuid])] == [cut_short]
    assert [take.take for take in unfinished_takes(log, [other.uuid])] == [elsewhere]
    put_ending(log, cut_short, ended(judged(begun(), ()), outcome=Outcome.CUT_SHORT), DEVICE)
    assert unfinished_takes(log, [DEVICE.uuid]) == ()


def test_takes_are_numbered_on_each_device_so_that_logs_can_be_merged(log):
    other = Identity(uuid=UUID(int=12), name="the tower")
    for device in (DEVICE, other, DEVICE):
        put_take(log, begun(), device)
    rows = log.execute("SELECT uuid, number FROM take JOIN device USING (device) ORDER BY take").fetchall()
    assert rows == [(str(DEVICE.uuid), 1), (str(other.uuid), 1), (str(DEVICE.uuid), 2)]


def test_the_figures_of_a_take_come_out_of_plain_sql_too(log):
    take = begun()
    number = put_take(log, take, DEVICE)
    put_ending(log, number, ended(judged(take, notes_of(take, wrong={2, 5}))), DEVICE)
    words = log.execute(
        "SELECT verdict, count(*) FROM judgement JOIN verdict USING (judgement) WHERE take = ? GROUP BY verdict",
        (number,),
    ).fetchall()
    assert dict(words) == {"clean": 4, "wrong pitch": 2}
    slow = log.execute(
        "SELECT written, time_to_find_ms FROM take JOIN judgement USING (take) JOIN verdict USING (judgement) "
        "JOIN asked_note USING (asked, n) WHERE take = ? AND time_to_find_ms > 1000 ORDER BY n",
        (number,),
    ).fetchall()
    assert slow == [("G4", 2000.0), ("C5", 2000.0)]


def test_a_log_has_takes_from_its_first_note_on(log):
    assert not has_takes(log)
    put_take(log, begun(minutes=0), DEVICE)
    assert has_takes(log)
