"""Some thousand documents on their way into the tables of a log, in one transaction, and an account of what came."""

import sqlite3
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import repeat
from typing import Any

import msgspec

from game.practice_log.documents.brought_rows import (
    put_coach,
    put_done,
    put_facts,
    put_judgements,
    put_takes,
    put_unread,
)
from game.practice_log.documents.decoded_documents import Documents, decoded
from game.practice_log.documents.documents import (
    AskedNotes,
    CoachLine,
    Entry,
    FactLine,
    JudgementLine,
    TakeLine,
)
from game.practice_log.documents.known_entries import EntryKey, Found, KnownEntries, compared
from game.practice_log.documents.moments_brought import Brought
from game.practice_log.documents.shared_numbers import SharedNumbers
from game.practice_log.rows.entry_rows import Kind


@dataclass(slots=True)
class TakenIn:
    """What came: `new` entries by their kinds, `takes` in all, `longer` copies that knew more, `kept` documents of a
    newer program or without what they belong to, `clashes` with another content than is there, `left_out` as nonsense,
    of `others` than the player. `holds` are the devices: how many entries of each, and its highest count.
    """

    new: Counter[str] = field(default_factory=Counter)
    takes: int = 0
    longer: int = 0
    kept: int = 0
    clashes: int = 0
    left_out: int = 0
    others: int = 0
    holds: dict[str, tuple[int, int]] = field(default_factory=dict)

    @property
    def changed(self) -> bool:
        """Whether anything of it was new."""
        return bool(self.new.total() or self.longer or self.kept)

    def add(self, other: "TakenIn") -> None:
        """Count what came of some more."""
        self.new += other.new
        self.takes += other.takes
        self.longer += other.longer
        self.kept += other.kept
        self.clashes += other.clashes
        self.left_out += other.left_out
        self.others += other.others
        for device, (entries, highest) in other.holds.items():
            so_far, until = self.holds.get(device, (0, highest))
            self.holds[device] = (so_far + entries, max(until, highest))


