"""The small pages of the tunes in sight."""

import pygame
import pytest

from game.coach.marks import Mark
from game.desk.kit.small_page import PageMark
from game.screens.choosing import shelf_pages, shelf_screen
from game.screens.choosing.shelf_pages import ShelfPages, page_mark
from game.screens.routes import ToShelf
from game.text.catalogue import tell
from game.tunes.library.library import shipped_entries
from game.tunes.library.shelf_entry import entry_of
from tests.made import score

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


def on_shelf(monkeypatch, *rows):
    """The entry of a tune, which is what is opened."""
    tune = score(*rows)
    monkeypatch.setattr(shelf_pages, "open_entry", lambda _: tune)
    return entry_of(tune, name="low", file_name="low.musicxml")


def test_where_the_hand_goes_in_a_tune_is_said_for_the_map_of_now(table, monkeypatch):
    entry = on_shelf(monkeypatch, "A4 q, C5 q, F3 q, A4 q", "C5 q, E5 q, A4 h")
    pages = ShelfPages(table.context)
    assert tell(pages.hand_in(entry)[0]) == "The hand: V, bar 1 to I, back to V"
    table.settle(position=1)
    assert "V" not in "".join(tell(one) for one in pages.hand_in(entry))
    table.settle(position=5)
    assert pages.hand_in(entry)


def test_a_tune_in_the_position_is_not_opened_to_see_where_the_hand_goes(table, monkeypatch):
    monkeypatch.setattr(shelf_pages, "open_entry", None)
    assert ShelfPages(table.context).hand_in(TUNES[0]) == ()


def test_of_a_tune_that_is_gone_nothing_is_said(table):
    entry = entry_of(score("A4 q, F3 q, A4 h"), name="gone", file_name="gone.musicxml")
    assert ShelfPages(table.context).hand_in(entry) == ()


def test_the_chosen_tune_of_the_shelf_says_where_the_hand_goes(table, monkeypatch):
    """In position I of the waltz there are two ways up to V and back."""
    said = []
    monkeypatch.setattr(shelf_screen, "draw_words", lambda *given: said.append(given[-1]))
    table.settle(position=1)
    table.context.session.last_opened = next(one for one in shipped_entries() if one.title == "The Blue Danube")
    table.go(ToShelf())
    table.wait(0.5)
    assert not said[0], "the first picture comes at once"
    assert tell(said[-1][0]) == "The hand: I, bar 18 to V, bar 19 back to I and 2 more"
    table.key(pygame.K_HOME)
    assert said[-1] == ()


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
