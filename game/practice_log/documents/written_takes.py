"""Takes of a log as documents, and the notes they ask."""

import sqlite3
from collections.abc import Iterator, Sequence
from typing import Any

import msgspec

from game.instrument.sources.note_sources import PlayedOn
from game.practice_log.documents.chosen_entries import ChosenEntry, of_numbers
from game.practice_log.documents.document_parts import (
    BarsAsked,
    HelpColumns,
    MapUsed,
    NameColumns,
    PlayedColumns,
    PlayedOnDevice,
    RevisedColumns,
    TakeTerms,
)
from game.practice_log.documents.documents import AskedNotes, TakeLine
from game.practice_log.documents.written_columns import (
    Column,
    Columns,
    Made,
    columns_of_numbers,
    in_struct,
    key_fields,
    made_of,
    truths,
)
from game.practice_log.rows.row_values import from_json_array

_TERMS = TakeTerms.__struct_fields__
_TRUTHS = frozenset({"waits", "wants_home", "pitch_counts", "settling", "self_marked"})
_TAKES = f"""
SELECT take, bars, neck_map, instrument, asked, sighting, heard, known_by_ear, tune, {", ".join(_TERMS)}
FROM take LEFT JOIN take_tune USING (take) WHERE take
"""
_ASKED_ROWS = """
SELECT n, bar, onset, length, written, sounding, string, fret, reach, sign, courtesy, altered_by, signature, heads,
    graces
FROM asked_note WHERE asked = ? ORDER BY n
"""
_HEARD, _FORM_OF_HEARD = PlayedOn.HEARD.value, 3
_PLAYED = "SELECT take, i, at_us, sounding, string, fret, velocity, source, sure FROM played WHERE take"
_REVISED = "SELECT take, i, at_us, arrived_us, sounding, string, fret, sure FROM revised WHERE take"
_HELP = "SELECT take, n, step, at_us FROM help WHERE take"
_NAMES = "SELECT take, n, step, alter_by, said_right, at_us FROM name_given WHERE take"


