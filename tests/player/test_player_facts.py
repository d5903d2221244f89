"""What a player said, chose and met stands in their log, and is known again at the next start."""

import os
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from game.lines.fingerprint import fingerprints
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.lines.scale import key_named
from game.music.passage import passages_of, whole_tune
from game.neck.neck_map import standard_map
from game.player.known_by_ear import tune_id
from game.player.player_log import PlayerLog
from game.player.profiles import LOG_FILE
from game.practice_log.database.identity import write_identity
from game.practice_log.database.opening import opened_log
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About, us_of
from game.screens.routes import ToFreshLine
from tests.made import score
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import lines_of, take_in
from tests.screens.table import Table

NOW = datetime(2026, 11, 29, 12, tzinfo=UTC)
A, B = "a" * 32, "b" * 32
MAP = standard_map()
TUNE = passages_of(score("F4 h, G4 h", "A4 w", "G4 q, A4 q, Bb4 h", "C5 w", "F4 w", "C4 w", "E4 w", "F4 w"))


def line(seed, **choice):
    return fresh_line(level_of(2), MAP, key=key_named("F"), bars=4, rng=Random(seed), **choice)


def sat_down(folder, now=NOW):
    return PlayerLog(folder, lambda: now)


@pytest.fixture(name="log")
def a_log(tmp_path):
    log = sat_down(tmp_path)
    yield log
    log.close()


def told(log, *about):
    log.flush()
    with log.reading() as connection:
        return list(facts_about(connection, log.player.uuid, *about))


def again(log):
    """The same player at the next start."""
    assert log.close() is None
    return sat_down(log.path.parent)


def test_tunes_opened_are_remembered_and_written_down_once(log):
    for name in ("ode-to-joy", "0123abcd", "ode-to-joy"):
        log.facts.open_tune(name)
    assert log.facts.opened_tunes == {"ode-to-joy", "0123abcd"}
    later = again(log)
    later.facts.open_tune("ode-to-joy")
    assert later.facts.opened_tunes == {"ode-to-joy", "0123abcd"}
    assert len(told(later, About.OPENED_TUNE)) == 2
    later.close()


def test_each_player_has_opened_their_own(log, tmp_path):
    log.facts.open_tune("ode-to-joy")
    other = sat_down(tmp_path / "other")
    assert other.facts.opened_tunes == frozenset()
    other.close()


def test_a_line_that_was_met_does_not_come_again(log):
    log.facts.meet_line(fingerprints(line(1)))
    log.facts.meet_line(fingerprints(line(1)))
    later = again(log)
    assert later.facts.met_lines == fingerprints(line(1))
    assert line(1, seen=later.facts.met_lines).bars != line(1).bars
    assert len(told(later, About.MET_LINE)) == 1
    later.close()


def test_what_the_player_says_of_their_ear_holds_until_they_say_otherwise(log):
    log.facts.set_known_by_ear(TUNE[0], known=True)
    assert log.facts.knows_by_ear(TUNE[1])
    later = again(log)
    assert later.facts.knows_by_ear(TUNE[0])
    later.facts.set_known_by_ear(TUNE[0], known=False)
    last = again(later)
    assert not last.facts.knows_by_ear(TUNE[0])
    assert [fact.content["known"] for fact in told(last, About.KNOWN_BY_EAR)] == [True, False]
    last.close()


def test_what_was_heard_stays_heard_at_the_next_start(log):
    assert not log.facts.has_heard(TUNE[0])
    log.facts.mark_heard(TUNE[0])
    log.facts.mark_heard(TUNE[0])
    later = again(log)
    assert later.facts.has_heard(TUNE[0])
    assert later.facts.has_heard(whole_tune(TUNE[0].score))
    assert not later.facts.has_heard(TUNE[1])
    assert [fact.content["start"] for fact in told(later, About.HEARD)] == [0]
    later.close()


def test_an_assignment_is_written_down_whole_and_once_however_often_it_is_opened(log):
    for text in ("one", "one", "two", "one"):
        log.facts.open_assignment(text, title=f"Week {text}", due="2026-12-01")
    kept = [fact.content for fact in told(log, About.ASSIGNMENT)]
    assert [content["text"] for content in kept] == ["one", "two"]
    assert {content["due"] for content in kept} == {"2026-12-01"}
    later = again(log)
    later.facts.open_assignment("one", title="Week one", due="")
    assert len(told(later, About.ASSIGNMENT)) == 2
    later.close()


def test_what_is_gathered_meanwhile_is_known_when_it_is_read_anew(log):
    assert log.facts.opened_tunes == frozenset()
    other = sat_down(log.path.parent)
    other.facts.open_tune("from-elsewhere")
    other.close()
    assert log.facts.opened_tunes == frozenset()
    log.facts.read_anew()
    assert log.facts.opened_tunes == {"from-elsewhere"}


def test_where_the_log_cannot_be_read_the_word_holds_until_the_game_is_left(tmp_path):
    (tmp_path / LOG_FILE).write_text("this is no practice log", encoding="utf-8")
    old = keep_old(tmp_path)
    log = sat_down(tmp_path)
    log.facts.open_tune("ode-to-joy")
    assert log.facts.opened_tunes == {"ode-to-joy", "old-tune"}
    log.facts.read_anew()
    assert log.facts.opened_tunes == {"ode-to-joy", "old-tune"}
    log.close()
    assert all(path.exists() for path in old)


OLD = NOW - timedelta(days=30)


