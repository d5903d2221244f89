"""The shelf is counted at once, or beside the picture where that would take too long."""

from dataclasses import replace

from game.neck.neck_map import standard_map
from game.screens.setup.shelf_counting import ShelfCounting
from game.tunes.library.library import shipped_entries


def test_a_few_tunes_that_were_counted_before_are_there_at_once():
    counting = ShelfCounting(shipped_entries()[:5], standard_map())
    assert counting.counted.counts.notes


def test_what_nobody_counted_yet_is_counted_beside_and_can_be_waited_for():
    old = [replace(one, pairs="") for one in shipped_entries()[:3]]
    counting = ShelfCounting(old, standard_map())
    assert counting.waited_for.counts.pairs
    assert counting.counted is counting.waited_for
