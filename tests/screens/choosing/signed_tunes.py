"""Tunes of which every page is signed off, as the coach would know it after weeks."""

from dataclasses import replace

from game.coach.events import PassageFacts
from game.coach.marks import Mark
from game.coach.records import PassageRecord
from game.player.tune_pages import pages_of_tune
from game.tunes.library.shelf_entry import ShelfEntry
from tests.screens.table import Table


def sign_pages(table: Table, *entries: ShelfEntry, pages: int = 1000, bpm: int = 72) -> None:
    """Sign the first pages of these tunes off, kept at `bpm`."""
    coach, neck_map = table.context.session.coach, table.context.settings.neck_map()
    records = dict(coach.state.records)
    for entry in entries:
        for page in pages_of_tune(entry, neck_map).pages[:pages]:
            records[page.key] = PassageRecord(
                facts=PassageFacts(name=page.key), marks=tuple(Mark), practised_day=table.day - 9, held_bpm=bpm
            )
    coach.projection.state = replace(coach.state, records=records)
