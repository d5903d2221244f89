"""A tune of the shelf is opened."""

from dataclasses import replace

from game.coach.stages import Stage
from game.message import verbatim
from game.screens.choosing import shelf_opening
from game.screens.choosing.shelf_opening import import_summary, opened, opened_dropped
from game.screens.choosing.shelf_pages import ShelfPages
from game.screens.routes import ToImportSummary, ToPage
from game.tunes.library.library import open_entry, shelf


def test_a_page_is_opened_and_the_tune_counts_as_opened(table):
    entry = shelf()[2]
    route = opened(table.context, entry, ShelfPages(table.context).at_once(entry), 1)
    assert isinstance(route, ToPage)
    assert (route.request.index, route.chosen) == (1, False)
    assert table.context.session.last_opened == entry
    assert entry.name in table.context.session.log.facts.opened_tunes


def test_at_first_sight_all_of_it_is_read(table):
    entry = shelf()[2]
    route = opened(table.context, entry, ShelfPages(table.context).at_once(entry), 1, at_sight=True)
    assert route.request.stage is Stage.SIGHT
    assert route.request.passage.whole


def test_a_tune_that_is_gone_says_so_and_leads_nowhere(table):
    gone = replace(shelf()[2], name="gone")
    pages = ShelfPages(table.context).at_once(gone)
    assert opened(table.context, gone, pages, 0) is None
    assert table.context.window.message
    assert import_summary(table.context, gone) is None


def test_what_was_dropped_is_opened_where_nothing_was_guessed_and_else_its_account_is_shown(table, monkeypatch):
    entry = shelf()[2]
    pages = ShelfPages(table.context).at_once(entry)
    assert isinstance(opened_dropped(table.context, entry, pages, 0), ToPage)
    guessed = replace(open_entry(entry), warnings=(verbatim("Cue notes were left out."),))
    monkeypatch.setattr(shelf_opening, "open_entry", lambda _: guessed)
    assert opened_dropped(table.context, entry, pages, 0) == ToImportSummary(entry, guessed)
