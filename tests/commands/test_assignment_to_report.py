"""From the teacher and back: an assignment written by hand, dropped, practised, handed over, and told in the report;
its figures recounted from the raw log by plain SQL.
"""

import io
import json
import sqlite3
from contextlib import closing, redirect_stdout
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from types import SimpleNamespace

import jsonschema
import pygame
import pytest

from game.__main__ import main
from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.paths import shipped, user_data
from game.player.profiles import LOG_FILE
from game.player.settings import Settings
from game.screens.routes import ToPage
from tests.practice_log.plain_sightings import put_plain_sightings
from tests.screens.table import Table

ASSIGNED = """
title = "First week"          # by hand, as a teacher writes it
due = 2026-03-21

[[tune]]
title = "Ode to Joy"
bars = [1, 4]
stages = ["places", "time"]
tempo = 72

[[line]]
level = 1
stages = ["sight"]
"""
NOON = datetime(2026, 3, 14, 12, tzinfo=UTC)
OF_ASSIGNED = "bars.title = 'Ode to Joy' AND bars.first = '1' AND bars.last = '4'"
READING = "plain_sighting.nth <= 2 AND NOT plain_sighting.heard AND take.stage IN ('places', 'time', 'sight')"


def _seated(folder):
    """A table with a coach, whose log tells the time by the table's own clock."""
    table = Table(folder, day=NOON.date())
    table.app._chance = Random(5)
    return table


def _drop(table, path):
    table.app.step([pygame.event.Event(pygame.DROPFILE, file=str(path))])


def _play_places(table, *, wrong):
    """Each note after half a second or more; those numbered `wrong` a tone too high first."""
    for note in table.screen.take.expected:
        table.wait(0.4 + 0.1 * (note.n % 3), frame_s=0.05)
        if note.n in wrong:
            table.play(note.sounding + 2)
            table.wait(0.5, frame_s=0.05)
        table.play(note.sounding)
    table.wait(2.0, frame_s=0.05)


def _play_in_time(table, tune, tempo_bpm, *, wrong=()):
    table.go(ToPage(replace(tune, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=tempo_bpm), chosen=True))
    page = table.screen
    page.begin()
    for note in page.take.expected:
        due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1]
        table.wait(due_s - table.clock.now_s(), frame_s=0.05)
        sounding = note.sounding + (2 if note.n in wrong else 0)
        home = table.context.settings.neck_map().home_of(sounding)
        played = PlayedNote(started_s=due_s, sounding=sounding, place=home.place, source="test guitar")
        table.app.note_started(NoteStarted(note=played, channel=1))
    table.wait(5.0, frame_s=0.05)


def _play_at_sight(table):
    """The line that was set, at its own pace."""
    for note in table.screen.take.expected:
        table.play(note.sounding)
        table.wait(0.4, frame_s=0.05)
    table.wait(3.0)


def _answer(command, *words):
    """The answer of a command in this process, held against its schema."""
    out = io.StringIO()
    with redirect_stdout(out):
        assert main([command, *map(str, words), "--json"]) == 0
    told = json.loads(out.getvalue())
    schema = shipped("content", "schemas", f"{command}.schema.json").read_text(encoding="utf-8")
    jsonschema.validate(told, json.loads(schema))
    return told


@pytest.fixture(scope="module")
def handed_over(tmp_path_factory):
    """What was assigned, practised and handed over: the student's answer in the report, and the raw log."""
    home = tmp_path_factory.mktemp("student")
    with pytest.MonkeyPatch.context() as patch:
        for name, folder in (("HOME", ""), ("XDG_DATA_HOME", "data"), ("XDG_CONFIG_HOME", "config")):
            patch.setenv(name, str(home / folder))
        assigned = home / "first week.toml"
        assigned.write_text(ASSIGNED, encoding="utf-8")
        table = _seated(user_data())
        _drop(table, assigned)
        table.key(pygame.K_RETURN)
        tune = table.screen.request
        _play_places(table, wrong={2, 5})
        _play_in_time(table, tune, 60)
        _play_in_time(table, tune, 72, wrong={3, 4, 6})
        _drop(table, assigned)
        table.key(pygame.K_DOWN)
        table.key(pygame.K_RETURN)
        sight = table.screen_name
        _play_at_sight(table)
        assert table.context.session.log.close() is None
        handed = home / "class"
        handed.mkdir()
        exported = _answer("log", "--export", handed / "student.zip")
        report = _answer(
            "report", "--from", handed, "--out", home / "pages" / "index.html", "--today", NOON.date().isoformat()
        )
        with closing(sqlite3.connect(user_data() / LOG_FILE)) as log, log:
            put_plain_sightings(log)
            yield SimpleNamespace(
                tune=tune, sight=sight, exported=exported, report=report, student=report["students"][0], log=log
            )


def _one(handed_over, statement):
    return handed_over.log.execute(statement).fetchone()


