"""The takes of some passages are found in the log with the map they were played on."""

import pytest

from game.clock import HandClock
from game.coach.notes.map_identity import map_key
from game.coach.stages import Stage
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings
from game.practice_log.queries.assigned_takes import takes_of_passages
from game.practice_log.rows.passage_key import passage_key
from tests.made import passage
from tests.player.seated import play_a_take


@pytest.fixture
def seated(tmp_path):
    profile = Profile(name="", folder=tmp_path, settings_path=tmp_path / "settings.json")
    session = open_session(profile, HandClock(100.0), settings=Settings())
    yield session
    session.close()


def taken(session, keys, since_us=0):
    log = session.log
    assert log.flush()
    with log.reading() as connection:
        return takes_of_passages(connection, log.player.uuid, keys, since_us=since_us)


def test_a_take_is_told_with_its_counts_its_day_and_its_map(seated):
    play_a_take(seated)
    key = passage_key(passage("F4 h, G4 h"))
    ((neck_map, result),) = taken(seated, {key, "0" * 32})
    assert neck_map == map_key(seated.settings.neck_map())
    assert (result.passage.name, result.stage, result.day) == (key, Stage.PLACES, seated.log.day)
    assert (result.homes, result.clean, result.unread, result.tempo_bpm) == (2, 2, 0, None)
    assert taken(seated, {"0" * 32}) == []
    assert taken(seated, {key}, since_us=2**61) == []


def test_after_its_bars_were_read_anew_it_goes_by_their_new_key(seated):
    play_a_take(seated)
    was, is_now = passage("F4 h, G4 h"), passage("F4 h, A4 h")
    seated.coach.rename_passage(was, is_now)
    ((_, result),) = taken(seated, {passage_key(is_now)})
    assert result.passage.name == passage_key(is_now)
