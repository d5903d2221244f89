"""A class in a week that ends today: who needs what, and every number counted again from the raw rows of each log."""

import re
import sqlite3
from contextlib import closing
from datetime import date, timedelta
from uuid import UUID

import pytest

from game.coach.stages import Pulse, Stage
from game.practice_log.classes import class_queries, file_owner, student_log
from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.class_writing import SetPart
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.classes.need import Need
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.rows.log_records import Terms
from tests.practice_log.classes.students import Pupil, hand_in
from tests.practice_log.plain_sightings import put_plain_sightings
from tests.practice_log.transfer.practised import TUNES

TODAY = date(2026, 11, 30)
PLACES = Terms(stage=Stage.PLACES)


def timed(bpm):
    return Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=float(bpm))


def _on(days_ago):
    return TODAY - timedelta(days=days_ago)


def _gets_on(pupil):
    for at, days_ago in enumerate(range(20, -1, -2)):
        pupil.day(_on(days_ago), PLACES if at < 2 else timed(50 + 4 * at), right=0.95)


def _is_stuck(pupil):
    for days_ago in range(20, -1, -2):
        pupil.day(_on(days_ago), timed(60), right=0.6)


def _was_ill(pupil):
    for days_ago in range(20, 6, -2):
        pupil.day(_on(days_ago), timed(60), right=0.6)
    pupil.day(_on(7), PLACES, right=0.9, tune=TUNES[1])


def _came_back_today(pupil):
    pupil.day(_on(40), PLACES, right=0.9)
    pupil.day(TODAY, PLACES, right=0.9, tune=TUNES[1], at_minute=5)


def _left_a_part(pupil):
    _gets_on(pupil)


PLANTED = {
    "Ada": (_gets_on, Need.FINE),
    "Ben": (_is_stuck, Need.STUCK),
    "Cem": (_was_ill, Need.ABSENT),
    "Dua": (_came_back_today, Need.FINE),
    "Eva": (_left_a_part, Need.OVERDUE),
}
ZONES = {"Ada": 60, "Ben": -480, "Cem": 660, "Dua": 840, "Eva": 0}
"""Dua's Monday begins fourteen hours before that of Greenwich: five past midnight there is Sunday morning here."""


def parts_of(_log, student):
    done = None if student == UUID(int=5) else _on(9).isoformat()
    return [
        SetPart("d", 0, "time", "The Ford", _on(8).isoformat(), done, opened_day=_on(15).isoformat()),
        SetPart("e", 0, "time", "The Ford", _on(8).isoformat(), withdrawn=1),
    ]


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """The gathered class, and the log of each student."""
    folder = tmp_path_factory.mktemp("class")
    pupils = {}
    for number, (name, (practise, _)) in enumerate(PLANTED.items(), start=1):
        pupil = Pupil(Identity(uuid=UUID(int=number), name=name), number, zone_minutes=ZONES[name])
        practise(pupil)
        hand_in(pupil.computer, folder / f"{name}.zip")
        pupils[name] = pupil
    with pytest.MonkeyPatch.context() as patch:
        for module in (file_owner, student_log):
            patch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))
        gathered = gather_class(folder, folder / "class.sqlite", parts_of=parts_of)
    assert gathered.faults == []
    with closing(sqlite3.connect(folder / "class.sqlite")) as connection:
        yield connection, pupils


def test_the_page_names_exactly_those_who_were_planted_and_the_most_urgent_first(room):
    connection, _ = room
    week = class_week(connection, TODAY)
    assert {one.name: one.need for one in week} == {name: need for name, (_, need) in PLANTED.items()}
    assert [one.name for one in week] == ["Cem", "Eva", "Ben", "Ada", "Dua"]


