"""The shelf on screen: searched as it is typed, sorted by one key, and after a folder was dropped on it."""

import pygame
import pytest

from game.tunes.library.library import shelf
from game.tunes.library.shelf_order import ShelfOrder, found, ordered

ABC = "X:1\nT:{title}\nM:4/4\nL:1/4\nK:F\n{music}\n"


def titles(table):
    return [entry.title for entry in table.screen._entries]


def drop(table, *paths):
    table.app.step([pygame.event.Event(pygame.DROPFILE, file=str(path)) for path in paths])
    for _ in range(6000):
        table.app.step([])
        if not table.context.window.imports.busy:
            return
        pygame.time.wait(5)
    raise AssertionError("the files were never read")


@pytest.fixture
def tunes(tmp_path):
    folder = tmp_path / "mine"
    folder.mkdir()
    for title, music in (("Zeal", "F2G2|A4|"), ("Quay", "F^GA_d|^ce=g_b|"), ("Rill", "FAce|fcAF|")):
        (folder / f"{title}.abc").write_text(ABC.format(title=title, music=music))
    return folder


def picture(table) -> bytes:
    table.app.draw()
    return table.app.surface.get_view("2").raw


def test_a_search_is_typed_after_a_stroke_and_narrows_the_shelf(table):
    """Letters are words then: M does not lead to the map."""
    before = picture(table)
    table.key(pygame.K_SLASH, "/")
    table.letters("moun")
    assert titles(table) == [title for title in titles(table) if "mountain" in title.lower()] != []
    assert table.screen_name == "ShelfScreen"
    assert picture(table) != before
    table.key(pygame.K_RETURN)
    assert "Mountain" in table.context.session.last_opened.title


def test_control_f_begins_a_search_too_and_escape_shows_all_again(table):
    """The first Esc ends the search, the next one the game."""
    everything = titles(table)
    table.key(pygame.K_f, "\x06", mod=pygame.KMOD_LCTRL)
    table.letters("xyz")
    assert titles(table) == []
    picture(table)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_ESCAPE)
    assert titles(table) == everything
    assert table.app.running
    table.key(pygame.K_ESCAPE)
    assert not table.app.running


def test_one_key_goes_through_the_orders_and_the_page_says_which(table):
    """All of them, and back to how the tunes were put there; each has another picture."""
    put = titles(table)
    pictures = {picture(table)}
    for order in list(ShelfOrder)[1:]:
        table.key(pygame.K_o, "o")
        assert table.screen._order is order
        neck_map = table.context.settings.neck_map()
        assert titles(table) == [entry.title for entry in ordered(shelf(), order, neck_map)]
        pictures.add(picture(table))
    table.key(pygame.K_o, "o")
    assert titles(table) == put
    assert len(pictures) == len(ShelfOrder)


def test_a_folder_dropped_on_the_shelf_is_shown_by_what_to_read_next(table, tunes):
    """Nothing is opened by itself; the sentence says how many came."""
    drop(table, tunes)
    assert table.screen_name == "ShelfScreen"
    assert table.screen._order is ShelfOrder.NEXT
    assert "3 tunes are on the shelf." in table.context.window.message
    mine = [title for title in titles(table) if title in ("Zeal", "Quay", "Rill")]
    assert mine == ["Zeal", "Rill", "Quay"]


def test_what_was_opened_comes_after_what_was_never_seen(table):
    """In the order of what to read next."""
    table.key(pygame.K_o, "o")
    first = titles(table)[0]
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    table.key(pygame.K_ESCAPE)
    assert titles(table)[0] != first
    assert titles(table)[-1] == first


def test_notes_that_are_slow_move_their_tunes_back(table):
    """As the coach weighs them, where there is mastery to ask."""

    class PlayerNotes:
        def weights(self, neck_map):
            return {home.sounding: 9.0 if home.sounding == slow else 1.0 for home in neck_map.homes}

    table.key(pygame.K_o, "o")
    easiest = table.screen._entries[0]
    slow = easiest.counts[0][0]
    vars(table.context.session)["notes"] = PlayerNotes()
    for _ in ShelfOrder:
        table.key(pygame.K_o, "o")
    assert table.screen._order is ShelfOrder.NEXT
    assert table.screen._entries[0] != easiest
    picture(table)


def test_folders_may_be_dropped_during_a_take(table, tunes):
    """The take goes on; the tunes are there afterwards."""
    table.open("F4 q, G4 q, A4 h")
    table.play(53)
    page = table.screen
    drop(table, tunes)
    assert table.screen is page
    assert page.take.asked.n == 2
    assert {"Zeal", "Quay", "Rill"} <= {entry.title for entry in shelf()}


def test_order_and_search_are_still_there_after_a_page(table):
    """And the tune that was opened is the one chosen; Esc shows all again before it leaves."""
    table.key(pygame.K_o, "o")
    table.key(pygame.K_o, "o")
    table.key(pygame.K_SLASH, "/")
    table.letters("s")
    table.key(pygame.K_DOWN)
    listed, chosen = titles(table), table.screen._chosen
    assert len(listed) > 2
    assert chosen == 1
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    table.key(pygame.K_ESCAPE)
    assert (titles(table), table.screen._order, table.screen._chosen) == (listed, ShelfOrder.TITLE, chosen)
    table.key(pygame.K_ESCAPE)
    assert table.app.running
    assert titles(table) == sorted(titles(table), key=str.casefold)
    assert len(titles(table)) > len(listed)
    table.key(pygame.K_ESCAPE)
    assert not table.app.running


def test_a_search_that_was_left_can_be_gone_on_with(table):
    """Letters are commands again after a page, until the search is begun anew."""
    table.key(pygame.K_SLASH, "/")
    table.letters("m")
    table.key(pygame.K_RETURN)
    table.key(pygame.K_ESCAPE)
    table.key(pygame.K_m, "m")
    assert table.screen_name == "MapScreen"
    table.key(pygame.K_ESCAPE)
    table.key(pygame.K_SLASH, "/")
    table.key(pygame.K_o, "o")
    assert titles(table) == [entry.title for entry in found(shelf(), "mo")]
    assert 0 < len(titles(table)) < len(found(shelf(), "m"))
