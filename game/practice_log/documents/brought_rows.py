"""Documents into the tables, many at a time: each function adds what is new, and gives the numbers of its rows."""

import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain, count, islice, repeat
from typing import Any

import msgspec

from game.judging.verdicts import COUNTS_AS_CLEAN, Verdict
from game.practice_log.documents.document_parts import TakeTerms
from game.practice_log.documents.documents import CoachLine, FactLine, JudgementLine, TakeLine
from game.practice_log.documents.many_rows import put_rows
from game.practice_log.documents.shared_numbers import SharedNumbers
from game.practice_log.rows.entry_rows import day_of_moment, time_of
from game.practice_log.rows.row_values import short_json_array

Rows = Iterator[tuple[Any, ...]]

_CLEAN = Verdict.CLEAN.value
_RIGHT = frozenset(verdict.value for verdict in COUNTS_AS_CLEAN)
_TERMS = TakeTerms.__struct_fields__
_TAKE_COLUMNS = (
    "take", "device", "number", "player", "started_utc", "bars", "asked", "neck_map", "instrument", *_TERMS, "sighting",
    "heard", "known_by_ear",
)  # fmt: skip
_PUT_TAKE = f"INSERT INTO take ({', '.join(_TAKE_COLUMNS)}) VALUES ({', '.join('?' * len(_TAKE_COLUMNS))})"
# Notes are numbered: what is there already stays as it is, also in a take of which some were lost.
_PLAYED_COLUMNS = "take, i, at_us, sounding, string, fret, velocity, source, sure"
_PUT_PLAYED = f"INSERT OR IGNORE INTO played ({_PLAYED_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
_REVISED_COLUMNS = "take, i, at_us, arrived_us, sounding, string, fret, sure"
_PUT_REVISED = f"INSERT INTO revised ({_REVISED_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
_PUT_HELP = "INSERT INTO help (take, n, step, at_us) VALUES (?, ?, ?, ?)"
_PUT_NAME = "INSERT INTO name_given (take, n, step, alter_by, said_right, at_us) VALUES (?, ?, ?, ?, ?, ?)"
_PUT_JUDGEMENT = "INSERT INTO judgement (judgement, take, judge, ended_utc, outcome) VALUES (?, ?, ?, ?, ?)"
_PUT_VERDICT = "INSERT INTO verdict VALUES (?, ?, ?, ?, ?, ?, ?)"
_PUT_CLEAN = f"INSERT INTO verdict VALUES (?, ?, '{_CLEAN}', NULL, 0, ?, ?)"
_PUT_ANSWER = "INSERT INTO answer VALUES (?, ?, ?, ?, ?)"
_PUT_NAMED = "INSERT INTO named VALUES (?, ?, ?, ?, ?, ?)"
_PUT_COACH = f"""
INSERT INTO coach_event (
    coach_event, player, device, at_utc, kind, passage, notes_per_beat, usual_note_beats, target_bpm, day, begin_at,
    wish, wish_bpm, take
) VALUES ({", ".join("?" * 14)})
"""
_PUT_DECISION = f"INSERT INTO decision VALUES ({', '.join('?' * 10)})"


def put_takes(
    connection: sqlite3.Connection, shared: SharedNumbers, player: int, takes: Sequence[TakeLine]
) -> list[int]:
    """Add takes as those of a player, each with the next number that its device has in this log; without what was done
    in them. Raises `KeyError` for one that asks what was not told.
    """
    numbers = list(_next_numbers(connection, "take", len(takes)))
    of_devices: dict[int, Iterator[int]] = {}
    rows = []
    for number, take in zip(numbers, takes, strict=True):
        device = shared.device(take.device, take.device_name)
        if device not in of_devices:
            of_devices[device] = _next_of_device(connection, device)
        rows.append(
            (
                number,
                device,
                next(of_devices[device]),
                player,
                written_utc(take.at),
                shared.bars(take.bars),
                shared.asked(take.asked),
                shared.neck_map(take.neck_map),
                shared.instrument(take.instrument),
                *msgspec.structs.astuple(take.terms),
                take.sighting,
                take.heard,
                take.known_by_ear,
            )
        )
    put_rows(connection, _PUT_TAKE, rows)
    tunes = [(number, take.tune) for number, take in zip(numbers, takes, strict=True) if take.tune is not None]
    connection.executemany("INSERT INTO take_tune VALUES (?, ?)", tunes)
    return numbers


