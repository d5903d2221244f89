"""A practice log of five years of daily practice, two million notes, written straight into its tables with chance."""

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from uuid import UUID

from game.coach.stages import Stage
from game.instrument.sources.note_sources import PlayedOn
from game.neck.neck_map import standard_map
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import transaction
from game.practice_log.database.store import open_store
from game.practice_log.rows.asked_notes import put_asked
from game.practice_log.rows.entry_rows import Kind, us_of
from game.practice_log.rows.log_records import InstrumentUsed
from game.practice_log.rows.row_values import utc_text
from game.practice_log.rows.shared_rows import (
    put_bars,
    put_device,
    put_instrument,
    put_neck_map,
    put_player,
    put_source,
)
from game.practice_log.rows.take_beginning import asked_in, bars_of
from tests.made import passage

PLAYER = Identity(uuid=UUID(int=7), name="Five Years")
FIRST_DAY = datetime(2021, 3, 1, 7, tzinfo=UTC)
DAYS, TAKES_A_DAY, NOTES_A_TAKE, TAKES_OF_ONE = 1825, 34, 32, 12
_NAMES = tuple("C4 D4 Eb4 E4 F4 F#4 G4 Ab4 A4 Bb4 B4 C5 Db5 D5 Eb5 E5 F5 F#5 G5".split())
_WRONG = ("wrong pitch", "missed", "other place")
_CAUSES = ("signature", "neighbour", "ledger", "slip", "unknown")
_TAKE = """
INSERT INTO take VALUES (:take, 1, :take, 1, :started, :bars, :asked, 1, 1, :stage, :pulse, :bpm, '1', 1.0, 1, 0, 1,
    NULL, 0, 1, 0, NULL, 0)
"""
_EVENT = """
INSERT INTO coach_event (player, device, at_utc, kind, passage, notes_per_beat, usual_note_beats, target_bpm, day, take)
VALUES (1, 1, ?, 'take', ?, 2, 0.5, 96, ?, ?)
"""
_ENTRY = """
INSERT INTO entry (device, sequence, at_us, zone_minutes, player, kind, row, moment_us)
VALUES (1, (SELECT COALESCE(MAX(sequence), 0) + 1 FROM entry WHERE device = 1), ?1, 0, 1, ?2, ?3, ?1)
"""
_DECISION = "INSERT INTO decision VALUES (?, ?, 'again', ?, 'free', NULL, 'Once more.', 0, ?, '[]')"


def write_five_years(path: Path, *, days: int = DAYS, seed: int = 7) -> int:
    """Write the log and return how many notes are in it."""
    rng = Random(seed)
    connection = open_store(path, now_utc=FIRST_DAY)
    connection.execute("PRAGMA synchronous = OFF")
    with transaction(connection):
        put_device(connection, Identity(uuid=UUID(int=1), name="desk"))
        put_player(connection, PLAYER)
        put_neck_map(connection, standard_map())
        put_instrument(connection, InstrumentUsed(name="pickup", kind=PlayedOn.GUITAR))
        put_source(connection, "pickup")
        take = 0
        music = _music(connection, rng)
        for day in range(days):
            for of_day in range(TAKES_A_DAY):
                take += 1
                if take % TAKES_OF_ONE == 1:
                    music = _music(connection, rng)
                started = FIRST_DAY + timedelta(days=day, minutes=of_day)
                _write_take(connection, rng, take, music, started, (take - 1) % TAKES_OF_ONE + 1)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    return take * NOTES_A_TAKE


def _music(connection: sqlite3.Connection, rng: Random) -> tuple[int, int, str, list[int]]:
    rows = [", ".join(f"{rng.choice(_NAMES)} e" for _ in range(8)) for _ in range(NOTES_A_TAKE // 8)]
    tune = passage(*rows, key=-1)
    asked = asked_in(tune, standard_map())
    bars = put_bars(connection, bars_of(tune))
    key = bars_of(tune).passage_key
    return bars, put_asked(connection, asked), key, [note.sounding for note in asked.notes]


def _write_take(
    connection: sqlite3.Connection,
    rng: Random,
    take: int,
    music: tuple[int, int, str, list[int]],
    started: datetime,
    nth: int,
) -> None:
    bars, asked, key, soundings = music
    stage = Stage.PLACES if nth <= 4 else Stage.TIME
    bpm = None if nth <= 4 else 60.0 + 3 * nth
    fields = {"take": take, "started": utc_text(started), "bars": bars, "asked": asked, "stage": stage.value}
    fields |= {"pulse": "free" if bpm is None else "metronome", "bpm": bpm}
    connection.execute(_TAKE, fields)
    connection.execute(_ENTRY, (us_of(started), Kind.TAKE.value, take))
    ended = utc_text(started + timedelta(seconds=45))
    connection.execute("INSERT INTO judgement VALUES (?, ?, 1, ?, 'finished')", (take, take, ended))
    connection.execute(_ENTRY, (us_of(started + timedelta(seconds=45)), Kind.JUDGEMENT.value, take))
    played, verdicts, answers = [], [], []
    for n, sounding in enumerate(soundings, start=1):
        wrong = rng.random() < 0.08
        find_ms = rng.lognormvariate(6.8, 0.4)
        word = rng.choice(_WRONG) if wrong else "clean"
        cause = rng.choice(_CAUSES) if word == "wrong pitch" else None
        heard = sounding + (1 if word == "wrong pitch" else 0)
        verdicts.append((take, n, word, cause, 0, None if bpm is None else rng.gauss(-15, 20), find_ms))
        if word != "missed":
            played.append((take, n, n * 900_000, heard, 3, 5, 90, 1))
            answers.append((take, n, 1, n, heard))
    connection.executemany("INSERT INTO played VALUES (?, ?, ?, ?, ?, ?, ?, ?, 1)", played)
    connection.executemany("INSERT INTO verdict VALUES (?, ?, ?, ?, ?, ?, ?)", verdicts)
    connection.executemany("INSERT INTO answer VALUES (?, ?, ?, ?, ?)", answers)
    event = connection.execute(_EVENT, (utc_text(started), key, started.toordinal(), take)).lastrowid
    connection.execute(_ENTRY, (us_of(started + timedelta(seconds=45)), Kind.COACH.value, event))
    earned = '["found"]' if nth == 4 else '["in time"]' if nth == 8 else "[]"
    connection.execute(_DECISION, (event, key, stage.value, earned))
