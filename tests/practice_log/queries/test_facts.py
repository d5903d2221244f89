"""What was said is read in the order of everything, and nonsense passed over."""

from datetime import timedelta
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries import facts
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About, Recorded, put_fact, us_of
from game.practice_log.rows.shared_rows import put_device, put_player
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, recorded

OTHER_DEVICE = Identity(uuid=UUID(int=3), name="the new laptop")
BO = Identity(uuid=UUID(int=11), name="Bo")


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def say(log, about, content, *, minutes=0, device=DEVICE, player=PLAYER):
    at = MORNING + timedelta(minutes=minutes)
    put_fact(log, Recorded(put_device(log, device), put_player(log, player), at), about, content)


def tunes(log, about=About.OPENED_TUNE, player=PLAYER):
    return [fact.content.get("tune") for fact in facts_about(log, player.uuid, about)]


def test_facts_come_by_their_moment_whichever_device_wrote_them_and_in_whatever_rows(log):
    say(log, About.OPENED_TUNE, {"tune": "third"}, minutes=9)
    say(log, About.OPENED_TUNE, {"tune": "first"}, device=OTHER_DEVICE)
    say(log, About.OPENED_TUNE, {"tune": "second"}, minutes=5, device=OTHER_DEVICE)
    assert tunes(log) == ["first", "second", "third"]


def test_of_one_moment_the_device_decides_and_then_its_own_count(log):
    for tune, device in (("b", DEVICE), ("c", DEVICE), ("a", OTHER_DEVICE)):
        say(log, About.OPENED_TUNE, {"tune": tune}, device=device)
    assert str(OTHER_DEVICE.uuid) < str(DEVICE.uuid)
    assert tunes(log) == ["a", "b", "c"]


def test_only_what_is_asked_for_is_told_and_of_that_player_only(log):
    say(log, About.OPENED_TUNE, {"tune": "a"})
    say(log, About.KNOWN_BY_EAR, {"tune": "b", "known": True}, minutes=1)
    say(log, About.OPENED_TUNE, {"tune": "bo"}, minutes=2, player=BO)
    assert (tunes(log), tunes(log, player=BO)) == (["a"], ["bo"])
    both = list(facts_about(log, PLAYER.uuid, About.OPENED_TUNE, About.KNOWN_BY_EAR))
    assert [fact.about for fact in both] == [About.OPENED_TUNE, About.KNOWN_BY_EAR]
    assert [fact.moment_us - us_of(MORNING) for fact in both] == [0, 60_000_000]
    assert tunes(log, About.MET_LINE) == []


@pytest.mark.parametrize(
    "content", ["", "[1]", "null", "{", "[" * 100_000, '{"tune": NaN}', b'{"tune": "\xff"}', 7, b"\x00"]
)
def test_what_is_no_table_is_passed_over(log, content):
    say(log, About.OPENED_TUNE, {"tune": "before"})
    log.execute("INSERT INTO fact (about, content) VALUES ('opened', ?)", (content,))
    log.execute(
        "INSERT INTO entry (device, sequence, at_us, zone_minutes, player, kind, row, moment_us) "
        "SELECT device, 2, at_us, 0, player, 'fact', 2, moment_us FROM entry"
    )
    say(log, About.OPENED_TUNE, {"tune": "after"})
    assert tunes(log) == ["before", "after"]


def test_what_is_longer_than_any_fact_of_ours_is_passed_over(log, monkeypatch):
    monkeypatch.setattr(facts, "MOST_BYTES", 30)
    say(log, About.OPENED_TUNE, {"tune": "long-" * 30})
    say(log, About.OPENED_TUNE, {"tune": "short"})
    assert tunes(log) == ["short"]


def test_an_empty_log_says_nothing(log):
    recorded(log)
    assert tunes(log) == []
