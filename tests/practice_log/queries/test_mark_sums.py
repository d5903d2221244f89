"""Marks are folded from what was played, on whatever device, and kept up in the sums."""

import sqlite3
from contextlib import closing
from random import Random

import pytest

from game.practice_log.queries.figures import figures_of
from tests.practice_log.devices import TUNE, Device, Thing, everything_of, facts, things, whole_tune
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import lines_of, take_in
from tests.sampling import how_many, sample

ALL = whole_tune(TUNE)
A_DAY = 24 * 60
# In time, at the target, and without a wrong note: see `Device`.
CLEAN = next(
    chance
    for chance in (index / 1000 for index in range(400))
    if all(wrong >= 0.15 for rng in [Random(chance)] for wrong in [rng.random() for _ in ALL.notes])
)


def marks_in(log):
    with figures_of(log, PLAYER.uuid) as figures:
        return {(passage.key, mark): day for passage in figures.passages() for mark, day in passage.marks}


def test_a_passage_is_signed_off_by_two_devices_that_know_nothing_of_each_other():
    """Each played half of it: neither said so, and gathered it is."""
    devices = [Device(number) for number in (0, 1)]
    for day, device in enumerate(devices):
        device.do(Thing(A_DAY * day, 0, "take", ALL, CLEAN))
        assert "signed off" not in {mark for _, mark in marks_in(device.log)}
    devices[0].gather(lines_of(devices[1].log))
    assert "signed off" in {mark for _, mark in marks_in(devices[0].log)}
    said = devices[0].log.execute("SELECT earned FROM decision").fetchall()
    assert not [earned for (earned,) in said if "signed off" in earned]
    for device in devices:
        device.log.close()


@pytest.mark.parametrize("seed", sample([2, 4, 5], by_default=1))
def test_marks_kept_up_in_a_file_are_those_of_sums_made_anew_whatever_comes_late(seed, tmp_path):
    done = things(seed, 2, how_many(40, by_default=25))
    device, other = Device(0, tmp_path), Device(1)
    for thing in done:
        (device, other)[thing.device].do(thing)
        everything_of(device.log)
    take_in(device.log, lines_of(other.log))
    with closing(_copy(device.log)) as copy:
        assert marks_in(device.log) == marks_in(copy)
    device.log.close()
    other.log.close()


def _copy(log):
    copy = sqlite3.connect(":memory:", isolation_level=None)
    log.backup(copy)
    return copy


def test_when_bars_were_read_stands_beside_the_marks_of_practice_and_is_none_of_them():
    device = Device(0)
    for day in range(3):
        device.do(Thing(A_DAY * day, 0, "take", ALL, CLEAN))
    with figures_of(device.log, PLAYER.uuid) as figures:
        (passage,) = figures.passages()
    assert passage.read_day == passage.first_day
    assert "read" not in {mark for mark, _ in passage.marks}
    device.log.close()


def test_bars_heard_before_they_were_played_are_never_read():
    device = Device(0)
    device.do(Thing(0, 0, "hear", ALL, 0.0))
    device.do(Thing(A_DAY, 0, "take", ALL, CLEAN))
    with figures_of(device.log, PLAYER.uuid) as figures:
        (passage,) = figures.passages()
    assert passage.read_day is None
    device.log.close()


def test_what_was_signed_off_is_told_with_the_tempo_of_that_day_in_notes_a_second():
    """By the beats of that take and the notes that the passage has in each."""
    device = Device(0)
    for day in range(2):
        device.do(Thing(A_DAY * day, 0, "take", ALL, CLEAN))
    with figures_of(device.log, PLAYER.uuid) as figures:
        (pace,) = figures.signed()
        (passage,) = figures.passages()
    (signed_day,) = {day for mark, day in passage.marks if mark == "signed off"}
    assert (pace.day, pace.title, pace.bpm) == (signed_day, passage.title, passage.newest_bpm)
    assert pace.notes_a_second == pytest.approx(pace.bpm * facts(ALL).notes_per_beat / 60)
    device.log.close()