class WrittenTakes:
    """The takes of one log, with what many of them share."""

    def __init__(self, connection: sqlite3.Connection, *, with_notes: bool, with_names: bool = True) -> None:
        """Without names no instrument has one; of several in a take, each is a number."""
        self._connection, self._with_notes = connection, with_notes
        self._sent: set[int] = set()
        self._bars = {
            number: BarsAsked(**dict(zip(BarsAsked.__struct_fields__, rest, strict=True)))
            for number, *rest in connection.execute(
                "SELECT bars, passage_key, title, first, last, start, stop FROM bars"
            )
        }
        self._maps = dict(_maps(connection))
        self._instruments = {
            number: PlayedOnDevice(name=name if with_names else "", kind=kind)
            for number, name, kind in connection.execute("SELECT instrument, name, kind FROM instrument")
        }
        sources = connection.execute("SELECT source, name FROM source").fetchall()
        self._sources = {number: name if with_names else str(number) for number, name in sources}
        self._digests: dict[int, str] = dict(connection.execute("SELECT asked, digest FROM asked"))

    def documents(self, entries: Sequence[ChosenEntry]) -> tuple[list[AskedNotes], Made]:
        """What these takes ask that no take before asked, and the takes."""
        numbers = [entry.row for entry in entries]
        rows = {take: rest for take, *rest in of_numbers(self._connection, _TAKES, numbers)}
        done = [self._done(*statement, numbers) for statement in _DONE]
        made = dict(
            made_of(entries, lambda entry: self._take(entry, rows[entry.row], [part.get(entry.row) for part in done]))
        )
        asked = {rows[take][3] for _, take in made}
        new = sorted(asked - self._sent, key=self._digests.__getitem__)
        self._sent |= asked
        return [self._asked(number) for number in new], made

    def _done(self, select: str, order: str, numbers: list[int]) -> Columns:
        return columns_of_numbers(self._connection, select, order, numbers) if self._with_notes else {}

    def _take(self, entry: ChosenEntry, row: list[Any], done: list[list[Column] | None]) -> TakeLine:
        bars, neck_map, instrument, asked, sighting, heard, known_by_ear, tune, *terms = row
        played, revised, helped, names = done
        sure, revised_sure = played.pop() if played else (), revised.pop() if revised else ()
        unsure, unsure_revised = _unsure(played[0] if played else (), sure), _unsure(range(1, 1 << 53), revised_sure)
        heard_so = self._instruments[instrument].kind == _HEARD or unsure or unsure_revised
        sources = list(dict.fromkeys(played[-1])) if played else []
        return TakeLine(
            **key_fields(entry) | {"form": _FORM_OF_HEARD if heard_so else 1},
            bars=self._bars[bars],
            neck_map=self._maps[neck_map],
            instrument=self._instruments[instrument],
            terms=_terms(terms),
            asked=self._digests[asked],
            sighting=sighting,
            heard=bool(heard),
            known_by_ear=None if known_by_ear is None else bool(known_by_ear),
            tune=tune,
            sources=[self._sources[source] for source in sources],
            played=_played(played, sources),
            i=_numbers(played),
            unsure=unsure,
            revised=in_struct(RevisedColumns, revised),
            unsure_revised=unsure_revised,
            help=in_struct(HelpColumns, helped),
            names=in_struct(NameColumns, names and [*names[:3], truths(names[3]), names[4]]),
        )

    def _asked(self, asked: int) -> AskedNotes:
        (spans,) = self._connection.execute("SELECT spans FROM asked WHERE asked = ?", (asked,)).fetchone()
        rows = [
            (*row[:10], bool(row[10]), *row[11:13], _JSON.decode(row[13]), _JSON.decode(row[14]))
            for row in self._connection.execute(_ASKED_ROWS, (asked,))
        ]
        return AskedNotes(form=1, digest=self._digests[asked], spans=from_json_array(spans), rows=rows)


_JSON = msgspec.json.Decoder(list)
_DONE = (
    (_PLAYED, "ORDER BY take, i"),
    (_REVISED, "ORDER BY take, revised"),
    (_HELP, "ORDER BY take, help"),
    (_NAMES, "ORDER BY take, name_given"),
)


def _maps(connection: sqlite3.Connection) -> Iterator[tuple[int, MapUsed]]:
    rows = connection.execute("SELECT neck_map, position, tuning, open_strings, frets, reading, choices FROM neck_map")
    for number, position, tuning, open_strings, frets, reading, choices in rows:
        yield (
            number,
            MapUsed(
                position=position,
                tuning=tuning,
                open_strings=tuple(from_json_array(open_strings)),
                frets=frets,
                reading=reading,
                choices=tuple(tuple(choice) for choice in from_json_array(choices)),
            ),
        )


def _terms(values: Sequence[Any]) -> TakeTerms:
    named: dict[str, Any] = dict(zip(_TERMS, values, strict=True))
    return TakeTerms(**named | {name: bool(named[name]) for name in _TRUTHS})


def _played(columns: list[Column] | None, sources: list[int]) -> PlayedColumns | None:
    if columns is None:
        return None
    if len(sources) == 1:
        index: Column = (0,) * len(columns[-1])
    else:
        index = tuple(map(sources.index, columns[-1]))
    return in_struct(PlayedColumns, [*columns[1:-1], index])


def _unsure(numbers: Sequence[int], sure: Column) -> list[int] | None:
    """The numbers of what was heard unsurely, None where all is sure."""
    return None if all(sure) else [number for number, known in zip(numbers, sure, strict=False) if not known]


def _numbers(columns: list[Column] | None) -> list[int] | None:
    """The numbers of played notes where some were lost."""
    if columns is None or columns[0] == tuple(range(1, len(columns[0]) + 1)):
        return None
    return list(columns[0])
