"""What a practice log comes to, in figures."""

from dataclasses import replace
from datetime import UTC, date, timedelta, timezone

import pytest

from game.coach.coach import advance
from game.coach.events import PassageFacts
from game.coach.marks import Mark
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.errors import LogError
from game.judging.verdicts import NoteVerdict, Verdict
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice_log.database.store import open_store
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.log_records import Sighting, Terms
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, TUNE, begun, ended, judged, notes_of, recorded
from tests.refusing import refusal

OTHER_TUNE = passage("D5 q, C5 q, Bb4 q, A4 q", "F4 w", key=-1)
TIMED = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)
FIRST = MORNING.date()


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def put(log, terms=None, *, days=0, sighting=1, tune=TUNE, neck_map=None, verdicts=None, zone=UTC, **how):
    """A take some days after the first; returns its number."""
    take = begun(
        terms or Terms(stage=Stage.PLACES),
        tune=tune,
        sighting=Sighting(nth=sighting),
        neck_map=neck_map or standard_map(),
    )
    take = replace(take, started_at=(MORNING + timedelta(days=days)).astimezone(zone))
    number = put_take(log, take, DEVICE)
    judgement = judged(take, notes_of(take, **how))
    if verdicts:
        judgement = replace(judgement, verdicts=verdicts)
    put_ending(log, number, ended(judgement, minutes=24 * 60 * days + 2), DEVICE)
    return number


def figures(log):
    return figures_of(log, PLAYER.uuid)


def test_days_are_those_of_the_zone_of_each_take_and_hold_what_was_met_at_first_sight(log):
    """The morning is 7:30 UTC; where it is eight hours earlier it is still the day before."""
    put(log, wrong={1, 2})
    put(log, days=1, sighting=2)
    put(log, days=1, sighting=3, wrong={1})
    with figures(log) as told:
        assert [(one.day, one.takes, one.read, one.clean) for one in told.days()] == [
            (FIRST, 1, 6, 4),
            (FIRST + timedelta(days=1), 2, 6, 6),
        ]
    put(log, days=2, zone=timezone(timedelta(hours=-8)))
    with figures(log) as told:
        assert [(one.day, one.takes) for one in told.days()] == [(FIRST, 1), (FIRST + timedelta(days=1), 3)]


def test_bars_met_for_the_first_time_are_told_oldest_first_and_a_second_look_is_none(log):
    put(log, wrong={1, 2})
    put(log, days=1, sighting=2)
    put(log, Terms(stage=Stage.SIGHT), days=2, tune=OTHER_TUNE, wrong={3})
    put(log, Terms(stage=Stage.LETTERS), days=3, tune=passage("C5 q, D5 q, E5 h"))
    with figures(log) as told:
        found = told.first_sights(9)
        assert [(one.day, one.stage, one.notes, one.clean) for one in found] == [
            (FIRST, "places", 6, 4),
            (FIRST + timedelta(days=2), "sight", 5, 4),
        ]
        assert told.first_sights(1) == found[1:]


def test_notes_are_told_by_pitch_with_how_often_they_were_clean_and_why_not(log):
    put(log, wrong={2})
    put(log, days=3, sighting=2, gap_s=0.5)
    with figures(log) as told:
        notes = {note.written: note for note in told.notes(FIRST + timedelta(days=3), 7)}
        assert list(notes) == ["F4", "F#4", "G4", "A4", "Bb4", "C5"]
        assert [(notes[name].read, notes[name].clean) for name in ("F4", "G4")] == [(2, 2), (2, 1)]
        assert [count for _, count in notes["G4"].causes] == [1]
        assert notes["A4"].find_s == pytest.approx((1.0 + 0.5) / 2), "the median of two"
        assert notes["F4"].find_s is None, "nobody knows when the search for a first note began"
        assert [note.read for note in told.notes(FIRST + timedelta(days=3), 3)] == [1] * 6, "the first day is left out"


def test_passages_are_told_by_the_newest_take_with_tempi_of_takes_in_time(log):
    put(log)
    put(log, TIMED, days=1, sighting=2)
    put(log, replace(TIMED, tempo_bpm=90.0), days=2, sighting=3, wrong={1, 2, 3})
    put(log, days=2, tune=OTHER_TUNE)
    with figures(log) as told:
        other, first = told.passages()
        assert (other.takes, other.newest_bpm, other.clean_bpm) == (1, None, None)
        assert (first.takes, first.newest_bpm, first.clean_bpm) == (3, 90.0, 66.0)
        assert (first.first_day, first.last_day) == (FIRST, FIRST + timedelta(days=2))


