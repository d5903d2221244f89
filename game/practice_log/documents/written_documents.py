"""A log as documents (see `game.practice_log.documents.documents`), some hundred entries at a time."""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import msgspec

from game.judging.verdicts import Verdict
from game.practice_log.documents.chosen_entries import ChosenEntry, of_numbers
from game.practice_log.documents.document_parts import (
    AnswerColumns,
    DecisionMade,
    EventColumns,
    NamedColumns,
    VerdictColumns,
)
from game.practice_log.documents.documents import FORM, CoachLine, FactLine, JudgementLine, OfEntry
from game.practice_log.documents.written_columns import (
    Column,
    Made,
    columns_of_numbers,
    in_struct,
    key_fields,
    made_of,
    truths,
)
from game.practice_log.documents.written_takes import WrittenTakes
from game.practice_log.rows.entry_rows import Kind
from game.practice_log.rows.row_values import from_json_array

LOST_LINE = b'{"form":1,"kind":"lost"}\n'
"""In the place of something that makes no sense: whoever reads it sees that something is missing."""

_FORMS_OF_JUDGES = {1: 1, 2: 2}
"""Judges whose words the first forms know: those of the second have new causes and events. Others have the newest, and
so has the verdict on what could not be told, which came later and without another judge.
"""
_UNSURE = Verdict.UNSURE.value

_AT_ONCE = 500
_COACH = """
SELECT coach_event.coach_event, kind, coach_event.passage, notes_per_beat, usual_note_beats, target_bpm, begin_at, wish,
    wish_bpm, take, decision.passage, offer, stage, pulse, tempo_bpm, reason, settling, earned, to_review
FROM coach_event LEFT JOIN decision USING (coach_event) WHERE coach_event.coach_event
"""
_TAKE_KEYS = "SELECT row, uuid, sequence, at_us FROM entry JOIN device USING (device) WHERE kind = 'take' AND row"
_JUDGED = (
    (
        "SELECT judgement, n, verdict, cause, octave_off, offset_ms, time_to_find_ms FROM verdict WHERE judgement",
        "ORDER BY judgement, n",
    ),
    (
        "SELECT judgement, n, verdict, cause, time_to_find_ms, self_marked FROM named WHERE judgement",
        "ORDER BY judgement, n",
    ),
    ("SELECT judgement, n, k, i, sounding FROM answer WHERE judgement", "ORDER BY judgement, n, k"),
    ("SELECT judgement, kind, n, time_ms FROM event WHERE judgement", "ORDER BY judgement, k"),
)
_ENCODER = msgspec.json.Encoder()


def document_lines(
    connection: sqlite3.Connection,
    entries: Sequence[ChosenEntry],
    *,
    with_notes: bool = True,
    with_names: bool = True,
) -> Iterator[bytes]:
    """These entries as whole lines, many at a time, with what they ask. Without notes, what was played, helped, named
    and answered is left out; how each note was judged stays. Without names, instruments have none. What makes no sense
    is a `LOST_LINE`.
    """
    takes = WrittenTakes(connection, with_notes=with_notes, with_names=with_names)
    for first in range(0, len(entries), _AT_ONCE):
        some = entries[first : first + _AT_ONCE]
        asked, made = takes.documents(_of_kind(some, Kind.TAKE))
        made |= _judgements(connection, _of_kind(some, Kind.JUDGEMENT), with_notes=with_notes)
        made |= _coach(connection, _of_kind(some, Kind.COACH))
        made |= _facts(connection, _of_kind(some, Kind.FACT))
        kept = _kept(connection, _of_kind(some, Kind.UNREAD))
        yield _ENCODER.encode_lines(asked)
        yield b"".join(_line(entry, made, kept) for entry in some)


def _line(entry: ChosenEntry, made: Made, kept: dict[int, bytes]) -> bytes:
    if entry.kind == Kind.UNREAD.value:
        return kept.get(entry.row, LOST_LINE)
    document = made.get((entry.kind, entry.row))
    return LOST_LINE if document is None else _ENCODER.encode(document) + b"\n"


def _of_kind(entries: Sequence[ChosenEntry], kind: Kind) -> list[ChosenEntry]:
    return [entry for entry in entries if entry.kind == kind.value]


