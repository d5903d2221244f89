"""What was done in a take as it came: notes played, help given, names given."""

import sqlite3
from typing import Any

from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.music.names import Spelling
from game.neck.tuning import Place
from game.practice_log.rows.log_records import HelpGiven, NameGiven, RawTake
from game.practice_log.rows.row_values import microseconds, seconds, truth
from game.practice_log.rows.shared_rows import put_source

_INSERT = """
INSERT INTO played (take, i, at_us, sounding, string, fret, velocity, source, sure)
SELECT :take, COALESCE(MAX(i), 0) + 1, :at_us, :sounding, :string, :fret, :velocity, :source, :sure
FROM played WHERE take = :take
"""


_REVISED = """
INSERT INTO revised (take, i, at_us, arrived_us, sounding, string, fret, sure) VALUES (?, ?, ?, ?, ?, ?, ?, ?)
"""


def put_played(connection: sqlite3.Connection, take: int, note: PlayedNote) -> None:
    """Add a played note; `started_s` counts from the take's time 0."""
    place = note.place
    fields = {
        "take": take,
        "at_us": microseconds(note.started_s),
        "sounding": note.sounding,
        "string": place.string if place else None,
        "fret": place.fret if place else None,
        "velocity": note.velocity,
        "source": put_source(connection, note.source),
        "sure": note.sure,
    }
    connection.execute(_INSERT, fields)
    if note.arrived_s is not None:
        (i,) = connection.execute("SELECT MAX(i) FROM played WHERE take = ?", (take,)).fetchone()
        _put_revised(connection, take, i, note)


def revise_played(connection: sqlite3.Connection, take: int, before: PlayedNote, after: PlayedNote | None) -> None:
    """Add that a played note turned out to be `after`, or none; nothing where `before` never came. Times count from the
    take's time 0.
    """
    at_us = microseconds(before.started_s)
    for i, note in reversed(numbered_notes(connection, take)):
        same = (note.sounding, note.place) == (before.sounding, before.place)
        if same and microseconds(note.started_s) == at_us:
            _put_revised(connection, take, i, after)
            return


def _put_revised(connection: sqlite3.Connection, take: int, i: int, note: PlayedNote | None) -> None:
    place = note.place if note else None
    connection.execute(
        _REVISED,
        (
            take,
            i,
            microseconds(note.started_s) if note else None,
            microseconds(note.arrived_s) if note and note.arrived_s is not None else None,
            note.sounding if note else None,
            place.string if place else None,
            place.fret if place else None,
            note.sure if note else True,
        ),
    )


def put_help(connection: sqlite3.Connection, take: int, given: HelpGiven) -> None:
    """Add a step of help."""
    connection.execute(
        "INSERT INTO help (take, n, step, at_us) VALUES (?, ?, ?, ?)",
        (take, given.n, given.step.name.lower(), microseconds(given.at_s)),
    )


def put_name(connection: sqlite3.Connection, take: int, given: NameGiven) -> None:
    """Add a name given for a note."""
    spelling = (given.name.step, given.name.alter) if given.name else (None, None)
    connection.execute(
        "INSERT INTO name_given (take, n, step, alter_by, said_right, at_us) VALUES (?, ?, ?, ?, ?, ?)",
        (take, given.n, *spelling, given.said_right, microseconds(given.at_s)),
    )


def raw_take(connection: sqlite3.Connection, take: int) -> RawTake:
    """Everything that was done in a take."""
    helped = connection.execute("SELECT n, step, at_us FROM help WHERE take = ? ORDER BY help", (take,))
    names = connection.execute(
        "SELECT n, step, alter_by, said_right, at_us FROM name_given WHERE take = ? ORDER BY name_given", (take,)
    )
    return RawTake(
        played=tuple(note for _, note in numbered_notes(connection, take)),
        helped=tuple(HelpGiven(n=n, step=HintStep[step.upper()], at_s=seconds(at_us)) for n, step, at_us in helped),
        names=tuple(
            NameGiven(
                n=n,
                name=None if step is None else Spelling(step, alter),
                at_s=seconds(at_us),
                said_right=truth(said_right),
            )
            for n, step, alter, said_right, at_us in names
        ),
    )


def numbered_notes(connection: sqlite3.Connection, take: int) -> list[tuple[int, PlayedNote]]:
    """The played notes of a take in the order in which they came, with their numbers, as they turned out: those that
    were taken back are left out.
    """
    revised: dict[int, tuple[Any, ...]] = {
        i: rest
        for i, *rest in connection.execute(
            "SELECT i, at_us, sounding, string, fret, sure, arrived_us FROM revised WHERE take = ? ORDER BY revised",
            (take,),
        )
    }
    rows = connection.execute(
        "SELECT i, velocity, name, at_us, sounding, string, fret, sure, NULL FROM played JOIN source USING (source) "
        "WHERE take = ? ORDER BY i",
        (take,),
    )
    notes = []
    for i, velocity, source, *came in rows:
        at_us, sounding, string, fret, sure, arrived_us = revised.get(i, came)
        if at_us is not None:
            note = PlayedNote(
                started_s=seconds(at_us),
                sounding=sounding,
                place=None if string is None else Place(string, fret),
                velocity=velocity,
                source=source,
                arrived_s=None if arrived_us is None else seconds(arrived_us),
                sure=bool(sure),
            )
            notes.append((i, note))
    return notes