def put_done(
    connection: sqlite3.Connection,
    shared: SharedNumbers,
    takes: Iterable[tuple[int, TakeLine, tuple[int, int, int, int]]],
) -> None:
    """Add what was done in takes, by their numbers, beyond what is there: so many notes played, revisions, steps of
    help and names given.
    """
    takes = list(takes)
    played = (
        _played_rows(shared, number, take)
        for number, take, there in takes
        if take.played_count > there[0] or (there[0] and take.i)
    )
    connection.executemany(_PUT_PLAYED, chain.from_iterable(played))
    revised = (_revised_rows(number, take, there[1]) for number, take, there in takes)
    connection.executemany(_PUT_REVISED, chain.from_iterable(revised))
    for statement, name, index in ((_PUT_HELP, "help", 2), (_PUT_NAME, "names", 3)):
        rows = (_column_rows(number, getattr(take, name), there[index]) for number, take, there in takes)
        connection.executemany(statement, chain.from_iterable(rows))


def put_judgements(
    connection: sqlite3.Connection,
    judgements: Sequence[JudgementLine],
    takes: Sequence[int],
    *,
    of_wrong_notes: bool = False,
) -> list[int]:
    """Add judgements, each of the take whose number stands in its place in `takes`; of the played notes that answered
    all, or only the first one to each note that was not right.
    """
    numbers = list(_next_numbers(connection, "judgement", len(judgements)))
    put_rows(
        connection,
        _PUT_JUDGEMENT,
        [
            (number, take, judged.judge, written_utc(judged.at), judged.outcome)
            for number, take, judged in zip(numbers, takes, judgements, strict=True)
        ],
    )
    both = list(zip(numbers, judgements, strict=True))
    _put_verdicts(connection, both)
    named = (_column_rows(number, judged.named, 0) for number, judged in both)
    connection.executemany(_PUT_NAMED, chain.from_iterable(named))
    if of_wrong_notes:
        put_rows(connection, _PUT_ANSWER, chain.from_iterable(map(_first_to_wrong, both)))
    else:
        put_answers(connection, both)
    happened = (
        zip(repeat(number), count(1), judged.events.kind, judged.events.n, judged.events.time_ms)
        for number, judged in both
        if judged.events is not None
    )
    connection.executemany("INSERT INTO event VALUES (?, ?, ?, ?, ?)", chain.from_iterable(happened))
    return numbers


def _put_verdicts(connection: sqlite3.Connection, judgements: Iterable[tuple[int, JudgementLine]]) -> None:
    """Add what was made of each note. Most are clean, and nothing is told of these but their times: to hand over all
    else of each takes half of the time.
    """
    clean: list[tuple[Any, ...]] = []
    others: list[tuple[Any, ...]] = []
    for row in chain.from_iterable(_column_rows(number, judged.verdicts, 0) for number, judged in judgements):
        number, n, verdict, cause, octave_off, offset_ms, time_to_find_ms = row
        if verdict == _CLEAN and cause is None and not octave_off:
            clean.append((number, n, offset_ms, time_to_find_ms))
        else:
            others.append(row)
    put_rows(connection, _PUT_CLEAN, clean)
    put_rows(connection, _PUT_VERDICT, others)


def put_answers(connection: sqlite3.Connection, judgements: Iterable[tuple[int, JudgementLine]]) -> None:
    """Add which played notes answered, to judgements of which that is not known yet."""
    rows = (_column_rows(number, judged.answers, 0) for number, judged in judgements)
    put_rows(connection, _PUT_ANSWER, chain.from_iterable(rows))


def put_coach(
    connection: sqlite3.Connection,
    shared: SharedNumbers,
    player: int,
    heard: Sequence[CoachLine],
    takes: Sequence[int | None],
) -> list[int]:
    """Add what the coach heard, of the takes whose numbers stand in their places in `takes`, and said."""
    numbers = list(_next_numbers(connection, "coach_event", len(heard)))
    put_rows(
        connection,
        _PUT_COACH,
        [
            (
                number,
                player,
                shared.device(line.device, line.device_name),
                written_utc(line.at),
                line.heard,
                line.passage,
                line.notes_per_beat,
                line.usual_note_beats,
                line.target_bpm,
                day_of_moment(line.at, line.zone),
                line.begin_at,
                line.wish,
                line.wish_bpm,
                take,
            )
            for number, line, take in zip(numbers, heard, takes, strict=True)
        ],
    )
    put_rows(connection, _PUT_DECISION, _decision_rows(numbers, heard))
    return numbers


