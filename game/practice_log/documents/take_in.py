"""Documents into a log: what is there already is passed over, a copy that is longer is made use of.

The same documents give the same log, in whatever order they come, however often, and wherever it was interrupted: each
transaction takes in some thousand of them and leaves a log that is whole.
"""

import sqlite3
from collections.abc import Iterable

from game.errors import HomefretError
from game.practice_log.database.migrations import transaction
from game.practice_log.documents.decoded_documents import Documents, decoded
from game.practice_log.documents.document_batch import DocumentBatch, TakenIn
from game.practice_log.documents.documents import FORM, AskedNotes
from game.practice_log.documents.moments_brought import settle_brought
from game.practice_log.documents.shared_numbers import SharedNumbers
from game.practice_log.rows.one_player import uuids_of_owner

_READ_BY_THIS = f"form_{FORM}"
"""Among the names of what was taken in: a program that knows this form has read all that it can."""

_KEPT_BY_OLDER = "SELECT 1 FROM unread WHERE NOT EXISTS (SELECT 1 FROM taken_in WHERE name = ?) LIMIT 1"
_NONSENSE = (
    ValueError, TypeError, KeyError, OverflowError, HomefretError, sqlite3.IntegrityError, sqlite3.DataError,
    sqlite3.InterfaceError,
)  # fmt: skip


class TakingIn:
    """Into one log, as the entries of its player, whose number there is `player`; those of other ids than `accepted`
    are passed over. `connection` is in autocommit. Without notes, what was played, helped and named in takes is passed
    over, and what answered a note that was right; how each note was judged is not.
    """

    def __init__(
        self, connection: sqlite3.Connection, *, player: int, accepted: Iterable[str], with_notes: bool = True
    ) -> None:
        self._connection, self._player, self._with_notes = connection, player, with_notes
        self._accepted = frozenset(accepted)
        self._shared = SharedNumbers(connection)

    def take_in(self, documents: Documents) -> TakenIn:
        """Take in some thousand documents. Raises `sqlite3.Error` where the log cannot be written now."""
        try:
            return self._all_or_nothing(documents)
        except _NONSENSE:
            self._shared = SharedNumbers(self._connection)
        told = TakenIn(left_out=documents.left_out)
        if len(documents) <= 1:
            told.left_out += len(documents)
        else:
            for half in _halves(documents):
                told.add(self.take_in(half))
        return told

    def try_again(self) -> TakenIn:
        """Take in what is only kept so far, where it can be read by now, or what it belongs to has come."""
        told, kept = TakenIn(), decoded(self._kept())
        while kept.known:
            came = self.take_in(Documents(kept.known)).new
            if not came.total():
                break
            told.new += came
            kept = decoded(self._kept())
        return told

    def _kept(self) -> bytes:
        rows = self._connection.execute("SELECT content FROM unread ORDER BY unread")
        return b"".join(str(content).replace("\n", " ").encode() + b"\n" for (content,) in rows)

    def _all_or_nothing(self, documents: Documents) -> TakenIn:
        told = TakenIn(left_out=documents.left_out)
        with transaction(self._connection):
            batch = DocumentBatch(self._connection, self._shared, self._player, told, with_notes=self._with_notes)
            batch.put(self._own(documents, told))
            settle_brought(self._connection, batch.brought)
            if told.changed:
                _count_gathering(self._connection)
        return told

    def _own(self, documents: Documents, told: TakenIn) -> Documents:
        known = [one for one in documents.known if isinstance(one, AskedNotes) or one.player in self._accepted]
        unknown = [one for one in documents.unknown if one[0].player in self._accepted]
        told.others += len(documents) - len(known) - len(unknown)
        return Documents(known, unknown)


def read_what_was_kept(connection: sqlite3.Connection) -> None:
    """Where an older program kept documents of a newer form unread that this one can read, they are read now, once.
    Raises `sqlite3.Error` where the log cannot be written.
    """
    if not connection.execute(_KEPT_BY_OLDER, (_READ_BY_THIS,)).fetchone():
        return
    (player,) = connection.execute("SELECT player FROM entry WHERE kind = 'unread' LIMIT 1").fetchone()
    accepted = map(str, uuids_of_owner(connection))
    TakingIn(connection, player=player, accepted=accepted).try_again()
    with transaction(connection):
        connection.execute("INSERT OR REPLACE INTO taken_in VALUES (?, '{}')", (_READ_BY_THIS,))


def gatherings(connection: sqlite3.Connection) -> int:
    """A number that changes whenever something was gathered, or erased, and costs nothing to ask for."""
    (number,) = connection.execute("PRAGMA user_version").fetchone()
    return int(number)


def _count_gathering(connection: sqlite3.Connection) -> None:
    connection.execute(f"PRAGMA user_version = {(gatherings(connection) + 1) % 2**31}")


def _halves(documents: Documents) -> tuple[Documents, Documents]:
    known, unknown = documents.known, documents.unknown
    if len(known) <= 1:
        half = len(unknown) // 2
        return Documents(known, unknown[:half]), Documents([], unknown[half:])
    half = len(known) // 2
    return Documents(known[:half], unknown), Documents(known[half:])
