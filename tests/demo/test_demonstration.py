"""A simulated learner practises at the real app, day after day."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from game.coach.stages import Stage
from game.demo.demonstration import LEARNER, Demonstration
from game.instrument.sources.note_sources import PlayedOn
from game.player.profiles import LOG_FILE
from game.text.catalogue import tell_all
from tests.sampling import only_where_all_is_run


@only_where_all_is_run("a hundred takes")
def test_a_learner_who_falls_apart_comes_down_again(tmp_path):
    """One who tires quickly: after a take that fell apart the tempo is at least a tenth lower at once."""
    tiring = replace(LEARNER, steady_bpm=100, ceiling_bpm=None, learning=0.0, fatigue=0.07)
    demonstration = Demonstration(tmp_path, Random(1), fast=True, learner=tiring)
    demonstration.play()
    timed = [take for take in demonstration.takes if take.tempo_bpm and take.stage is Stage.TIME]
    falls = [(before, after) for before, after in pairwise(timed) if "fell apart: down" in tell_all(after.reason)]
    assert falls
    for before, after in falls:
        assert before.clean / before.notes < 0.8
        assert after.tempo_bpm <= 0.9 * before.tempo_bpm + 0.5


@pytest.fixture(scope="module")
def two_days(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    demonstration = Demonstration(folder, Random(4), fast=True, days=2)
    demonstration.play()
    return demonstration, folder


def test_each_evening_follows_its_plan(two_days):
    demonstration, _ = two_days
    for day in (1, 2):
        tunes = list(dict.fromkeys(take.tune for take in demonstration.takes if take.day == day))
        assert len(tunes) >= 2


def test_what_was_played_is_what_the_log_and_the_takes_tell(two_days):
    demonstration, folder = two_days
    with closing(sqlite3.connect(folder / LOG_FILE)) as log, log:
        rows = log.execute("SELECT stage, tempo_bpm FROM take ORDER BY take").fetchall()
        kinds = log.execute("SELECT DISTINCT kind FROM take JOIN instrument USING (instrument)").fetchall()
    assert rows == [(take.stage.value, take.tempo_bpm) for take in demonstration.takes]
    assert kinds == [(PlayedOn.SIMULATED.value,)]


def test_days_of_practice_are_days_in_the_log(two_days):
    _, folder = two_days
    with closing(sqlite3.connect(folder / LOG_FILE)) as log, log:
        days = [day for (day,) in log.execute("SELECT DISTINCT date(started_utc) FROM take ORDER BY started_utc")]
    assert days == ["2026-03-03", "2026-03-04"]


def test_each_kind_of_take_has_its_first_page_as_a_picture_before_and_after(two_days):
    demonstration, folder = two_days
    kinds = {f"{take.stage.value}-{'free' if take.tempo_bpm is None else 'click'}" for take in demonstration.takes}
    names = [path.name for path in demonstration.files]
    for kind in kinds:
        assert sum(name.endswith((f"{kind}-before.png", f"{kind}-after.png")) for name in names) == 2
    assert all(path.parent == folder and path.exists() for path in demonstration.files)