def put_facts(connection: sqlite3.Connection, facts: Sequence[FactLine]) -> list[int]:
    """Add facts."""
    numbers = list(_next_numbers(connection, "fact", len(facts)))
    rows = [(number, fact.about, fact_text(fact)) for number, fact in zip(numbers, facts, strict=True)]
    connection.executemany("INSERT INTO fact VALUES (?, ?, ?)", rows)
    return numbers


def fact_text(fact: FactLine) -> str:
    """The content of a fact as it stands in the log."""
    return json.dumps(fact.content, ensure_ascii=False, separators=(",", ":"), sort_keys=True)


def put_unread(connection: sqlite3.Connection, texts: Sequence[str]) -> list[int]:
    """Add documents that are only kept."""
    numbers = list(_next_numbers(connection, "unread", len(texts)))
    connection.executemany("INSERT INTO unread VALUES (?, ?)", list(zip(numbers, texts, strict=True)))
    return numbers


def written_utc(at_us: int) -> str:
    """As `utc_text` writes it, ten times as fast."""
    seconds, us = divmod(at_us, 1_000_000)
    hours, seconds = divmod(seconds, 3600)
    return f"{_hour_text(hours)}:{seconds // 60:02}:{seconds % 60:02}.{us:06}Z"


@lru_cache(maxsize=1024)
def _hour_text(hours: int) -> str:
    """What is done in an hour comes together."""
    return time_of(3_600_000_000 * hours).isoformat(timespec="hours").removesuffix("+00:00")


def _next_numbers(connection: sqlite3.Connection, table: str, how_many: int) -> range:
    (highest,) = connection.execute(f"SELECT COALESCE(MAX({table}), 0) FROM {table}").fetchone()
    return range(highest + 1, highest + 1 + how_many)


def _next_of_device(connection: sqlite3.Connection, device: int) -> Iterator[int]:
    (highest,) = connection.execute("SELECT COALESCE(MAX(number), 0) FROM take WHERE device = ?", (device,)).fetchone()
    return count(highest + 1)


def _played_rows(shared: SharedNumbers, number: int, take: TakeLine) -> Rows:
    columns = take.played
    assert columns is not None
    sources = [shared.source(name) for name in take.sources]
    of_notes = repeat(sources[0]) if len(sources) == 1 else map(sources.__getitem__, columns.source)
    numbers = take.i or range(1, len(columns) + 1)
    notes = (columns.at, columns.sounding, columns.string, columns.fret, columns.velocity, of_notes)
    return zip(repeat(number), numbers, *notes, _sure(numbers, take.unsure))


def _revised_rows(number: int, take: TakeLine, there: int) -> Rows:
    columns = take.revised
    if columns is None:
        return iter(())
    sure = _sure(range(1, len(columns) + 1), take.unsure_revised)
    return islice(zip(repeat(number), *msgspec.structs.astuple(columns), sure), there, None)


def _sure(numbers: Iterable[int], unsure: Sequence[int] | None) -> Iterator[bool]:
    """Whether each was heard surely."""
    doubtful = frozenset(unsure or ())
    return (number not in doubtful for number in numbers) if doubtful else repeat(True)


def _column_rows(number: int, columns: Any, there: int) -> Rows:
    """The rows of some columns beyond the first `there`, each with a number before it."""
    if columns is None:
        return iter(())
    rows = zip(repeat(number), *msgspec.structs.astuple(columns))
    return rows if not there else iter(list(rows)[there:])


def _first_to_wrong(numbered: tuple[int, JudgementLine]) -> Rows:
    """The first answers to notes that were not right."""
    number, judged = numbered
    if judged.verdicts is None or judged.answers is None:
        return iter(())
    wrong = {n for n, word in zip(judged.verdicts.n, judged.verdicts.verdict, strict=True) if word not in _RIGHT}
    rows = zip(repeat(number), *msgspec.structs.astuple(judged.answers))
    return (row for row in rows if row[2] == 1 and row[1] in wrong)


def _decision_rows(numbers: Sequence[int], heard: Sequence[CoachLine]) -> Rows:
    for number, line in zip(numbers, heard, strict=True):
        said = line.decision
        if said is not None:
            yield (
                number,
                said.passage,
                said.offer,
                said.stage,
                said.pulse,
                said.tempo_bpm,
                said.reason,
                said.settling,
                short_json_array(said.earned),
                short_json_array(said.to_review),
            )
