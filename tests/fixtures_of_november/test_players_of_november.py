"""What three players had in November 2026 is read by today's session as the program of that day read it: settings,
map, marks, what the coach would say next, what is known of each note, assignments.

`golden/inside.json` is what its own readers made of these files (`make_fixtures.py` tells how each was asked).
"""

import json
import shutil
from datetime import date, datetime, time

import msgspec
import pytest

from game.assignments.assignment_reader import read_assignment
from game.clock import HandClock
from game.coach.coach import advance
from game.coach.events import PassageOpened
from game.music.passage import passages_of
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.player import player_coach, player_notes
from game.player.player_log import PlayerLog
from game.player.profiles import players
from game.player.session import open_session
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About
from game.text.catalogue import tell_all
from game.tunes.library.library import open_entry, shipped_entries
from tests.fixtures_of_november.november import GOLDEN, HERE, laid_out, lost
from tests.practice_log.read_back import decisions_of

INSIDE = json.loads((GOLDEN / "inside.json").read_text(encoding="utf-8"))
MAP = standard_map(position=5)
# What a snapshot was called then, by what it is called now.
CALLED_THEN = {"player_coach": "coaching", "player_notes": "mastering"}


@pytest.fixture(params=sorted(INSIDE["players"]), ids=lambda name: name or "first")
def name(request):
    return request.param


@pytest.fixture
def golden(name):
    return INSIDE["players"][name]


@pytest.fixture
def profile(name, tmp_path, monkeypatch):
    """One of the players of the computer as it was."""
    home = laid_out(tmp_path).here / "home"
    for variable, folder in (("HOME", ""), ("XDG_DATA_HOME", "data"), ("XDG_CONFIG_HOME", "config")):
        monkeypatch.setenv(variable, str(home / folder))
    (profile,) = (player for player in players() if player.name == name)
    return profile


@pytest.fixture
def session(profile):
    """The player sits down a day after what they practised last."""
    session = seated(profile)
    yield session
    session.close()


def seated(profile):
    log = PlayerLog(profile.folder)
    day = decisions(log)[-1].event.day + 1
    log.close()
    evening = datetime.combine(date.fromordinal(day), time(20)).astimezone()
    return open_session(profile, HandClock(), now=lambda: evening)


def decisions(log):
    with log.reading() as connection:
        return decisions_of(connection, log.player.uuid)


def plain(value):
    return msgspec.json.decode(msgspec.json.encode(value, enc_hook=repr))


def next_decisions(session):
    """What the coach says when each passage is opened again, in the order in which they were met."""
    facts = {one.event.passage.name: one.event.passage for one in decisions(session.log)}
    day = session.today().toordinal()
    opened = [PassageOpened(passage=passage, day=day) for passage in facts.values()]
    said = [advance(session.coach.state, event)[1] for event in opened]
    return [plain(decision) | {"reason": tell_all(decision.reason)} for decision in said]


def first_of(title):
    (entry,) = (entry for entry in shipped_entries() if entry.title == title)
    return passages_of(written_out(open_entry(entry)))[0]


def test_settings_and_the_map_they_make(session, golden):
    """Nothing had to be put right."""
    assert lost(golden["settings"], plain(session.settings)) == []
    homes = session.settings.neck_map().homes
    assert [[home.sounding, home.place.string, home.place.fret] for home in homes] == golden["homes"]
    assert session.settings_trouble is None


def test_settings_stay_as_they_are_when_they_come_into_the_log_and_at_the_start_after_that(session, profile):
    before = session.settings
    assert session.begin_practice() == ()
    session.close()
    later = seated(profile)
    assert later.begin_practice() == ()
    assert session.settings == later.settings == before
    later.close()


def test_which_tunes_were_opened_lines_met_and_tunes_known_by_ear(session, golden):
    facts = session.log.facts
    assert sorted(facts.opened_tunes) == golden["seen"]
    assert sorted(facts.met_lines) == golden["lines_seen"]
    with session.log.reading() as connection:
        told = list(facts_about(connection, session.log.player.uuid, About.KNOWN_BY_EAR))
    assert sorted(fact.content["tune"] for fact in told if fact.content["known"]) == golden["known_by_ear"]
    assert facts.knows_by_ear(first_of("Silent Night"))
    assert not facts.knows_by_ear(first_of("In the Hall of the Mountain King"))


def test_a_take_that_was_cut_short_is_found_and_judged_when_practice_begins(session, golden):
    unfinished = session.log._practice_log.unfinished_takes()
    assert [[take.take, len(raw.played)] for take, raw in unfinished] == golden["unfinished"]
    session.begin_practice()
    assert session.log._practice_log.unfinished_takes() == ()


def test_what_the_coach_decides_next_for_each_passage(session, golden):
    assert lost(golden["next"], next_decisions(session)) == []


def test_what_is_known_of_each_note_and_how_often_it_would_come(session, golden):
    known = player_notes.FOLD.pack(session.notes.mastery)
    assert lost(golden["mastery"], plain(known)) == []
    weights = sorted(session.notes.weights(MAP).items())
    assert lost(golden["weights"], plain(weights)) == []


def test_how_often_bars_were_met(session, golden):
    assert {title: session.log.sighting(first_of(title)).nth - 1 for title in golden["sightings"]} == golden[
        "sightings"
    ]


@pytest.mark.parametrize("fold", [player_coach.FOLD, player_notes.FOLD], ids=lambda fold: fold.name)
def test_an_old_snapshot_beside_the_log_is_never_misread(profile, golden, fold):
    """Under its old name nobody asks for it; under today's it is of another program, and all is made from the log."""
    old = profile.folder / f"{CALLED_THEN[fold.name]}.snapshot"
    before = old.read_bytes()
    shutil.copy(old, fold.path(profile.folder))
    session = seated(profile)
    assert lost(golden["next"], next_decisions(session)) == []
    assert lost(golden["mastery"], plain(player_notes.FOLD.pack(session.notes.mastery))) == []
    session.close()
    assert old.read_bytes() == before


@pytest.mark.parametrize("file_name", sorted(INSIDE["assignments"]))
def test_assignments_ask_for_the_same(file_name):
    told = repr(read_assignment(HERE / "assignments" / file_name))
    # Since then a map is one of a hand, and may have a second region: here the usual hand, and none.
    usual = ", hand=FrettingHand(span=4, back=1, on=1, open_strings=False), second=None"
    assert usual in told
    assert told.replace(usual, "") == INSIDE["assignments"][file_name]
