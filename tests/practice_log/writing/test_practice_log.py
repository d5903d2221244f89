"""The practice log as the app holds it."""

import subprocess
import sys
from pathlib import Path
from textwrap import dedent

import pytest

from game.coach.coach import advance
from game.coach.events import PassageFacts, PassageOpened
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.errors import LogError
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.music.names import Spelling
from game.practice_log.database.store import open_store
from game.practice_log.queries.take_queries import unfinished_takes
from game.practice_log.rows.decision_rows import coach_result
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import HelpGiven, NameGiven, Outcome, Terms
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.writing.practice_log import PracticeLog
from game.text.catalogue import tell
from tests.practice_log.logged_takes import (
    DEVICE,
    MORNING,
    PLAYER,
    begun,
    ended,
    judged,
    notes_of,
    takes_of_bars,
    utc_now,
)
from tests.practice_log.read_back import decisions_of
from tests.refusing import refusal
from tests.sampling import how_many

TODAY = MORNING.date().toordinal()
FACTS = PassageFacts(name="ford", target_bpm=92)


@pytest.fixture(name="path")
def a_file(tmp_path):
    return tmp_path / "data" / "practice.sqlite"


@pytest.fixture(name="log")
def a_log(path):
    with PracticeLog(path, device=DEVICE, now=utc_now) as log:
        yield log


def play(log, *, zero_s=500.0):
    take = begun()
    handle = log.begin_take(take, zero_s=zero_s)
    played = notes_of(take, zero_s=zero_s)
    for note in played:
        handle.played(note)
    return take, handle, judged(take, played, zero_s=zero_s)


def test_a_take_is_kept_with_its_times_counted_from_its_own_zero(log):
    take, handle, judgement = play(log)
    handle.end(ended(judgement))
    with log.reading() as connection:
        (logged,) = takes_of_bars(connection, PLAYER.uuid, take.bars.passage_key)
        assert (logged.begun, logged.outcome) == (take, Outcome.FINISHED)
        assert raw_take(connection, logged.take).played == notes_of(take)
        assert judgement_of(connection, logged.take) == judged(take, notes_of(take))


def test_a_judgement_whose_times_count_from_the_takes_zero_already_is_kept_as_it_is(log):
    take = begun(Terms(stage=Stage.TIME))
    handle = log.begin_take(take, zero_s=500.0)
    handle.played(PlayedNote(started_s=501.25, sounding=53, place=None))
    answer = PlayedNote(started_s=1.25, sounding=53, place=None)
    judgement = Judgement(verdicts=(NoteVerdict(n=1, verdict=Verdict.LATE, answers=(answer,), offset_ms=250.0),))
    handle.end(ended(judgement), counted_from_s=0.0)
    with log.reading() as connection:
        (logged,) = takes_of_bars(connection, PLAYER.uuid, take.bars.passage_key)
        assert judgement_of(connection, logged.take) == judgement
        assert raw_take(connection, logged.take).played == (answer,)


def test_help_names_and_the_players_own_word_are_kept(log):
    take = begun(Terms(stage=Stage.LETTERS))
    handle = log.begin_take(take, zero_s=500.0)
    handle.helped(1, HintStep.LETTER, at_s=500.5)
    handle.named(1, Spelling("F", 1), at_s=501.0)
    handle.said(2, said_right=False, at_s=502.0)
    with log.reading() as connection:
        (logged,) = takes_of_bars(connection, PLAYER.uuid, take.bars.passage_key)
        raw = raw_take(connection, logged.take)
    assert raw.helped == (HelpGiven(n=1, step=HintStep.LETTER, at_s=0.5),)
    assert raw.names == (
        NameGiven(n=1, name=Spelling("F", 1), at_s=1.0),
        NameGiven(n=2, name=None, at_s=2.0, said_right=False),
    )


def test_decisions_are_kept_with_the_take_they_came_from(log):
    state, opened = advance(CoachState(), event := PassageOpened(passage=FACTS, day=TODAY))
    log.decision(event, opened, player=PLAYER, at=MORNING)
    take, handle, judgement = play(log)
    handle.end(ended(judgement))
    result = coach_result(take, FACTS, day=TODAY, judgement=judgement)
    _, after = advance(state, result)
    log.decision(result, after, player=PLAYER, at=MORNING, take=handle)
    with log.reading() as connection:
        logged = decisions_of(connection, PLAYER.uuid)
    assert [(item.event, item.decision) for item in logged] == [(event, opened), (result, after)]


