"""What of the shelf is shown, in which order, and which tune of it is chosen."""

from game.screens.choosing.shelf_list import ShelfList
from game.tunes.library.import_results import ImportDone
from game.tunes.library.library import shipped_entries
from game.tunes.library.shelf_order import ShelfOrder


def test_the_choice_moves_and_stops_at_both_ends(table):
    shown = ShelfList(table.context)
    last = len(shown.entries) - 1
    for by, chosen in ((-1, 0), (3, 3), (10_000, last), (1, last), (-10_000, 0)):
        shown.move(by)
        assert shown.chosen == chosen


def test_where_nothing_is_found_nothing_is_chosen(table):
    shown = ShelfList(table.context)
    shown.show(words="no such tune")
    shown.move(1)
    assert (shown.entry, shown.where(typing=False)) == (None, "with “no such tune”: 0 of 0")


def test_the_same_tune_stays_chosen_when_more_is_known(table):
    shown = ShelfList(table.context)
    shown.show(order=ShelfOrder.TITLE)
    shown.move(5)
    chosen = shown.entry
    shown.show_anew()
    assert shown.entry == chosen
    assert shown.chosen == 5


def test_what_came_last_is_new_and_stands_first(table):
    shown = ShelfList(table.context)
    newest = shown.entries[7]
    table.context.window.imports.last = ImportDone(entries=(newest,), files=1)
    shown.show()
    assert shown.new == {newest.name}
    assert shown.entry == newest


def test_a_tune_that_left_the_book_is_shown_to_whoever_opened_it(table):
    left, *others = [entry for entry in shipped_entries() if entry.retired]
    assert not {left, *others} & set(ShelfList(table.context).entries)
    table.context.session.log.facts.open_tune(left.name)
    shown = set(ShelfList(table.context).entries)
    assert left in shown
    assert not set(others) & shown