def hear(log, take, days):
    """The coach hears of a take; what it says is another passage's mark, which nobody believes."""
    (logged,) = takes_where(log, "take.take = ?", (take,))
    facts = PassageFacts(name=logged.begun.bars.passage_key, target_bpm=92)
    event = coach_result(logged.begun, facts, day=1, judgement=judgement_of(log, take))
    decision = replace(advance(CoachState(), event)[1], earned=(Mark.SIGNED_OFF,))
    put_decision(log, recorded(log, MORNING + timedelta(days=days, minutes=3)), event, decision, take)


def test_the_passages_that_earned_a_mark_last_come_first(log):
    for at, tune in enumerate((TUNE, OTHER_TUNE)):
        hear(log, put(log, days=at, tune=tune), at)
    with figures(log) as told:
        newest = told.newest_marked(1)
        assert [passage.key for passage in newest] == [begun(tune=OTHER_TUNE).bars.passage_key]
        assert newest[0].marks == ((Mark.FOUND.value, FIRST + timedelta(days=1)),)
        assert newest[0].target_bpm == 92
        assert [len(passage.marks) for passage in told.newest_marked(9)] == [1, 1]


def test_what_went_wrong_is_told_with_what_was_played_the_most_frequent_first(log):
    put(log, wrong={2, 3})
    put(log, days=1, sighting=2, wrong={3})
    with figures(log) as told:
        first, second = told.went_wrong(FIRST + timedelta(days=1), 7)
        assert (first.written, first.times, first.day) == ("A4", 2, FIRST + timedelta(days=1))
        assert (second.written, second.times) == ("G4", 1)
        assert (first.played, first.octaves_down, first.verdict) == (58, 1, "wrong pitch"), "a fret too high"
        assert len(told.went_wrong(FIRST + timedelta(days=1), 7, most=1)) == 1
        assert [note.written for note in told.went_wrong(FIRST + timedelta(days=1), 1)] == ["A4"]


def test_one_fault_with_a_cause_here_and_another_there_is_told_once_with_its_most_frequent_cause(log):
    """A fret too high at A4 is B flat: beside another slip the hand slipped; alone it is B flat that was read."""
    put(log, wrong={2, 3})
    put(log, days=1, sighting=2, wrong={3})
    with figures(log) as told:
        assert told.went_wrong(FIRST + timedelta(days=1), 7)[0].cause == "neighbour", "as it was last"
        assert told.went_wrong(FIRST, 7)[-1].cause == "slip"
    put(log, days=2, sighting=3, wrong={2, 3})
    with figures(log) as told:
        first, second = told.went_wrong(FIRST + timedelta(days=2), 7)
        assert (first.written, first.times, first.cause, first.day) == ("A4", 3, "slip", FIRST + timedelta(days=2))
        assert (second.written, second.times, second.cause) == ("G4", 2, "slip")


def test_a_note_that_was_missed_has_no_pitch_that_was_played(log):
    verdicts = tuple(NoteVerdict(n=n, verdict=Verdict.MISSED if n == 1 else Verdict.CLEAN) for n in range(1, 7))
    put(log, verdicts=verdicts)
    with figures(log) as told:
        (missed,) = told.went_wrong(FIRST, 7)
        assert (missed.written, missed.played) == ("F4", None)


def test_the_map_is_that_of_the_newest_take(log):
    with figures(log) as told:
        assert told.newest_map() is None
    put(log)
    put(log, days=1, neck_map=standard_map(position=7))
    with figures(log) as told:
        assert told.newest_map() == standard_map(position=7)
        assert told.maps() == (standard_map(position=7), standard_map())


def test_a_map_with_one_home_moved_is_the_same_one_and_told_as_it_was_last(log):
    put(log)
    moved = standard_map(choices={64: Place(3, 9)})
    put(log, days=1, neck_map=moved)
    with figures(log) as told:
        assert told.maps() == (moved,)


def test_a_take_that_was_never_judged_and_one_of_another_player_are_left_out(log):
    put_take(log, begun(), DEVICE)
    with figures(log) as told:
        assert (told.days(), told.passages(), told.notes(date.max, 7)) == ((), (), ())


def test_a_log_whose_rows_make_no_sense_is_refused(log):
    put(log)
    log.execute("ALTER TABLE neck_map RENAME TO lost")
    with refusal(LogError, "makes no sense"), figures(log) as told:
        told.went_wrong(FIRST, 7)
