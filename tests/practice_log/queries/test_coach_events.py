"""What the coach heard, out of the log."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from operator import itemgetter
from uuid import UUID

import pytest

from game.coach.coach import advance, replayed
from game.coach.events import PassageOpened, TakeResult
from game.coach.marks import Mark
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.judging.letters import begin_naming, finish_naming, give_name
from game.judging.version import JUDGE_VERSION
from game.music.names import spelling_of
from game.practice_log.database.identity import Identity
from game.practice_log.database.opening import opened_log
from game.practice_log.database.own_player import players_with_entries
from game.practice_log.database.store import open_store
from game.practice_log.queries.coach_events import events_of
from game.practice_log.queries.entry_order import ORDER, Position
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import NameGiven, Terms
from game.practice_log.rows.played_rows import put_name
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.practice_log.coached_takes import FACTS, Practice, day_number, some_days
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of, recorded
from tests.practice_log.old_logs.unpacking import LOG, unpacked
from tests.practice_log.read_back import decisions_of


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def test_replay_can_go_on_from_where_it_was(log):
    some_days(log)
    rows = log.execute(f"SELECT {ORDER} FROM entry JOIN device USING (device) WHERE kind = 'coach' ORDER BY {ORDER}")
    fifth = [Position(*row) for row in rows][4]
    every = list(events_of(log, PLAYER.uuid))
    assert list(events_of(log, PLAYER.uuid, after=fifth)) == every[5:]
    assert list(events_of(log, PLAYER.uuid, upto=fifth)) == every[:5]


def test_what_the_coach_heard_comes_by_the_time_of_its_clock_and_not_by_the_numbers_of_rows(log):
    """A second device's practice of the first days is put into the log after that of the first."""
    ours, theirs = some_days(log), Practice(log)
    other = Identity(uuid=UUID(int=12), name="the tower")
    with pytest.MonkeyPatch.context() as there:
        there.setattr("tests.practice_log.logged_takes.DEVICE", other)
        theirs.happen(PassageOpened(passage=FACTS, day=day_number(2)))
    heard = [(at, event) for who in (ours, theirs) for at, (event, _) in zip(who.at, who.said, strict=True)]
    assert list(events_of(log, PLAYER.uuid)) == [event for _, event in sorted(heard, key=itemgetter(0))]
    assert heard[-1][1] not in list(events_of(log, PLAYER.uuid))[-1:]


def test_its_day_is_that_of_the_zone_in_which_it_was_heard(log):
    """At 23:30 UTC it is tomorrow in Rome; the column of old logs is not asked."""
    night = datetime(2026, 12, 1, 23, 30, tzinfo=UTC)
    for zone in (UTC, timezone(timedelta(hours=1)), timezone(timedelta(hours=-8))):
        event = PassageOpened(passage=FACTS, day=1)
        put_decision(log, recorded(log, night.astimezone(zone)), event, advance(CoachState(), event)[1], None)
    days = [date.fromordinal(event.day) for event in events_of(log, PLAYER.uuid)]
    assert days == [date(2026, 12, 1), date(2026, 12, 2), date(2026, 12, 1)]


def test_of_two_judgements_the_newer_judge_is_heard_whenever_it_judged(log):
    practice = Practice(log)
    practice.play(Terms(stage=Stage.PLACES), day=1, wrong={1, 2})
    (take,) = takes_where(log, "1", ())
    better = ended(judged(take.begun, notes_of(take.begun)), minutes=60)
    put_ending(log, take.take, replace(better, judge=JUDGE_VERSION + 1), DEVICE)
    put_ending(log, take.take, ended(judged(take.begun, notes_of(take.begun, wrong={5})), minutes=90), DEVICE)
    (heard,) = events_of(log, PLAYER.uuid)
    assert (heard.clean, heard.homes) == (6, 6)


def test_what_the_coach_heard_of_a_take_in_letters_is_worked_out_from_its_names(log):
    practice = Practice(log)
    take = begun(Terms(stage=Stage.LETTERS))
    number = put_take(log, take, DEVICE)
    naming = begin_naming([note.note for note in take.asked.notes], now_s=0.0)
    for at_s, note in enumerate(take.asked.notes[:5], start=1):
        name = spelling_of(note.note.pitch)
        naming, _ = give_name(naming, name, now_s=at_s)
        put_name(log, number, NameGiven(n=note.n, name=name, at_s=at_s))
    named = finish_naming(naming)
    put_ending(log, number, ended(named=named), DEVICE)
    result = coach_result(take, FACTS, day=day_number(1), named=named)
    assert (result.homes, result.clean, result.unread) == (5, 5, 1)
    practice.happen(result, number)
    (logged,) = decisions_of(log, PLAYER.uuid)
    assert logged.event == result


