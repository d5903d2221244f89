"""Local numbers of what many documents share: devices, music, maps, instruments, what is asked. New ones are added."""

import sqlite3
from collections.abc import Iterable
from functools import lru_cache
from typing import Any
from uuid import UUID

from game.instrument.sources.note_sources import PlayedOn
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import Place, Tuning
from game.practice_log.database.identity import Identity
from game.practice_log.documents.document_parts import BarsAsked, MapUsed, PlayedOnDevice
from game.practice_log.documents.documents import AskedNotes
from game.practice_log.documents.many_rows import put_rows
from game.practice_log.rows.log_records import Bars, InstrumentUsed
from game.practice_log.rows.row_values import json_array, short_json_array
from game.practice_log.rows.shared_rows import put_bars, put_device, put_instrument, put_neck_map, put_source
from game.text.clean_text import cleaned

_INSERT_ASKED = f"INSERT INTO asked_note VALUES ({', '.join('?' * 16)})"
_shown = lru_cache(maxsize=10_000)(cleaned)


class SharedNumbers:
    """The numbers in one log, remembered until one of its transactions fails."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._devices: dict[str, int] = {}
        self._sources: dict[str, int] = {}
        self._bars: dict[BarsAsked, int] = {}
        self._maps: dict[MapUsed, int] = {}
        self._instruments: dict[PlayedOnDevice, int] = {}
        self._asked: dict[str, int] = {digest: n for n, digest in connection.execute("SELECT asked, digest FROM asked")}

    def device(self, uuid: str, name: str) -> int:
        """The number of a device."""
        if uuid not in self._devices:
            self._devices[uuid] = put_device(self._connection, Identity(uuid=UUID(uuid), name=_shown(name)))
        return self._devices[uuid]

    def source(self, name: str) -> int:
        """The number of a name that notes carry."""
        if name not in self._sources:
            self._sources[name] = put_source(self._connection, _shown(name))
        return self._sources[name]

    def bars(self, bars: BarsAsked) -> int:
        """The number of these bars of this tune."""
        if bars not in self._bars:
            named = Bars(
                title=_shown(bars.title),
                passage_key=bars.passage_key,
                first=_shown(bars.first),
                last=_shown(bars.last),
                start=bars.start,
                stop=bars.stop,
            )
            self._bars[bars] = put_bars(self._connection, named)
        return self._bars[bars]

    def neck_map(self, used: MapUsed) -> int:
        """The number of a map. Raises `ValueError` for one that cannot be: no log that holds it could be read."""
        if used not in self._maps:
            neck_map = standard_map(
                position=used.position,
                tuning=Tuning(_shown(used.tuning), used.open_strings),
                frets=used.frets,
                reading=Reading(used.reading),
                choices={sounding: Place(string, fret) for sounding, string, fret in used.choices},
            )
            self._maps[used] = put_neck_map(self._connection, neck_map)
        return self._maps[used]

    def instrument(self, played_on: PlayedOnDevice) -> int:
        """The number of an instrument."""
        if played_on not in self._instruments:
            used = InstrumentUsed(name=_shown(played_on.name), kind=PlayedOn(played_on.kind))
            self._instruments[played_on] = put_instrument(self._connection, used)
        return self._instruments[played_on]

    def knows_asked(self, digest: str) -> bool:
        """Whether the notes asked are there."""
        return digest in self._asked

    def asked(self, digest: str) -> int:
        """The number of notes asked, which are there."""
        return self._asked[digest]

    def put_asked(self, asked: Iterable[AskedNotes]) -> None:
        """Add the notes asked that are new."""
        rows: list[tuple[Any, ...]] = []
        for notes in asked:
            if notes.digest in self._asked:
                continue
            number = self._connection.execute(
                "INSERT INTO asked (digest, spans) VALUES (?, ?)", (notes.digest, json_array(notes.spans))
            ).lastrowid
            assert number is not None
            self._asked[notes.digest] = number
            rows += (
                (number, n, _shown(bar), *printed, short_json_array(heads), short_json_array(graces))
                for n, bar, *printed, heads, graces in notes.rows
            )
        put_rows(self._connection, _INSERT_ASKED, rows)
