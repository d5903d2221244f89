"""The notes asked for, into the log and back. The same notes asked again and again stand there once."""

import hashlib
import json
import sqlite3
from collections.abc import Sequence
from typing import Any

from game.judging.expected import ExpectedNote
from game.judging.tolerance import BarSpan
from game.music.accidentals import AlteredBy, ShownAccidental
from game.music.clef import Clef
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.written import HeadId, WrittenNote
from game.neck.neck_map import Home, Reach
from game.neck.tuning import Place
from game.practice_log.rows.log_records import Asked
from game.practice_log.rows.row_values import fraction, from_json_array, json_array

_INSERT = "INSERT INTO asked_note VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
_SELECT = """
SELECT n, bar, onset, length, written, sounding, string, fret, reach, sign, courtesy, altered_by, signature, heads,
    graces
FROM asked_note WHERE asked = ? ORDER BY n
"""


def put_asked(connection: sqlite3.Connection, asked: Asked) -> int:
    """The number of these notes in the log, written where they are new."""
    spans, rows = asked_rows(asked)
    digest = hashlib.sha256(json.dumps([spans, rows]).encode("ascii")).hexdigest()
    found = connection.execute("SELECT asked FROM asked WHERE digest = ?", (digest,)).fetchone()
    if found:
        return int(found[0])
    number = connection.execute("INSERT INTO asked (digest, spans) VALUES (?, ?)", (digest, spans)).lastrowid
    assert number is not None
    connection.executemany(_INSERT, [(number, *row) for row in rows])
    return number


def asked_of(connection: sqlite3.Connection, number: int, clef: Clef = Clef.TREBLE) -> Asked:
    """The opposite of `put_asked`, for a page in `clef`: that stands with the map of each take."""
    (spans,) = connection.execute("SELECT spans FROM asked WHERE asked = ?", (number,)).fetchone()
    return asked_from(spans, connection.execute(_SELECT, (number,)).fetchall(), clef)


def asked_rows(asked: Asked) -> tuple[str, list[tuple[Any, ...]]]:
    """The notes asked as they stand in the log: the bars as text, and a row of plain values for each note."""
    spans = json_array([str(span.start), span.meter.beats, span.meter.unit] for span in asked.spans)
    return spans, [_row(note, asked.graces.get(note.n, ())) for note in asked.notes]


def asked_from(spans: str, rows: Sequence[Sequence[Any]], clef: Clef = Clef.TREBLE) -> Asked:
    """The opposite of `asked_rows`."""
    return Asked(
        notes=tuple(_note(row, clef) for row in rows),
        spans=tuple(
            BarSpan(start=fraction(start), meter=Meter(beats, unit)) for start, beats, unit in from_json_array(spans)
        ),
        graces={row[0]: tuple(from_json_array(row[-1])) for row in rows if row[-1] != "[]"},
    )


def _row(expected: ExpectedNote, graces: Any) -> tuple[Any, ...]:
    note, home, shown = expected.note, expected.home, expected.note.shown
    return (
        note.n,
        note.bar,
        str(note.onset),
        str(note.length),
        note.pitch.name,
        note.sounding,
        *((home.place.string, home.place.fret, home.reach.value) if home else (None, None, None)),
        shown.sign,
        shown.courtesy,
        shown.altered_by.value,
        note.signature,
        json_array([head.bar, head.event] for head in note.heads),
        json_array(graces),
    )


def _note(row: Sequence[Any], clef: Clef) -> ExpectedNote:
    n, bar, onset, length, written, sounding, string, fret, reach, sign, courtesy, altered_by, signature, heads, _ = row
    note = WrittenNote(
        n=n,
        bar=bar,
        onset=fraction(onset),
        length=fraction(length),
        pitch=pitch(written),
        sounding=sounding,
        heads=tuple(HeadId(*head) for head in from_json_array(heads)),
        shown=ShownAccidental(sign=sign, courtesy=bool(courtesy), altered_by=AlteredBy(altered_by)),
        signature=signature,
        clef=clef,
    )
    home = None if string is None else Home(sounding=sounding, place=Place(string, fret), reach=Reach(reach))
    return ExpectedNote(note=note, home=home)
