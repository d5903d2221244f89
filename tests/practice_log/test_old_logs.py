"""Logs of real practice, made before every entry had a key of its own, open and are what they were then.

`old_logs/make_old_logs.py` tells how each was made; `facts.json` and `known.json.xz` are what that day's program knew.
"""

import shutil
from datetime import UTC, date, datetime

import msgspec
import pytest

from game.clock import HandClock
from game.music.passage import passages_of
from game.music.written import written_out
from game.player import player_coach, player_notes
from game.player.profiles import Profile
from game.player.session import open_session
from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.database.own_device import own_device
from game.practice_log.queries.figures import figures_of
from game.practice_log.queries.take_queries import takes_between
from game.practice_log.rows.entry_rows import us_of
from game.practice_log.transfer.exchange import exchange
from game.practice_log.transfer.export import write_export
from game.practice_log.transfer.gather import gather
from game.practice_log.transfer.log_fingerprint import fingerprint
from game.practice_log.transfer.shared_folder import remember_shared
from game.tunes.library.library import open_entry, shipped_entries
from tests.fixtures_of_november.november import lost
from tests.practice_log.old_logs.unpacking import FACTS, LOG, NAMES, known_then, unpacked
from tests.report.reports_of_files import reports_of
from tests.sampling import sample

NOON = datetime(2026, 11, 30, 12, tzinfo=UTC)
ONE_PLAYER = ("two_weeks", "first_computer", "interrupted")
TAKES = """
SELECT device.uuid, number, started_utc, title, stage, tempo_bpm,
    (SELECT COUNT(*) FROM played WHERE played.take = take.take),
    (SELECT outcome FROM judgement WHERE judgement.take = take.take ORDER BY judgement DESC LIMIT 1)
FROM take JOIN device USING (device) JOIN bars USING (bars) ORDER BY take
"""


KEYS = """
SELECT uuid, sequence, at_us FROM entry JOIN device USING (device)
WHERE kind = '{kind}' AND moment_us = at_us AND sequence < 0
"""
ALL_KEYS = "SELECT uuid, sequence, at_us, kind FROM entry JOIN device USING (device) WHERE sequence < 0"
# By how much judgements stand behind their takes, and how many do.
JUDGED_KEYS = """
SELECT judged.sequence - took.sequence, COUNT(*)
FROM entry AS judged JOIN judgement ON judged.kind = 'judgement' AND judged.row = judgement.judgement
JOIN entry AS took ON took.kind = 'take' AND took.row = judgement.take AND took.device = judged.device GROUP BY 1
"""


def us_of_text(utc):
    return us_of(datetime.fromisoformat(utc))


def plain(value):
    return msgspec.json.decode(msgspec.json.encode(value, enc_hook=repr))


def facts_of(coach):
    """What a coach of then knew, without what it made of that: a better one has its own estimate, and goes on by it."""
    estimated = ("belief", "stage", "first_bpm", "tries")
    records = {
        key: {name: fact for name, fact in record.items() if name not in estimated}
        for key, record in coach["records"].items()
    }
    return {name: fact for name, fact in coach.items() if name != "decision"} | {"records": records}


def seated(folder):
    """The player of a folder sits down at noon on the day of their newest take."""
    last = max(started for _, _, started, *_ in FACTS[folder.name]["takes"])[:10]
    noon = datetime.fromisoformat(f"{last}T12:00:00+00:00")
    profile = Profile(name="", folder=folder, settings_path=folder / "settings.json")
    return open_session(profile, HandClock(), now=lambda: noon)


@pytest.mark.parametrize("name", NAMES)
def test_every_take_is_there_with_its_number_notes_and_outcome(name, tmp_path):
    with opened_log(unpacked(name, tmp_path) / LOG) as log:
        takes = [list(row) for row in log.execute(TAKES)]
    assert takes == [[*take[:6], *take[7:]] for take in FACTS[name]["takes"]]


