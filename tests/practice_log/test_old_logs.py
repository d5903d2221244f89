"""Logs of real practice, made before every entry had a key of its own, open and are what they were then.

`old_logs/make_old_logs.py` tells how each was made; `facts.json` and `known.json.xz` are what that day's program knew.
"""

import shutil
from datetime import datetime

import msgspec
import pytest

from game.clock import HandClock
from game.player import player_coach, player_notes
from game.player.profiles import Profile
from game.player.session import open_session
from game.practice_log.database.opening import opened_log
from tests.fixtures_of_november.november import lost
from tests.practice_log.old_logs.unpacking import FACTS, LOG, NAMES, known_then, unpacked

ONE_PLAYER = ("two_weeks", "first_computer", "interrupted")
TAKES = """
SELECT device.uuid, number, started_utc, title, stage, tempo_bpm,
    (SELECT COUNT(*) FROM played WHERE played.take = take.take),
    (SELECT outcome FROM judgement WHERE judgement.take = take.take ORDER BY judgement DESC LIMIT 1)
FROM take JOIN device USING (device) JOIN bars USING (bars) ORDER BY take
"""


def plain(value):
    return msgspec.json.decode(msgspec.json.encode(value, enc_hook=repr))


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


@pytest.mark.parametrize("name", ONE_PLAYER)
def test_the_coach_and_the_notes_are_those_of_then(name, tmp_path):
    session = seated(unpacked(name, tmp_path / name))
    ((player, facts),) = FACTS[name]["players"].items()
    known = known_then(name, player)
    assert lost(known["coach"], plain(player_coach.FOLD.pack(session.coach.state))) == []
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
