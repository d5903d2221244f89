"""Behind the game takes of long ago are judged again, and what is made of the log follows."""

from datetime import timedelta
from random import Random

import pytest

from game.coach.stages import Pulse, Stage
from game.errors import LogError
from game.instrument.decoding.played import PlayedNote
from game.judging.version import JUDGE_VERSION
from game.player.judging_process import JudgingProcess, judge_log, main, start_judging
from game.player.player_coach import FOLD, PlayerCoach
from game.player.player_log import PlayerLog
from game.player.profiles import LOG_FILE
from game.practice.places_take import PlacesTake
from game.practice.timed_take import TimedTake, TimedTerms
from game.practice_log.database.own_device import own_device
from game.practice_log.database.store import open_store
from game.practice_log.queries.summaries import takes_left
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import Terms
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.rows.take_rows import takes_where
from game.practice_log.writing.judged_anew import LeftAsItWas, judged_anew
from game.practice_log.writing.judged_file import judged_path
from tests.made import passage
from tests.practice_log.logged_takes import MORNING
from tests.practice_log.old_takes import put_rushed
from tests.refusing import refusal
from tests.sampling import how_many

NOW = MORNING + timedelta(days=2)
A_MINUTE_S = 60.0


@pytest.fixture
def folder(tmp_path):
    """A player's folder with a log of three takes that an older judge judged, recorded here."""
    log = open_store(tmp_path / LOG_FILE, now_utc=MORNING)
    for minutes in (0, 10, 20):
        put_rushed(log, minutes, device=own_device(tmp_path))
    log.close()
    return tmp_path


def judges(folder):
    log = open_store(folder / LOG_FILE, now_utc=MORNING)
    try:
        return [logged.judge for logged in takes_where(log, "1", ())]
    finally:
        log.close()


def test_at_rest_a_process_judges_again_and_tells_that_the_log_is_another(folder):
    log = PlayerLog(folder, lambda: NOW)
    process = start_judging(log)
    process.wait(A_MINUTE_S)
    assert (process.over, process.came_in) == (True, True)
    assert judges(folder) == [JUDGE_VERSION] * 3
    assert start_judging(log) is None
    log.close()


def test_ended_at_once_it_leaves_the_log_as_it_was_and_begins_again_the_next_time(folder):
    log = PlayerLog(folder, lambda: NOW)
    process = JudgingProcess(log)
    process.stop()
    assert process.over
    again = start_judging(log)
    again.wait(A_MINUTE_S)
    assert judges(folder) == [JUDGE_VERSION] * 3
    log.close()


def test_in_a_log_of_judgements_of_today_nothing_is_begun_and_no_file_is_made(tmp_path):
    log = PlayerLog(tmp_path, lambda: NOW)
    log.facts.open_tune("ode-to-joy")
    assert log.flush()
    assert start_judging(log) is None
    assert not judged_path(log.path).exists()
    log.close()


def test_what_the_next_start_needs_was_made_of_the_new_judgements(folder):
    assert judge_log(folder, NOW).added == 3
    assert FOLD.path(folder).exists()
    log = PlayerLog(folder, lambda: NOW)
    with log.reading() as connection:
        assert takes_left(connection, log.player.uuid) == 0
    log.close()


def test_a_process_that_was_ended_before_it_made_everything_anew_does_so_the_next_time(folder, monkeypatch):
    def ended(*_):
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("game.player.judging_process._fold", ended)
        with pytest.raises(KeyboardInterrupt):
            judge_log(folder, NOW)
    assert judges(folder) == [JUDGE_VERSION] * 3
    log = PlayerLog(folder, lambda: NOW)
    assert start_judging(log) is not None
    assert judge_log(folder, NOW).added == 0
    assert FOLD.path(folder).exists()
    assert start_judging(log) is None
    log.close()


def test_begun_by_hand_it_says_what_stands_in_the_way_in_one_sentence(folder, tmp_path, capsys):
    judged_path(folder / LOG_FILE).mkdir()
    assert main(folder) == 1
    said = capsys.readouterr().err
    assert said.startswith("homefret: the takes of before cannot be judged again now (")
    assert said.count("\n") == 1
    with refusal(LogError, "no practice log"):
        judge_log(tmp_path / "elsewhere", NOW)


# What is played at the desk, ended anywhere: the log must hold all that the judge was told.
LINE = passage(*("F4 e, G4 e, A4 e, G4 e, C5 q, A4 q", "Bb4 q, A4 e, G4 e, F#4 h") * 2, key=-1)
WAITING = ("places", "keyboard")
STAGES = {"rhythm": Stage.RHYTHM, "in time": Stage.TIME}


