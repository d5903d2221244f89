"""What was truly read comes out of the log in one go, as the takes told it one by one."""

from dataclasses import replace
from datetime import UTC, timedelta, timezone
from random import Random
from uuid import UUID

import pytest

from game.coach.notes.note_reads import take_reads
from game.coach.stages import Pulse, Stage
from game.judging.verdicts import Judgement, Verdict
from game.lines.single_notes import single_notes
from game.music.keys import Key
from game.music.passage import whole_tune
from game.neck.neck_map import standard_map
from game.player.player_notes import judged_take
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.entry_order import newest_position
from game.practice_log.queries.read_queries import takes_read
from game.practice_log.queries.take_queries import with_sightings
from game.practice_log.rows.bar_contents import stretch_of
from game.practice_log.rows.entry_rows import About, put_fact, time_of
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.log_records import Terms
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, TUNE, begun, ended, judged, notes_of, recorded

PLACES = Terms(stage=Stage.PLACES)
TUNES = (
    TUNE,
    passage("D5 q, C5 q, Bb4 q, A4 q", "F4 w", key=-1),
    passage("G4 h, A4 h", "E4 w"),
    passage("F4 e, G4 e, A4 q", "G4 q, F4 q"),
)
MOMENT = "SELECT moment_us, zone_minutes FROM entry WHERE kind = 'take' AND row = ?"
IN_TIME = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def put(log, terms=PLACES, *, days=0, judgements=1, tune=0, **how):
    """A take in the log, judged once or more; each `tune` is another."""
    take = replace(begun(terms, tune=TUNES[tune]), started_at=MORNING + timedelta(days=days))
    number = put_take(log, take, DEVICE)
    for _ in range(judgements):
        put_ending(log, number, ended(judged(take, notes_of(take, **how)), minutes=1440 * days + 1), DEVICE)
    return number


def one_by_one(log):
    """The readings of every take, each put together from all that the log holds of it."""
    reads = []
    for take in with_sightings(log, PLAYER.uuid, takes_where(log, "1", ())):
        there = replace(take.begun, started_at=time_of(*log.execute(MOMENT, (take.take,)).fetchone()))
        read = take_reads(judged_take(there, judgement_of(log, take.take), take.day.toordinal()))
        reads += [read] if read.reads or read.shown else []
    return reads


def test_all_that_was_read_comes_out_as_the_takes_told_it(log):
    put(log, gap_s=0.7, wrong={2, 5})
    put(log, days=1, gap_s=1.3)
    put(log, IN_TIME, days=1, wrong={1}, tune=1)
    put(log, replace(PLACES, self_marked=True), days=2, tune=1)
    assert list(takes_read(log, PLAYER.uuid)) == one_by_one(log)
    assert len(one_by_one(log)) == 4


def test_whether_music_was_at_the_pace_of_a_fluent_map_comes_out_as_the_take_told_it(log):
    put(log, IN_TIME, tune=3, gap_s=0.4, wrong={2})
    put(log, IN_TIME, days=1, tune=3, gap_s=0.4)
    put(log, IN_TIME, days=2, tune=2, gap_s=0.4)
    told = list(takes_read(log, PLAYER.uuid))
    assert told == one_by_one(log)
    assert [take.at_pace for take in told] == [True, False, False]


def test_what_was_no_reading_is_left_out(log):
    """Rhythm alone, which meets the bars all the same; a third take of them; and what was heard before."""
    put(log, Terms(stage=Stage.RHYTHM))
    put(log)
    assert len(list(takes_read(log, PLAYER.uuid))) == 1
    put(log)
    heard = stretch_of(TUNES[1])
    put_fact(log, recorded(log, MORNING), About.HEARD, {"start": heard.start, "bars": heard.bars})
    put(log, tune=1)
    assert len(list(takes_read(log, PLAYER.uuid))) == 1
    assert len(takes_where(log, "judgement.judgement IS NOT NULL", ())) == 4


def test_a_take_judged_again_is_read_once_by_the_judgement_that_stands(log):
    put(log, judgements=3)
    assert list(takes_read(log, PLAYER.uuid)) == one_by_one(log)
    assert len(one_by_one(log)) == 1


def test_after_a_position_only_takes_begun_since_come(log):
    put(log)
    first = newest_position(log, PLAYER.uuid)
    put(log, days=1)
    take = takes_where(log, "1", ())[0]
    put_ending(log, take.take, ended(judged(take.begun, notes_of(take.begun, wrong={1})), minutes=3000), DEVICE)
    assert list(takes_read(log, PLAYER.uuid, after=first)) == one_by_one(log)[1:]
    assert list(takes_read(log, PLAYER.uuid, upto=first)) == one_by_one(log)[:1]


def test_takes_come_by_when_they_began_whatever_their_rows_and_on_the_day_of_their_zone(log):
    east, west = timezone(timedelta(hours=14)), timezone(timedelta(hours=-11))
    for tune, (hours, zone) in enumerate(((5, west), (3, east), (0, UTC))):
        take = replace(begun(PLACES, tune=TUNES[tune]), started_at=(MORNING + timedelta(hours=hours)).astimezone(zone))
        device = Identity(uuid=UUID(int=100 + hours), name="")
        ending = ended(judged(take, notes_of(take, wrong={hours})), minutes=60 * hours + 1)
        put_ending(log, put_take(log, take, device), ending, device)
    reads = list(takes_read(log, PLAYER.uuid))
    today = MORNING.date().toordinal()
    assert [read.day - today for read in reads] == [0, 1, 0]
    assert reads == one_by_one(log)


def test_another_players_readings_stay_theirs(log):
    put(log)
    assert list(takes_read(log, DEVICE.uuid)) == []


def test_notes_that_were_shown_come_out_apart_even_where_nothing_else_was_read(log):
    take = begun(PLACES, tune=TUNES[2])
    number = put_take(log, take, DEVICE)
    helped = tuple(replace(one, verdict=Verdict.HINTED) for one in judged(take, notes_of(take)).verdicts)
    put_ending(log, number, ended(Judgement(verdicts=helped)), DEVICE)
    (read,) = takes_read(log, PLAYER.uuid)
    assert (read.reads, [key.written for key in read.shown]) == ((), ["G4", "A4", "E4"])


def test_a_row_of_single_notes_comes_out_as_a_drill(log):
    put(log)
    row = single_notes(standard_map(), key=Key(), bars=2, rng=Random(1))
    take = begun(PLACES, tune=whole_tune(row))
    take = replace(take, started_at=MORNING + timedelta(days=1))
    put_ending(log, put_take(log, take, DEVICE), ended(judged(take, notes_of(take)), minutes=1441), DEVICE)
    assert [read.drill for read in takes_read(log, PLAYER.uuid)] == [False, True]