def keep_old(folder: Path):
    """The files that lay beside a log of before."""
    texts = {"seen.txt": "old-tune\n", "known-by-ear.txt": f"{tune_id(TUNE[0])}\n", "lines-seen.txt": f"{A}\n{B}\n"}
    for name, text in texts.items():
        (folder / name).write_text(text)
        os.utime(folder / name, (OLD.timestamp(), OLD.timestamp()))
    return [folder / name for name in texts]


def holds_all(facts):
    return facts.opened_tunes >= {"old-tune"} and facts.met_lines >= {A, B} and facts.knows_by_ear(TUNE[0])


def test_what_old_files_hold_is_taken_over_once_at_their_own_time(log, tmp_path):
    """Their clock is not thought to be wrong, though it is of long ago."""
    old = keep_old(tmp_path)
    log.facts.take_over_files()
    log.facts.open_tune("newer")
    assert holds_all(log.facts)
    assert not any(path.exists() for path in old)
    facts = told(log, About.OPENED_TUNE, About.KNOWN_BY_EAR, About.MET_LINE)
    assert [fact.moment_us for fact in facts] == [*[us_of(OLD)] * 3, us_of(NOW)]
    assert told(log, About.CLOCK) == []
    later = again(log)
    assert holds_all(later.facts)
    assert len(told(later, About.OPENED_TUNE, About.KNOWN_BY_EAR, About.MET_LINE)) == 4
    later.close()


def test_where_things_were_recorded_since_it_stands_after_them(log, tmp_path):
    log.facts.open_tune("newer")
    log = again(log)
    keep_old(tmp_path)
    assert holds_all(log.facts)
    assert {fact.moment_us for fact in told(log, *About)} == {us_of(NOW)}
    assert told(log, About.CLOCK) == []
    log.close()


def test_a_death_between_taking_over_and_removing_doubles_and_loses_nothing(log, tmp_path, monkeypatch):
    old = keep_old(tmp_path)
    monkeypatch.setattr(Path, "unlink", lambda *_, **__: (_ for _ in ()).throw(OSError("killed before")))
    assert holds_all(log.facts)
    assert all(path.exists() for path in old)
    monkeypatch.undo()
    later = again(log)
    assert holds_all(later.facts)
    assert not any(path.exists() for path in old)
    assert len(told(later, About.OPENED_TUNE, About.KNOWN_BY_EAR, About.MET_LINE)) == 3
    later.close()


def test_a_file_stays_while_the_log_does_not_hold_what_it_said(log, tmp_path):
    old = keep_old(tmp_path)
    assert log.flush()
    with closing(sqlite3.connect(log.path, timeout=0)) as held, held:
        held.execute("BEGIN IMMEDIATE")
        assert holds_all(log.facts)
        held.execute("ROLLBACK")
    assert all(path.exists() for path in old)
    later = again(log)
    assert holds_all(later.facts)
    assert not any(path.exists() for path in old)
    assert len(told(later, About.OPENED_TUNE, About.KNOWN_BY_EAR, About.MET_LINE)) == 3
    later.close()


def test_a_newer_word_in_the_log_is_not_undone_by_an_old_file(log, tmp_path):
    log.facts.set_known_by_ear(TUNE[0], known=True)
    log.facts.set_known_by_ear(TUNE[0], known=False)
    log = again(log)
    keep_old(tmp_path)
    assert not log.facts.knows_by_ear(TUNE[0])
    later = again(log)
    assert not later.facts.knows_by_ear(TUNE[0])
    later.close()


def test_on_the_shelf_a_tune_is_opened_and_on_the_desk_a_line_is_met(tmp_path):
    table = Table(tmp_path)
    table.key(13)
    session = table.context.session
    assert session.log.facts.opened_tunes == {session.last_opened.name}
    table.go(ToFreshLine())
    assert session.log.facts.met_lines == fingerprints(table.screen.request.score)
    assert session.close() is None
    with opened_log(tmp_path / LOG_FILE) as connection:
        about = [fact.about for fact in facts_about(connection, session.log.player.uuid, *About)]
    assert about == [About.OPENED_TUNE, About.MET_LINE]


def gather(here, there):
    """What one computer recorded comes into the log of another."""
    assert there.flush()
    with there.reading() as connection:
        lines = lines_of(connection)
    assert here.flush()
    with opened_log(here.path) as connection:
        take_in(connection, lines, player=here.player)
    here.facts.read_anew()


def test_two_computers_know_the_same_when_each_has_gathered_from_the_other(tmp_path):
    logs = []
    for hour, name in enumerate(("desk", "school")):
        write_identity(tmp_path / name / "player.json", PLAYER)
        logs.append(sat_down(tmp_path / name, NOW + timedelta(hours=hour)))
    desk, school = logs
    desk.facts.open_tune("ode-to-joy")
    desk.facts.meet_line(fingerprints(line(1)))
    desk.facts.set_known_by_ear(TUNE[0], known=True)
    school.facts.open_tune("au-clair")
    school.facts.mark_heard(TUNE[1])
    school.facts.set_known_by_ear(TUNE[0], known=True)
    school.facts.set_known_by_ear(TUNE[0], known=False)
    gather(desk, school)
    gather(school, desk)
    for log in logs:
        assert log.facts.opened_tunes == {"ode-to-joy", "au-clair"}
        assert log.facts.met_lines == fingerprints(line(1))
        assert log.facts.has_heard(TUNE[1])
        assert not log.facts.knows_by_ear(TUNE[0])
        log.close()
