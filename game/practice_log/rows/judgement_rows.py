"""Judgements, into the log and back. What answered a note is kept as the numbers of the played notes.

A take may be judged again by a later judge: a judgement is added, none is taken away, and one stands (`standing`).
"""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Cause, EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.practice_log.database.identity import Identity
from game.practice_log.rows.entry_rows import Kind, Recorded, put_entry
from game.practice_log.rows.log_records import TakeEnded
from game.practice_log.rows.played_rows import numbered_notes, put_played
from game.practice_log.rows.row_values import microseconds, utc_text
from game.practice_log.rows.shared_rows import put_device
from game.practice_log.rows.standing import standing

_NOTHING = 0
"""The number of the note that extra notes answer."""


def put_ending(connection: sqlite3.Connection, take: int, ended: TakeEnded, device: Identity) -> None:
    """Add the judgement of a take, made on `device`. An answer that was not logged as it came is logged now."""
    number = connection.execute(
        "INSERT INTO judgement (take, judge, ended_utc, outcome) VALUES (?, ?, ?, ?)",
        (take, ended.judge, utc_text(ended.ended_at), ended.outcome.value),
    ).lastrowid
    assert number is not None
    (player,) = connection.execute("SELECT player FROM take WHERE take = ?", (take,)).fetchone()
    put_entry(connection, Recorded(put_device(connection, device), player, ended.ended_at), Kind.JUDGEMENT, number)
    if ended.judgement is not None:
        _put_verdicts(connection, take, number, ended.judgement)
    connection.executemany(
        "INSERT INTO named VALUES (?, ?, ?, ?, ?, ?)",
        [
            (number, note.n, note.verdict.value, _value(note.cause), note.time_to_find_ms, note.self_marked)
            for note in ended.named
        ],
    )


def judgement_of(connection: sqlite3.Connection, take: int, *, with_answers: bool = True) -> Judgement | None:
    """The judgement that stands of a take that was played, None where there is none yet. Answers count from time 0.

    `with_answers=False` leaves out which notes were played, and takes half the time.
    """
    number = _latest(connection, take)
    if number is None:
        return None
    answers = _answers(connection, take, number) if with_answers else defaultdict(tuple)
    verdicts = connection.execute(
        "SELECT n, verdict, cause, octave_off, offset_ms, time_to_find_ms FROM verdict WHERE judgement = ? ORDER BY n",
        (number,),
    )
    events = connection.execute("SELECT kind, n, time_ms FROM event WHERE judgement = ? ORDER BY k", (number,))
    return Judgement(
        verdicts=tuple(
            NoteVerdict(
                n=n,
                verdict=Verdict(word),
                answers=answers[n],
                octave_off=bool(octave_off),
                cause=_cause(cause),
                offset_ms=offset_ms,
                time_to_find_ms=time_to_find_ms,
            )
            for n, word, cause, octave_off, offset_ms, time_to_find_ms in verdicts
        ),
        extra=answers[_NOTHING],
        events=tuple(TakeEvent(kind=EventKind(kind), n=n, time_ms=time_ms) for kind, n, time_ms in events),
    )


def _put_verdicts(connection: sqlite3.Connection, take: int, number: int, judgement: Judgement) -> None:
    connection.executemany(
        "INSERT INTO verdict VALUES (?, ?, ?, ?, ?, ?, ?)",
        [
            (
                number,
                note.n,
                note.verdict.value,
                _value(note.cause),
                note.octave_off,
                note.offset_ms,
                note.time_to_find_ms,
            )
            for note in judgement.verdicts
        ],
    )
    connection.executemany(
        "INSERT INTO event VALUES (?, ?, ?, ?, ?)",
        [(number, k, event.kind.value, event.n, event.time_ms) for k, event in enumerate(judgement.events, start=1)],
    )
    numbers = _Numbers(connection, take)
    answers = [(note.n, note.answers) for note in judgement.verdicts]
    connection.executemany(
        "INSERT INTO answer VALUES (?, ?, ?, ?, ?)",
        [
            (number, n, k, numbers.of(note), note.sounding)
            for n, notes in [*answers, (_NOTHING, judgement.extra)]
            for k, note in enumerate(notes, start=1)
        ],
    )


class _Numbers:
    """Which played note of a take an answer is: told by its time, its place and, first of all, its pitch. The judge
    may have taken a keyboard's note some octaves lower than it came.
    """

    def __init__(self, connection: sqlite3.Connection, take: int) -> None:
        self._connection, self._take = connection, take
        self._at: defaultdict[int, list[tuple[int, PlayedNote]]] = defaultdict(list)
        self._read()

    def _read(self) -> None:
        self._at.clear()
        for number, note in numbered_notes(self._connection, self._take):
            self._at[microseconds(note.started_s)].append((number, note))

    def of(self, answer: PlayedNote) -> int:
        """The number of a played note, which is added where it never came."""
        candidates = self._at[microseconds(answer.started_s)]
        same = [
            number for number, note in candidates if note.sounding == answer.sounding and note.place == answer.place
        ]
        octaves = [
            number
            for number, note in candidates
            if (note.sounding - answer.sounding) % 12 == 0 and note.place == answer.place
        ]
        for number in (*same, *octaves):
            return number
        put_played(self._connection, self._take, answer)
        self._read()
        return self.of(answer)


def _answers(connection: sqlite3.Connection, take: int, number: int) -> defaultdict[int, tuple[PlayedNote, ...]]:
    """The answers by number of note, extra notes under `_NOTHING`."""
    notes = dict(numbered_notes(connection, take))
    answers: defaultdict[int, tuple[PlayedNote, ...]] = defaultdict(tuple)
    rows: Iterable[tuple[int, int, int]] = connection.execute(
        "SELECT n, i, sounding FROM answer WHERE judgement = ? ORDER BY n, k", (number,)
    )
    for n, i, sounding in rows:
        answers[n] += (replace(notes[i], sounding=sounding),)
    return answers


def _latest(connection: sqlite3.Connection, take: int) -> int | None:
    (number,) = connection.execute(f"SELECT {standing('?')}", (take,)).fetchone()
    return None if number is None else int(number)


def _value(cause: Cause | None) -> str | None:
    return None if cause is None else cause.value


def _cause(word: str | None) -> Cause | None:
    return None if word is None else Cause(word)