def test_a_result_without_its_take_is_refused(log):
    take, _, judgement = play(log)
    result = coach_result(take, FACTS, day=TODAY, judgement=judgement)
    _, decision = advance(CoachState(), result)
    with pytest.raises(ValueError, match="logged with the take it came from"):
        log.decision(result, decision, player=PLAYER, at=MORNING)


def test_a_take_under_way_is_not_taken_for_one_that_was_cut_short(log):
    play(log)
    assert log.unfinished_takes() == ()
    with log.reading() as connection:
        assert len(unfinished_takes(connection, [DEVICE.uuid])) == 1


def test_takes_left_by_an_earlier_run_are_found_with_what_was_played(path):
    with PracticeLog(path, device=DEVICE, now=utc_now) as earlier:
        take, _, _ = play(earlier)
    with PracticeLog(path, device=DEVICE, now=utc_now) as log:
        ((logged, raw),) = log.unfinished_takes()
        assert (logged.begun, raw.played) == (take, notes_of(take))


def test_what_is_in_a_locked_log_can_be_read_while_the_rest_waits_in_memory(path):
    def opener():
        return open_store(path, now_utc=MORNING, busy_s=0.01)

    log = PracticeLog(path, device=DEVICE, now=utc_now, opener=opener)
    take, handle, judgement = play(log)
    handle.end(ended(judgement))
    assert log.flush()
    other = open_store(path, now_utc=MORNING)
    other.execute("BEGIN IMMEDIATE")
    play(log)
    assert not log.flush(60)
    with log.reading() as connection:
        assert len(takes_of_bars(connection, PLAYER.uuid, take.bars.passage_key)) == 1
    other.close()
    assert log.close() is None
    with PracticeLog(path, device=DEVICE, now=utc_now) as later, later.reading() as connection:
        assert len(takes_of_bars(connection, PLAYER.uuid, take.bars.passage_key)) == 2


def test_a_log_that_cannot_be_read_is_said_in_one_sentence(tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    log = PracticeLog(tmp_path / "file" / "practice.sqlite", device=DEVICE, now=utc_now)
    play(log)
    with refusal(LogError, "the practice log cannot be read"), log.reading():
        pass
    assert tell(log.close()).startswith("the log could not be written (")


def test_practice_goes_on_over_the_largest_file_the_system_allows_and_is_written_once_it_may_be(path):
    pytest.importorskip("resource", reason="limits on the size of files are set by POSIX")
    path.parent.mkdir()
    takes = how_many(400, by_default=150)
    # In a process of its own, for the limit holds for all its files. SIGXFSZ is ignored by Python: writing fails.
    script = """
        import resource, sys
        from pathlib import Path
        from game.practice_log.writing import writer
        from game.practice_log.writing.practice_log import PracticeLog
        from game.text.catalogue import tell
        from tests.practice_log.logged_takes import DEVICE, begun, ended, judged, notes_of, utc_now

        writer.RETRY_AFTER_S = 0.05
        limits = resource.getrlimit(resource.RLIMIT_FSIZE)
        log = PracticeLog(Path(sys.argv[1]), device=DEVICE, now=utc_now)
        log.flush()
        resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, limits[1]))
        for minutes in range(int(sys.argv[2])):
            take = begun(minutes=minutes)
            handle = log.begin_take(take, zero_s=0.0)
            for note in notes_of(take):
                handle.played(note)
            handle.end(ended(judged(take, notes_of(take))))
        assert not log.flush(60), "it was all written in spite of the limit"
        print(tell(log.trouble) if log.trouble else None, flush=True)
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        print(log.close(600), flush=True)
    """
    run = subprocess.run(
        [sys.executable, "-c", dedent(script), str(path), str(takes)],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parents[3],
    )
    assert run.stderr == ""
    assert run.stdout.splitlines() == [
        "the log cannot be written (the disk reports a fault): kept in memory until it can",
        "None",
    ]
    with PracticeLog(path, device=DEVICE, now=utc_now) as log, log.reading() as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        counts = "SELECT (SELECT count(*) FROM take), (SELECT count(*) FROM played), (SELECT count(*) FROM verdict)"
        assert connection.execute(counts).fetchone() == (takes, 6 * takes, 6 * takes)