@pytest.mark.parametrize("name", NAMES)
def test_everything_gets_a_key_made_of_the_log_alone(name, tmp_path):
    """Of takes by their number on their device, their judgements right behind them; of what the coach heard by its
    order on that device, behind all takes. The clock is the one of then, in the zone where its day was the coach's.
    """
    with opened_log(unpacked(name, tmp_path) / LOG) as log:
        takes = log.execute(KEYS.format(kind="take")).fetchall()
        heard = log.execute(KEYS.format(kind="coach")).fetchall()
        (entries,) = log.execute("SELECT COUNT(*) FROM entry WHERE kind IN ('take', 'judgement', 'coach')").fetchone()
        zones = log.execute("SELECT DISTINCT zone_minutes FROM entry WHERE sequence < 0").fetchall()
        judged = log.execute(JUDGED_KEYS).fetchall()
    facts = FACTS[name]
    told = [(device, -(2**41) + 64 * number, us_of_text(started)) for device, number, started, *_ in facts["takes"]]
    assert sorted(takes) == sorted(told)
    assert len(heard) == facts["coach_events"]
    for device in facts["devices"]:
        counts = sorted(sequence for of, sequence, _ in heard if of == device)
        assert counts == [-(2**40) + count for count in range(1, len(counts) + 1)]
    judgements = sum(take[-1] is not None for take in facts["takes"])
    assert judged == [(1, judgements)]
    assert entries == len(takes) + judgements + len(heard)
    assert zones == [(0,)]


def test_what_two_copies_have_in_common_has_the_same_keys_in_both(tmp_path):
    """The first three days of a log that went on on two other computers, and on the first."""
    keys = {}
    for name in ("first_computer", "third_computer"):
        with opened_log(unpacked(name, tmp_path / name) / LOG) as log:
            keys[name] = set(log.execute(ALL_KEYS))
    first, *others = FACTS["third_computer"]["devices"]
    both = keys["first_computer"] & keys["third_computer"]
    assert both == {key for key in keys["third_computer"] if key[0] == first}
    assert {key[0] for key in keys["third_computer"] - both} == set(others)
    assert len(both) == 26 + 26 + 32


def test_what_was_played_after_a_device_was_copied_has_keys_of_its_own(tmp_path):
    """Its takes have the numbers of others that the first computer played."""
    keys = {}
    for name in ("first_computer", "damaged"):
        with opened_log(unpacked(name, tmp_path / name) / LOG) as log:
            keys[name] = set(log.execute(ALL_KEYS))
    copied = FACTS["first_computer"]["devices"][0]
    counted = [{key[:2] for key in keys[name] if key[0] == copied} for name in keys]
    assert counted[0] & counted[1]
    assert not keys["first_computer"] & keys["damaged"]


def test_opening_it_again_changes_nothing(tmp_path):
    path = unpacked("third_computer", tmp_path) / LOG
    told = []
    for _ in range(2):
        with opened_log(path) as log:
            told.append(log.execute("SELECT * FROM entry ORDER BY entry").fetchall())
    assert told[0] == told[1]


@pytest.mark.parametrize("name", sample(ONE_PLAYER, by_default=1))
def test_the_coach_and_the_notes_are_those_of_then(name, tmp_path):
    session = seated(unpacked(name, tmp_path / name))
    ((player, facts),) = FACTS[name]["players"].items()
    known = known_then(name, player)
    assert lost(facts_of(known["coach"]), plain(player_coach.FOLD.pack(session.coach.state))) == []
    assert lost(known["notes"], plain(player_notes.FOLD.pack(session.notes.mastery))) == []
    marks = {key: [mark.value for mark in record.marks] for key, record in session.coach.state.records.items()}
    assert marks == facts["marks"]
    session.close()


def test_a_take_in_which_the_program_was_killed_is_judged_when_practice_begins(tmp_path):
    folder = unpacked("interrupted", tmp_path / "interrupted")
    assert FACTS["interrupted"]["takes"][-1][-1] is None
    session = seated(folder)
    session.begin_practice()
    session.close()
    with opened_log(folder / LOG) as log:
        outcomes = [outcome for *_, outcome in log.execute(TAKES)]
    assert outcomes == ["finished"] * 10 + ["cut short"]


def test_the_journal_beside_a_log_is_a_part_of_it(tmp_path):
    """Else the notes played last before the program was killed would be gone."""
    folder = unpacked("interrupted", tmp_path / "interrupted")
    alone = tmp_path / "alone.sqlite"
    shutil.copy(folder / LOG, alone)
    with opened_log(alone) as log:
        assert len(log.execute(TAKES).fetchall()) == len(FACTS["interrupted"]["takes"]) - 1


@pytest.fixture
def carried(tmp_path):
    """The player whose log went from one computer over a second to a third sits down there."""
    session = seated(unpacked("third_computer", tmp_path / "third_computer"))
    yield session
    session.close()


def test_one_who_was_three_players_is_one_again_and_it_is_a_fact(carried):
    """The one who took most takes."""
    owner, *others = sorted(FACTS["third_computer"]["players"], key=taken_by, reverse=True)
    assert str(carried.log.player.uuid) == owner
    with carried.log.reading() as log:
        facts = log.execute("SELECT json_extract(content, '$.player') FROM fact WHERE about = 'same player'")
        assert {uuid for (uuid,) in facts} == set(others)
        assert log.execute("SELECT COUNT(DISTINCT player) FROM entry").fetchone() == (1,)


