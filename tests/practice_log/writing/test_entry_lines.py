"""What could not be written stands as lines, and comes back as it was."""

import json
from dataclasses import replace
from datetime import timedelta, timezone
from fractions import Fraction

import pytest

from game.coach.coach import advance
from game.coach.events import Overruled, PassageFacts, PassageOpened, Wish
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.music.names import Spelling
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice_log.database.own_device import OwnDevice
from game.practice_log.rows.decision_rows import coach_result
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.log_records import HelpGiven, NameGiven, Sighting, Terms
from game.practice_log.writing.entries import (
    AddDecision,
    AddFact,
    AddHelp,
    AddName,
    AddPlayed,
    BeginTake,
    CheckClock,
    ContinueTake,
    EndTake,
    ReopenTake,
    RevisePlayed,
)
from game.practice_log.writing.entry_lines import entry_line, entry_of
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

FACTS = PassageFacts(name="ford", notes_per_beat=0.75, usual_note_beats=1.0, target_bpm=92)
TERMS = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0, beat_length=Fraction(3, 2))
MAP = standard_map().with_choice(Place(4, 9))
TAKE = begun(TERMS, sighting=Sighting(nth=2, heard=True, known_by_ear=False), neck_map=MAP)
NOTES = notes_of(TAKE, wrong={2})
JUDGEMENT = judged(TAKE, NOTES)
NOTE = PlayedNote(started_s=501.5, sounding=53, place=None, source="pickup", arrived_s=501.75)
DAY = MORNING.date().toordinal()
SOMEWHERE = MORNING.astimezone(timezone(timedelta(hours=5, minutes=30)))
STATE, OPENED = advance(CoachState(), PassageOpened(passage=FACTS, day=DAY, begin_at=Stage.PLACES))
_, SLOWER = advance(STATE, Overruled(passage=FACTS, day=DAY, wish=Wish.SLOWER, tempo_bpm=60))
RESULT = coach_result(TAKE, FACTS, day=DAY, judgement=JUDGEMENT)
_, AFTER = advance(STATE, RESULT)

ENTRIES = [
    BeginTake(1, TAKE, DEVICE),
    ReopenTake(2, 77),
    ContinueTake(3, DEVICE.uuid, SOMEWHERE),
    AddPlayed(1, NOTE, 500.0),
    *(AddPlayed(1, note, 0.0) for note in NOTES[:2]),
    RevisePlayed(1, NOTE, None, 500.0),
    RevisePlayed(1, NOTE, NOTES[0], 500.0),
    AddHelp(1, HelpGiven(n=2, step=HintStep.PLACE, at_s=1.5)),
    AddName(1, NameGiven(n=2, name=Spelling("B", -1), at_s=2.5)),
    AddName(1, NameGiven(n=2, name=None, at_s=2.5, said_right=True)),
    EndTake(1, ended(JUDGEMENT), 0.0, DEVICE),
    AddDecision(PLAYER, DEVICE, SOMEWHERE, PassageOpened(passage=FACTS, day=DAY), OPENED, None),
    AddDecision(PLAYER, DEVICE, SOMEWHERE, Overruled(passage=FACTS, day=DAY, wish=Wish.SLOWER), SLOWER, None),
    AddDecision(PLAYER, DEVICE, SOMEWHERE, RESULT, AFTER, 1),
    AddFact(PLAYER, DEVICE, MORNING, About.SETTING, {"name": "look", "value": ["ü", 1, None, True, {"a": 2.5}]}),
    CheckClock(PLAYER, DEVICE, MORNING),
]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: type(entry).__name__)
def test_every_kind_of_entry_comes_back_from_one_line_as_it_was(entry):
    line = entry_line(entry)
    assert line.isascii()
    assert "\n" not in line
    back = entry_of(line)
    if isinstance(entry, AddFact):
        # What JSON knows as a list is a row when it comes back, and the same in JSON again.
        assert json.dumps(back.content) == json.dumps(entry.content)
        back = replace(back, content=entry.content)
    assert back == entry


def test_an_id_with_more_about_it_comes_back_as_what_an_entry_holds():
    device = OwnDevice(uuid=DEVICE.uuid, name=DEVICE.name, machine="m", folder="f")
    back = entry_of(entry_line(BeginTake(1, TAKE, device)))
    assert back == BeginTake(1, TAKE, DEVICE)


def test_numbers_that_json_does_not_know_come_back():
    back = entry_of(entry_line(AddPlayed(1, replace(NOTE, started_s=float("inf")), 0.0)))
    assert back.note.started_s == float("inf")


def test_what_no_entry_holds_is_not_written():
    with pytest.raises(TypeError, match="no entry holds"):
        entry_line(AddFact(PLAYER, DEVICE, MORNING, About.SETTING, {"x": object()}))


@pytest.mark.parametrize(
    "line",
    [
        "",
        "[]",
        "{}",
        "7",
        '{"is": "Popen", "args": ["x"]}',
        '{"is": "Identity", "uuid": {"is": "UUID", "text": "x"}}',
        '{"is": "ReopenTake", "handle": 1}',
        '{"is": "ReopenTake", "handle": 1, "take": 2, "more": 3}',
        '{"is": "Stage", "name": "none"}',
        '{"is": "Stage", "name": "PLACES"}',
        "[" * 100_000,
    ],
    ids=lambda line: line[:30],
)
def test_a_line_that_is_no_entry_makes_nothing(line):
    with pytest.raises((ValueError, TypeError, KeyError, RecursionError)):
        entry_of(line)