@pytest.mark.parametrize("name", ["two_weeks", "third_computer", "interrupted"])
def test_without_times_to_find_all_else_of_real_practice_is_the_same(name, tmp_path):
    with opened_log(unpacked(name, tmp_path) / LOG) as log:
        (player, *_) = players_with_entries(log)
        every, counted = (list(events_of(log, player.uuid, find_times=told)) for told in (True, False))
    assert every
    assert counted == [replace(one, find_times_s=()) if isinstance(one, TakeResult) else one for one in every]


def test_names_and_verdicts_are_counted_alike(log):
    some_days(log)
    every, counted = (list(events_of(log, PLAYER.uuid, find_times=told)) for told in (True, False))
    assert counted == [replace(one, find_times_s=()) if isinstance(one, TakeResult) else one for one in every]
    assert any(isinstance(one, TakeResult) and one.wrong_notes for one in counted)


@pytest.mark.parametrize("unsure", [{3}, {1, 2, 3}])
def test_notes_that_could_not_be_told_are_counted_alike_and_are_none_of_the_notes_asked(log, unsure):
    practice = Practice(log)
    practice.play(Terms(stage=Stage.PLACES), day=1, wrong={5}, unsure=unsure)
    (heard,) = events_of(log, PLAYER.uuid)
    (counted,) = events_of(log, PLAYER.uuid, find_times=False)
    assert heard == practice.said[0][0]
    assert counted == replace(heard, find_times_s=())
    assert (heard.homes, heard.unsure, heard.unread, heard.clean) == (6 - len(unsure), len(unsure), 0, 5 - len(unsure))


def test_a_mark_that_was_told_comes_out_of_the_log_with_its_take_and_makes_up_the_coach_again(log):
    """By the rules of now the take earns nothing."""
    take = begun(Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0))
    number, judgement = put_take(log, take, DEVICE), judged(take, notes_of(take, wrong={1, 2}))
    put_ending(log, number, ended(judgement), DEVICE)
    result = coach_result(take, FACTS, day=day_number(1), judgement=judgement)
    said = replace(advance(CoachState(), result)[1], earned=(Mark.IN_TIME,))
    put_decision(log, recorded(log, MORNING + timedelta(minutes=3)), result, said, number)
    for find_times in (True, False):
        (heard,) = events_of(log, PLAYER.uuid, find_times=find_times)
        assert heard.told == (Mark.IN_TIME,)
        assert replayed([heard]).records[FACTS.name].marks == (Mark.IN_TIME,)
    assert replayed([result]).records[FACTS.name].marks == ()


def test_the_minute_of_the_day_is_that_of_the_zone_too(log):
    practice = Practice(log)
    practice.play(Terms(stage=Stage.PLACES), day=1)
    (heard,) = events_of(log, PLAYER.uuid)
    at = practice.at[0]
    assert heard.minute == 60 * at.hour + at.minute


@pytest.mark.parametrize(
    "spoiled",
    [
        "SELECT 1",
        "UPDATE asked_note SET string = NULL, fret = NULL WHERE n % 3 = 0",
        "DELETE FROM asked_note WHERE n = 1",
        "DELETE FROM asked_note WHERE n = 2",
        "UPDATE asked_note SET n = n - 1",
        "UPDATE verdict SET n = n + 3 WHERE n > 5",
    ],
)
def test_counts_tell_of_each_take_what_its_notes_tell(log, spoiled):
    """Whatever notes have a home, and whatever a file from elsewhere says of notes that nobody asked."""
    some_days(log)
    for (trigger,) in log.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        log.execute(f"DROP TRIGGER {trigger}")
    log.execute(spoiled)
    by_notes, by_counts = (list(events_of(log, PLAYER.uuid, find_times=times)) for times in (True, False))
    assert sum(isinstance(one, TakeResult) and one.homes > 0 for one in by_notes) > 1
    assert by_counts == [replace(one, find_times_s=()) if isinstance(one, TakeResult) else one for one in by_notes]