RECOUNT = """
WITH played AS (
    SELECT take.take, take.stage, take.tempo_bpm,
        date(entry.moment_us / 1e6 + 60 * entry.zone_minutes, 'unixepoch') AS day,
        (julianday(judgement.ended_utc) - julianday(take.started_utc)) * 1440 AS minutes, judgement.judgement,
        nth <= 2 AND NOT plain_sighting.heard AND NOT known AND stage <> 'rhythm' AS reading, asked
    FROM take JOIN entry ON entry.kind = 'take' AND entry.row = take.take
    JOIN judgement USING (take) JOIN plain_sighting USING (take)
),
notes AS (
    SELECT played.*, verdict.verdict IN ('clean', 'early', 'late') AS is_right
    FROM played JOIN verdict USING (judgement) JOIN asked_note USING (asked, n)
    WHERE string IS NOT NULL AND verdict NOT IN ('unread', 'unsure')
)
SELECT (SELECT MAX(day) FROM played), (SELECT TOTAL(minutes) FROM played WHERE day > :after),
    (SELECT COUNT(DISTINCT day) FROM played WHERE day > :after), (SELECT COUNT(*) FROM played WHERE day > :after),
    (SELECT TOTAL(minutes) FROM played WHERE day > :before AND day <= :after),
    (SELECT COUNT(*) FROM notes WHERE reading AND day > :weeks),
    (SELECT COUNT(*) FROM notes WHERE reading AND day > :weeks AND is_right),
    (SELECT COUNT(*) FROM notes WHERE reading AND day > :weeks AND tempo_bpm IS NOT NULL),
    (SELECT COUNT(*) FROM notes WHERE reading AND day > :weeks AND tempo_bpm IS NOT NULL AND is_right)
"""


def test_every_number_of_the_week_is_what_the_raw_rows_of_the_log_come_to(room):
    connection, pupils = room
    bounds = {"after": _on(7).isoformat(), "before": _on(14).isoformat(), "weeks": _on(28).isoformat()}
    for one in class_week(connection, TODAY):
        log = pupils[one.name].computer.log
        put_plain_sightings(log)
        last, minutes, days, takes, before, *reading = log.execute(RECOUNT, bounds).fetchone()
        log.execute("DROP TABLE plain_sighting")
        assert one.last_day.isoformat() == last
        assert (one.week_minutes, one.before_minutes) == pytest.approx((minutes, before), abs=1e-3)
        assert (one.week_days, one.week_takes) == (days, takes)
        assert [one.read, one.clean, one.read_timed, one.clean_timed] == reading


def test_days_are_those_of_the_students_own_zone(room):
    connection, _ = room
    last = {one.name: one.last_day for one in class_week(connection, TODAY)}
    assert last == {"Ada": TODAY, "Ben": TODAY, "Cem": _on(7), "Dua": TODAY, "Eva": TODAY}


def test_the_same_class_on_another_day_is_another_week(room):
    connection, _ = room
    assert {one.need for one in class_week(connection, TODAY + timedelta(days=7))} == {Need.ABSENT}
    a_week_ago = {one.name: one.need for one in class_week(connection, _on(7))}
    assert a_week_ago["Cem"] is Need.STUCK
    assert a_week_ago["Dua"] is Need.ABSENT


def test_single_notes_and_passages_are_kept_as_the_log_has_them(room):
    connection, pupils = room
    for pupil in pupils.values():
        who = {"student": pupil.player.uuid.bytes}
        kept = connection.execute(
            "SELECT item.written, item.string, item.fret, COUNT(*), SUM(note.verdict IN (1, 2, 3)), "
            "SUM(note.cause IS NOT NULL), TOTAL(note.played) FROM note JOIN item USING (student, item) "
            "WHERE student = :student GROUP BY 1, 2, 3 ORDER BY 1, 2, 3",
            who,
        ).fetchall()
        raw = pupil.computer.log.execute(
            "SELECT written, asked_note.string, asked_note.fret, COUNT(*), SUM(verdict IN ('clean', 'early', 'late')), "
            "SUM(cause IS NOT NULL), TOTAL(answer.sounding) FROM take JOIN judgement USING (take) "
            "JOIN verdict USING (judgement) JOIN asked_note USING (asked, n) "
            "LEFT JOIN answer ON answer.judgement = verdict.judgement AND answer.n = verdict.n AND k = 1 "
            "AND verdict NOT IN ('clean', 'early', 'late') "
            "GROUP BY 1, 2, 3 ORDER BY 1, 2, 3"
        ).fetchall()
        assert kept == raw
        assert connection.execute("SELECT COUNT(*) FROM take WHERE student = :student", who).fetchone()[0] > 0


ONLY_SQLITE = re.compile(
    r"json_each|json_extract|julianday|strftime|unixepoch|total\(|ifnull|group_concat|rowid|glob|"
    r"\bdate\(|insert or|pragma|\bmin\([^()]*,|\bmax\([^()]*,|==|\biif\b",
    re.IGNORECASE,
)


def test_statements_are_written_as_both_databases_have_them():
    statements = {
        name: text for name, text in vars(class_queries).items() if isinstance(text, str) and "SELECT" in text
    }
    assert len(statements) >= 5
    assert [name for name, text in statements.items() if ONLY_SQLITE.search(text)] == []
