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
from tests.practice_log.transfer.practised import TUNES, Computer
from tests.sampling import how_many


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


PLAIN = """
SELECT COUNT(*), SUM(verdict IN ('clean', 'early', 'late')), SUM(verdict IN ('early', 'late'))
FROM judgement JOIN take USING (take) JOIN {told} AS told USING (judgement)
JOIN asked_note ON asked_note.asked = take.asked AND asked_note.n = told.n
WHERE string IS NOT NULL AND verdict NOT IN ('unread', 'unsure') AND (stage = 'letters') = :named
"""


def test_of_many_takes_every_count_is_that_of_the_raw_rows():
    steps = how_many(120, by_default=40)
    computer = Computer(1, unsure=0.1).practise(steps)
    results = [
        result
        for _, result in takes_of_passages(
            computer.log, computer.player.uuid, [passage_key(tune) for tune in TUNES], since_us=0
        )
    ]
    assert len(results) > steps / 4
    for told, named in (("verdict", False), ("named", True)):
        chosen = [one for one in results if (one.stage is Stage.LETTERS) is named]
        homes, clean, off = computer.log.execute(PLAIN.format(told=told), {"named": named}).fetchone()
        assert (homes, clean or 0, off or 0) == tuple(
            sum(getattr(one, name) for one in chosen) for name in ("homes", "clean", "off_time")
        )
    for kind in ("stop", "restart"):
        (count,) = computer.log.execute("SELECT COUNT(*) FROM event WHERE kind = ?", (kind,)).fetchone()
        assert sum(getattr(one, f"{kind}s") for one in results) == count
