"""The small pages of the tunes in sight."""

import pytest

from game.coach.marks import Mark
from game.desk.kit.small_page import PageMark
from game.screens.choosing.shelf_pages import ShelfPages, page_mark
from game.tunes.library.library import shipped_entries

TUNES = shipped_entries()[:3]


def test_pages_are_looked_up_as_far_as_there_is_time_and_the_rest_with_the_next_picture(table, monkeypatch):
    """Each reading of a clock that runs costs a hundredth of a second here: three for two tunes."""
    pages = ShelfPages(table.context)
    asked = iter(range(100))
    monkeypatch.setattr(table.clock, "now_s", lambda: 0.02 * next(asked))
    assert not pages.look_up(TUNES)
    assert [pages.of(entry) is None for entry in TUNES] == [False, True, True]
    assert not pages.look_up(TUNES)
    assert pages.look_up(TUNES)
    assert all(pages.of(entry) == pages.at_once(entry) for entry in TUNES)


@pytest.mark.parametrize(
    ("earned", "shown"),
    [
        (set(), PageMark.NONE),
        ({Mark.FOUND}, PageMark.FOUND),
        ({Mark.IN_TIME}, PageMark.IN_TIME),
        ({Mark.FOUND, Mark.IN_TIME, Mark.SIGNED_OFF}, PageMark.SIGNED_OFF),
    ],
)
def test_a_page_shows_the_highest_of_its_marks(earned, shown):
    assert page_mark(frozenset(earned)) is shown