def begun_at_the_desk(session, kind, tempo_bpm):
    stage, neck_map = STAGES.get(kind, Stage.PLACES), session.settings.neck_map()
    if kind in WAITING:
        recorder = session.recorder(LINE, neck_map, Terms(stage=stage), zero_s=100.0)
        return PlacesTake(LINE, neck_map, now_s=100.0, recorder=recorder), recorder
    in_log = Terms(stage=stage, pulse=Pulse.METRONOME, tempo_bpm=tempo_bpm, pitch_counts=stage.pitch_counts)
    recorder = session.recorder(LINE, neck_map, in_log, zero_s=0.0)
    terms = TimedTerms(stage=stage, tempo_bpm=tempo_bpm, one_a_click=kind == "one a click")
    take = TimedTake(LINE, neck_map, terms, recorder=recorder)
    take.start(100.0)
    return take, recorder


def play_at_the_desk(session, kind, seed):
    """A take with chance: ahead or behind, some notes wrong, some left out, ended somewhere, now or later."""
    rng = Random(f"{kind} {seed}")
    tempo_bpm = rng.choice((60, 84, 110))
    take, recorder = begun_at_the_desk(session, kind, tempo_bpm)
    ahead = rng.uniform(-0.03, 0.03)
    count = rng.choice((len(LINE.notes), len(LINE.notes), rng.randint(3, len(LINE.notes) - 1)))
    at_s = 100.0
    for index, note in enumerate(LINE.notes[:count]):
        quarters = index if kind == "one a click" else float(note.onset)
        at_s = 100.0 + quarters * 60 / tempo_bpm * (1 - ahead) + rng.gauss(0.0, 0.02)
        if rng.random() < 0.04:
            continue
        wrong = rng.random() < 0.08
        take.hear(heard_as(session, kind, at_s, note.sounding + wrong))
        if wrong and kind in WAITING:
            take.hear(heard_as(session, kind, at_s + 0.1, note.sounding))
    finished = take.end() if kind in WAITING else take.end(at_s + rng.choice((0.2, 1.0, 40.0)))
    session.finish_take(finished, recorder)
    assert session.log.flush()


def heard_as(session, kind, at_s, sounding):
    """A keyboard has no places, and is played an octave up."""
    if kind == "keyboard":
        return PlayedNote(started_s=at_s, sounding=sounding + 12, place=None)
    return PlayedNote(started_s=at_s, sounding=sounding, place=session.settings.neck_map().home_of(sounding).place)


@pytest.mark.parametrize("kind", ["places", "keyboard", "in time", "rhythm", "one a click"])
def test_a_take_of_today_is_told_from_the_log_as_it_was_at_the_desk(table, kind):
    session = table.context.session
    count = how_many(60, by_default=8)
    for seed in range(count):
        play_at_the_desk(session, kind, seed)
    with session.log.reading() as connection:
        takes = takes_where(connection, "1", ())
        assert len(takes) == count
        for logged in takes:
            raw, before = raw_take(connection, logged.take), judgement_of(connection, logged.take)
            told = judged_anew(logged.begun, raw, before)
            assert told is LeftAsItWas.SAME, (logged.take, before, told)
    session.close()


def test_the_coach_knows_afterwards_what_it_knows_of_a_log_that_was_never_judged_otherwise(table):
    """An older judge called right notes wrong in all takes; then today's judge had its say."""
    session = table.context.session
    for seed in range(6):
        play_at_the_desk(session, "in time", seed)
    true, folder = session.coach.state, session.folder
    assert session.close() is None
    log = open_store(folder / LOG_FILE, now_utc=MORNING)
    log.executescript(
        f"""
        DROP TRIGGER verdict_no_update;
        DROP TRIGGER judgement_no_update;
        UPDATE judgement SET judge = {JUDGE_VERSION - 1};
        UPDATE verdict SET verdict = 'wrong pitch', cause = 'unknown' WHERE n < 3;
        """
    )
    log.close()
    for path in (*folder.glob("*.snapshot"), *folder.glob("*.sums")):
        path.unlink()
    then = PlayerLog(folder, lambda: NOW)
    assert PlayerCoach(then, target_bpm=lambda: 100).state.records != true.records
    assert then.close() is None
    assert judge_log(folder, NOW).added == 6
    now = PlayerLog(folder, lambda: NOW)
    assert PlayerCoach(now, target_bpm=lambda: 100).state.records == true.records
    assert now.close() is None