def _judgements(connection: sqlite3.Connection, entries: Sequence[ChosenEntry], *, with_notes: bool) -> Made:
    numbers = [entry.row for entry in entries]
    rows = _rows(connection, "SELECT judgement, take, judge, outcome FROM judgement WHERE judgement", numbers)
    keys = _take_keys(connection, [row[0] for row in rows.values()])
    verdicts, named, answers, events = (
        columns_of_numbers(connection, select, order, numbers) for select, order in _JUDGED
    )

    def made(entry: ChosenEntry) -> msgspec.Struct:
        take, judge, outcome = rows[entry.row]
        judged = verdicts.get(entry.row)
        is_unsure = judged is not None and _UNSURE in judged[1]
        return JudgementLine(
            **key_fields(entry) | {"form": FORM if is_unsure else _FORMS_OF_JUDGES.get(judge, FORM)},
            of=keys[take],
            judge=judge,
            outcome=outcome,
            verdicts=in_struct(VerdictColumns, _with_truths(judged, 3)),
            named=in_struct(NamedColumns, _with_truths(named.get(entry.row), 4)),
            answers=in_struct(AnswerColumns, answers.get(entry.row)) if with_notes else None,
            events=in_struct(EventColumns, events.get(entry.row)),
        )

    return dict(made_of(entries, made))


def _coach(connection: sqlite3.Connection, entries: Sequence[ChosenEntry]) -> Made:
    rows = _rows(connection, _COACH, [entry.row for entry in entries])
    keys = _take_keys(connection, [row[8] for row in rows.values() if row[8] is not None])

    def made(entry: ChosenEntry) -> msgspec.Struct:
        heard, passage, rate, usual, target_bpm, begin_at, wish, wish_bpm, take, *decision = rows[entry.row]
        return CoachLine(
            **key_fields(entry),
            heard=heard,
            passage=passage,
            notes_per_beat=rate,
            usual_note_beats=usual,
            target_bpm=target_bpm,
            begin_at=begin_at,
            wish=wish,
            wish_bpm=wish_bpm,
            of=None if take is None else keys[take],
            decision=None if decision[0] is None else _decision(*decision),
        )

    return dict(made_of(entries, made))


def _decision(*row: Any) -> DecisionMade:
    passage, offer, stage, pulse, tempo_bpm, reason, settling, earned, to_review = row
    return DecisionMade(
        passage=passage,
        offer=offer,
        stage=stage,
        pulse=pulse,
        tempo_bpm=tempo_bpm,
        reason=reason,
        settling=bool(settling),
        earned=from_json_array(earned),
        to_review=from_json_array(to_review),
    )


def _facts(connection: sqlite3.Connection, entries: Sequence[ChosenEntry]) -> Made:
    rows = _rows(connection, "SELECT fact, about, content FROM fact WHERE fact", [entry.row for entry in entries])

    def made(entry: ChosenEntry) -> msgspec.Struct:
        about, content = rows[entry.row]
        return FactLine(**key_fields(entry), about=about, content=msgspec.json.decode(content, type=dict))

    return dict(made_of(entries, made))


def _kept(connection: sqlite3.Connection, entries: Sequence[ChosenEntry]) -> dict[int, bytes]:
    """What a newer program wrote, as it came."""
    rows = _rows(connection, "SELECT unread, content FROM unread WHERE unread", [entry.row for entry in entries])
    return {number: str(content).replace("\n", " ").encode() + b"\n" for number, (content,) in rows.items()}


def _rows(connection: sqlite3.Connection, select: str, numbers: Iterable[int]) -> dict[int, list[Any]]:
    return {number: rest for number, *rest in of_numbers(connection, select, numbers)}


def _take_keys(connection: sqlite3.Connection, takes: Iterable[int]) -> dict[int, OfEntry]:
    return {take: (device, sequence, at) for take, device, sequence, at in of_numbers(connection, _TAKE_KEYS, takes)}


def _with_truths(columns: list[Column] | None, index: int) -> list[Column] | None:
    if columns is not None:
        columns[index] = truths(columns[index])
    return columns