class DocumentBatch:
    """Some thousand documents on their way into the tables, in one transaction."""

    def __init__(
        self,
        connection: sqlite3.Connection,
        shared: SharedNumbers,
        player: int,
        told: TakenIn,
        *,
        with_notes: bool = True,
    ) -> None:
        self._connection, self._shared, self._player, self._told = connection, shared, player, told
        self._with_notes = with_notes
        self._known = KnownEntries(connection)
        self.brought: list[Brought] = []

    def put(self, documents: Documents) -> None:
        """Put all of them."""
        self._shared.put_asked(one for one in documents.known if isinstance(one, AskedNotes))
        entries = [one for one in documents.known if not isinstance(one, AskedNotes)]
        keys = [one.key for one in entries]
        self._see([*keys, *(one.key for one, _ in documents.unknown)])
        # The first file of a player, mostly: nothing of it is there.
        is_all_new = not self._known and len(set(keys)) == len(keys)
        new, there = (entries, []) if is_all_new else self._told_apart(entries)
        self._put_new(new)
        self._told.takes += sum(isinstance(one, TakeLine) for one in entries)
        self._keep(documents.unknown)
        self._compare(there)

    def _see(self, keys: Sequence[EntryKey]) -> None:
        """Count what came of each device, and look up which of it is there."""
        sequences: defaultdict[str, list[int]] = defaultdict(list)
        for device, sequence, _ in keys:
            sequences[device].append(sequence)
        for device, counts in sequences.items():
            count, highest = self._told.holds.get(device, (0, counts[0]))
            self._told.holds[device] = (count + len(counts), max(highest, *counts))
        self._known.look_up(sequences)

    def _told_apart(self, entries: Iterable[Entry]) -> tuple[list[Entry], list[Entry]]:
        """Those that are new, and those whose key is there already, or comes twice here."""
        new: list[Entry] = []
        there: list[Entry] = []
        coming: set[EntryKey] = set()
        for entry in entries:
            found = self._known.get(entry.key)
            is_new = entry.key not in coming and (found is None or found.kind == Kind.UNREAD.value)
            coming.add(entry.key)
            (new if is_new else there).append(entry)
            if is_new and found is not None:
                # The copy that was kept so far may know more than this one.
                there.extend(self._kept(found.row))
        return new, there

    def _put_new(self, new: Iterable[Entry]) -> None:
        of_kind: defaultdict[type, list[Any]] = defaultdict(list)
        for one in new:
            of_kind[type(one)].append(one)
        self._put_takes(of_kind[TakeLine])
        self._put_judgements(of_kind[JudgementLine])
        self._put_coach(of_kind[CoachLine])
        self._add(Kind.FACT, of_kind[FactLine], put_facts(self._connection, of_kind[FactLine]))

    def _kept(self, row: int) -> list[Entry]:
        (content,) = self._connection.execute("SELECT content FROM unread WHERE unread = ?", (row,)).fetchone()
        known = decoded(str(content).encode() + b"\n").known
        return [entry for entry in known if not isinstance(entry, AskedNotes)]

    def _put_takes(self, takes: list[TakeLine]) -> None:
        whole = [take for take in takes if self._shared.knows_asked(take.asked)]
        self._keep((take, _text(take)) for take in takes if not self._shared.knows_asked(take.asked))
        rows = put_takes(self._connection, self._shared, self._player, whole)
        if self._with_notes:
            put_done(self._connection, self._shared, zip(rows, whole, repeat((0, 0, 0, 0)), strict=False))
        self._add(Kind.TAKE, whole, rows)

    def _put_judgements(self, judgements: list[JudgementLine]) -> None:
        whole, takes = self._with_takes(judgements)
        self._add(
            Kind.JUDGEMENT, whole, put_judgements(self._connection, whole, takes, of_wrong_notes=not self._with_notes)
        )

    def _put_coach(self, heard: list[CoachLine]) -> None:
        whole, takes = self._with_takes(heard)
        self._add(Kind.COACH, whole, put_coach(self._connection, self._shared, self._player, whole, takes))

    def _with_takes(self, entries: list[Any]) -> tuple[list[Any], list[Any]]:
        """The entries whose take is there, or that are of none, and the numbers of the takes; the others are kept."""
        whole, takes, waiting = [], [], []
        for entry in entries:
            take = None if entry.of is None else self._known.take(entry.of)
            if take is None and entry.of is not None:
                waiting.append((entry, _text(entry)))
            else:
                whole.append(entry)
                takes.append(take)
        self._keep(waiting)
        return whole, takes

    def _keep(self, documents: Iterable[tuple[Any, str]]) -> None:
        """Keep what cannot be read yet; of several copies of one, the longest, which may know more."""
        longest: dict[EntryKey, tuple[Any, str]] = {}
        for entry, text in documents:
            if entry.key not in longest or len(longest[entry.key][1]) < len(text):
                longest[entry.key] = (entry, text)
        new = [(entry, text) for key, (entry, text) in longest.items() if self._known.get(key) is None]
        self._add(Kind.UNREAD, [entry for entry, _ in new], put_unread(self._connection, [text for _, text in new]))
        kept = ((self._known.get(key), text) for key, (_, text) in longest.items())
        rows = [(text, found.row, text) for found, text in kept if found and found.kind == Kind.UNREAD.value]
        longer = "UPDATE unread SET content = ? WHERE unread = ? AND LENGTH(content) < LENGTH(?)"
        self._told.longer += max(0, self._connection.executemany(longer, rows).rowcount)

    def _add(self, kind: Kind, entries: list[Any], rows: list[int]) -> None:
        """Add the entries of these rows; one that was only kept so far becomes what it is."""
        player, word, known, brought = self._player, kind.value, self._known, self.brought
        for entry, row in zip(entries, rows, strict=True):
            key = entry.key
            before = known.get(key)
            if before is not None:
                self._connection.execute("DELETE FROM unread WHERE unread = ?", (before.row,))
                self._connection.execute(
                    "UPDATE entry SET kind = ?, row = ? WHERE entry = ?", (word, row, before.entry)
                )
            else:
                device = self._shared.device(entry.device, entry.device_name)
                brought.append(Brought(device, entry.sequence, entry.at, entry.zone, player, word, row))
            known[key] = Found(word, row, before.entry if before else 0)
        if kind is Kind.UNREAD:
            self._told.kept += len(rows)
        else:
            self._told.new[kind.value] += len(rows)

    def _compare(self, there: list[Entry]) -> None:
        found = ((entry, self._known.get(entry.key)) for entry in there)
        self._keep((entry, _text(entry)) for entry, known in found if known and known.kind == Kind.UNREAD.value)
        longer, clashes = compared(self._connection, self._shared, self._known, there, with_notes=self._with_notes)
        self._told.longer += longer
        self._told.clashes += clashes


def _text(entry: Entry) -> str:
    return msgspec.json.encode(entry).decode()
