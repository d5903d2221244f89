"""One log of our own into another: the entries that it lacks."""

from contextlib import closing
from datetime import datetime
from pathlib import Path

from game.practice_log.database.own_player import players_with_entries
from game.practice_log.database.store import open_store
from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.documents.decoded_documents import decoded_documents
from game.practice_log.documents.take_in import TakingIn
from game.practice_log.documents.written_documents import document_lines
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.rows.shared_rows import put_player


def add_log(target: Path, source: Path, *, now_utc: datetime) -> None:
    """Add to a log what another one, of the same player, holds beside it. Both were made by us just now, nobody uses
    them, and afterwards all of each is in its one file. Raises `sqlite3.Error` where the target cannot be written.
    """
    with closing(open_store(target, now_utc=now_utc)) as into, closing(open_store(source, now_utc=now_utc)) as brought:
        owner = next(iter((*players_with_entries(into), *players_with_entries(brought))), None)
        if owner is not None:
            accepted = map(str, uuids_of_owner(into) | uuids_of_owner(brought))
            taking = TakingIn(into, player=put_player(into, owner), accepted=accepted)
            for documents in decoded_documents(document_lines(brought, chosen_entries(brought, Choice()))):
                taking.take_in(documents)
            taking.try_again()
        for log in (into, brought):
            log.execute("PRAGMA journal_mode = DELETE")