def test_what_was_set_is_what_was_practised(handed_over):
    assert handed_over.tune.stage is Stage.PLACES
    assert handed_over.tune.passage.bar_numbers == ("1", "4")
    rows = handed_over.log.execute(f"SELECT stage, tempo_bpm FROM take JOIN bars USING (bars) WHERE {OF_ASSIGNED}")
    assert rows.fetchall() == [("places", None), ("time", 60.0), ("time", 72.0)]
    assert _one(handed_over, f"SELECT stage FROM take JOIN bars USING (bars) WHERE NOT ({OF_ASSIGNED})") == ("sight",)


def test_all_of_it_is_handed_over_and_none_is_left_out(handed_over):
    (takes,) = _one(handed_over, "SELECT count(*) FROM judgement")
    assert handed_over.exported["takes"] == takes == 4
    assert handed_over.report["faults"] == []
    assert sum(passage["takes"] for passage in handed_over.student["passages"]) == takes


def test_the_minutes_are_those_of_the_log(handed_over):
    (minutes,) = _one(
        handed_over,
        "SELECT sum(julianday(ended_utc) - julianday(started_utc)) * 1440 FROM take JOIN judgement USING (take)",
    )
    assert handed_over.student["minutes"] == pytest.approx(minutes, abs=0.01)
    assert minutes > 0.5
    assert handed_over.student["days"] == 1


def test_read_and_clean_at_first_sight_are_those_of_the_log(handed_over):
    read, clean = _one(
        handed_over,
        "SELECT count(*), sum(verdict.verdict IN ('clean', 'early', 'late')) FROM take "
        "JOIN plain_sighting USING (take) JOIN judgement USING (take) JOIN verdict USING (judgement) "
        "JOIN asked_note ON asked_note.asked = take.asked AND asked_note.n = verdict.n "
        f"WHERE {READING} AND asked_note.string IS NOT NULL AND verdict.verdict <> 'unread'",
    )
    sight = handed_over.student["first_sight"]
    assert (sight["read"], sight["clean"]) == (read, clean)
    wrong = handed_over.log.execute(
        "SELECT n FROM take JOIN plain_sighting USING (take) JOIN bars USING (bars) JOIN judgement USING (take) "
        "JOIN verdict USING (judgement) "
        f"WHERE {OF_ASSIGNED} AND {READING} AND verdict = 'wrong pitch'"
    ).fetchall()
    assert wrong == [(2,), (5,)], "what was wrong at the third sighting does not count"


def test_the_tempo_of_the_assigned_passage_is_told_against_the_target_that_was_set(handed_over):
    (passage,) = [one for one in handed_over.student["passages"] if one["title"] == "Ode to Joy"]
    by_tempo = handed_over.log.execute(
        "SELECT tempo_bpm, avg(verdict.verdict IN ('clean', 'early', 'late')) FROM take JOIN bars USING (bars) "
        f"JOIN judgement USING (take) JOIN verdict USING (judgement) WHERE {OF_ASSIGNED} AND stage = 'time' "
        "GROUP BY take.take ORDER BY take.take"
    ).fetchall()
    assert passage["tempo"] == by_tempo[-1][0] == 72
    assert passage["clean_tempo"] == max(tempo for tempo, share in by_tempo if share >= 0.9) == 60
    set_tempi = [(part["stage"], part["bars"], part["tempo"]) for part in handed_over.student["parts"] if part["title"]]
    assert set_tempi == [("places", [1, 4], 72), ("time", [1, 4], 72)]
    # The target of the student's own stays.
    assert passage["target"] == Settings().target_bpm
    assert passage["bars"] == ["1", "4"]
    assert passage["takes"] == 3


def test_the_page_shows_the_worst_take_with_its_marks_and_it_can_be_heard(handed_over):
    shown = next(page for page in handed_over.student["pages"] if page["title"] == "Ode to Joy")
    worst = _one(
        handed_over,
        "SELECT take.take, count(*) FROM take JOIN bars USING (bars) JOIN judgement USING (take) JOIN verdict USING "
        f"(judgement) WHERE {OF_ASSIGNED} AND verdict.verdict IN ('wrong pitch', 'other place', 'missed') "
        "GROUP BY take.take ORDER BY count(*) DESC LIMIT 1",
    )
    assert (shown["number"], worst[1]) == (worst[0], 3)
    page = Path(handed_over.student["files"][0]).read_text(encoding="utf-8")
    assert f"Take {shown['number']} of 14 March 2026: Ode to Joy, bars 1–4; time at 72" in page
    assert page.count("was played") >= 3


def test_the_export_says_in_plain_text_what_it_contains(handed_over):
    contents = handed_over.exported["contents"]
    assert contents["rows"]["take"] == 4
    assert contents["rows"]["played"] == _one(handed_over, "SELECT count(*) FROM played")[0]
    assert "homefret report --from" in contents["says"]
    assert json.dumps(contents)
