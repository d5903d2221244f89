"""Entries as they go along where no name is to: of the player, of their computers, of their instruments."""

import sqlite3
from collections.abc import Iterable, Sequence

from game.practice_log.documents.chosen_entries import ChosenEntry, of_numbers
from game.practice_log.rows.entry_rows import About, Kind

SAYS_A_NAME = frozenset({About.PLAYER_NAME.value, About.SIGNATURE.value})
"""Facts that are a name, in letters or by the hand that wrote it."""


def nameless_entries(connection: sqlite3.Connection, entries: Sequence[ChosenEntry]) -> list[ChosenEntry]:
    """The entries without those that say a name, and without the names of the computers they are from. What only a
    newer program can read may say names, too, and stays behind.
    """
    facts = [entry.row for entry in entries if entry.kind == Kind.FACT.value]
    about = dict(of_numbers(connection, "SELECT fact, about FROM fact WHERE fact", facts))
    return [
        entry._replace(device_name="")
        for entry in without_unread(entries)
        if entry.kind != Kind.FACT.value or about[entry.row] not in SAYS_A_NAME
    ]


def without_unread(entries: Iterable[ChosenEntry]) -> list[ChosenEntry]:
    """The entries that this program can read: of others nobody can say what is in them, or leave a part of it out."""
    return [entry for entry in entries if entry.kind != Kind.UNREAD.value]