def test_the_takes_of_each_day_are_theirs_whatever_id_they_had(carried):
    days = [date.fromisoformat(day) for day, *_ in FACTS["third_computer"]["days"]]
    with carried.log.reading() as log:
        takes = [len(takes_between(log, carried.log.player.uuid, day, day)) for day in days]
    assert takes == [day[2] for day in FACTS["third_computer"]["days"]]


def taken_by(player):
    return sum(FACTS["third_computer"]["players"][player]["met"].values())


def test_what_they_earned_on_every_computer_is_theirs(carried):
    """As if one player had played all of it on one computer."""
    known = known_then("third_computer", "as one")
    assert lost(facts_of(known["coach"]), plain(player_coach.FOLD.pack(carried.coach.state))) == []
    assert lost(known["notes"], plain(player_notes.FOLD.pack(carried.notes.mastery))) == []


def test_how_often_they_met_bars_is_counted_over_all_computers(carried):
    met = FACTS["third_computer"]["as one"]["met"]
    assert {title: carried.log.sighting(first_of(title)).nth - 1 for title in met} == met


def first_of(title):
    (entry,) = (entry for entry in shipped_entries() if entry.title == title)
    return passages_of(written_out(open_entry(entry)))[0]


@pytest.mark.parametrize("name", sample(NAMES, by_default=2))
def test_the_report_has_every_day_with_its_takes_and_minutes(name, tmp_path):
    """Of all players there were. The zone is that of the takes."""
    session = seated(unpacked(name, tmp_path / name))
    with session.log.reading() as log, figures_of(log, session.log.player.uuid) as figures:
        days = [[day.day.isoformat(), day.minutes, day.takes] for day in figures.days()]
    session.close()
    assert lost([day[:3] for day in FACTS[name]["days"]], days) == []


def test_a_damaged_identity_is_made_again_and_the_copied_device_is_another(tmp_path):
    folder = unpacked("damaged", tmp_path / "damaged")
    session = seated(folder)
    (player,) = FACTS["damaged"]["players"]
    assert str(session.log.player.uuid) == player
    assert [path.read_bytes() for path in folder.glob("player.json.broken-*")] == [b""]
    known = known_then("damaged", player)
    assert lost(facts_of(known["coach"]), plain(player_coach.FOLD.pack(session.coach.state))) == []
    assert str(own_device(folder).uuid) not in FACTS["damaged"]["devices"]
    session.close()


@pytest.mark.parametrize("name", sample(NAMES, by_default=2))
def test_all_of_it_travels_as_an_export_to_a_computer_on_which_nobody_played(name, tmp_path):
    here, there = unpacked(name, tmp_path / "here"), tmp_path / "there"
    with opened_log(here / LOG) as log:
        player = log_owner(log, here / LOG, "")
        write_export(log, player, tmp_path / "all.zip", now=NOON)
        told = fingerprint(log)
    gathered = gather(there / LOG, [tmp_path / "all.zip"], now=NOON)
    assert (gathered.faults, gathered.came.left_out, gathered.came.kept) == ([], 0, 0)
    with opened_log(there / LOG) as log:
        assert fingerprint(log) == told
        assert log_owner(log, there / LOG, "") == player


def test_two_computers_that_a_log_was_carried_between_know_the_same_after_sharing(tmp_path):
    homes = [unpacked(name, tmp_path / name) for name in ("first_computer", "third_computer")]
    (tmp_path / "cloud").mkdir()
    for home in homes:
        remember_shared(home, tmp_path / "cloud")
    for home in (*homes, *homes):
        assert exchange(home / LOG, now=NOON).gathered.faults == []
    told = []
    for home in homes:
        session = seated(home)
        with session.log.reading() as log:
            told.append((fingerprint(log), plain(player_coach.FOLD.pack(session.coach.state))))
        session.close()
    assert told[0] == told[1]


@pytest.mark.parametrize("handed", ["two_weeks.zip", "two_weeks.sqlite"])
def test_an_export_and_a_back_up_of_then_give_the_report_of_the_log(handed, tmp_path):
    folder = unpacked("damaged", tmp_path)
    (report,) = reports_of(folder / handed)
    assert [day.day.isoformat() for day in report.days] == [day for day, *_ in FACTS["two_weeks"]["days"]]
    assert sum(day.takes for day in report.days) == len(FACTS["two_weeks"]["takes"])
