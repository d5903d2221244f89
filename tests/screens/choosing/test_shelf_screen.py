"""The shelf on screen: searched as it is typed, sorted by one key, and after a folder was dropped on it."""

import pygame
import pytest

from game.coach.notes.items import ItemKey, map_name
from game.coach.notes.slow_notes import SlowHome
from game.coach.stages import Stage
from game.music.accidentals import AlteredBy
from game.screens.routes import ToShelf
from game.tunes.library.import_queue import ImportQueue
from game.tunes.library.import_results import PartsToChoose
from game.tunes.library.library import offered, shelf
from game.tunes.library.shelf_order import ShelfOrder, found, ordered
from tests.screens.tune_files import tune_file, tune_folder


def titles(table):
    return [entry.title for entry in table.screen.list.entries]


def test_a_search_is_typed_after_a_stroke_and_narrows_the_shelf(table):
    """Letters are words then: M does not lead to the map."""
    before = table.picture()
    table.key(pygame.K_SLASH, "/")
    table.letters("moun")
    assert titles(table) == [title for title in titles(table) if "mountain" in title.lower()] != []
    assert table.screen_name == "ShelfScreen"
    assert table.picture() != before
    table.key(pygame.K_RETURN)
    assert "Mountain" in table.context.session.last_opened.title


def test_control_f_begins_a_search_too_and_escape_shows_all_again(table):
    """The first Esc ends the search, the next one leads to Today."""
    everything = titles(table)
    table.key(pygame.K_f, "\x06", mod=pygame.KMOD_LCTRL)
    table.letters("xyz")
    assert titles(table) == []
    table.picture()
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_ESCAPE)
    assert titles(table) == everything
    assert table.screen_name == "ShelfScreen"
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


def test_one_key_goes_through_the_orders_and_the_page_says_which(table):
    """All of them, and back to how the tunes were put there; each has another picture."""
    put = titles(table)
    pictures = {table.picture()}
    for order in list(ShelfOrder)[1:]:
        table.key(pygame.K_o, "o")
        assert table.screen.list.order is order
        neck_map = table.context.settings.neck_map()
        assert titles(table) == [entry.title for entry in ordered(offered(shelf(), ()), order, neck_map)]
        pictures.add(table.picture())
    table.key(pygame.K_o, "o")
    assert titles(table) == put
    assert len(pictures) == len(ShelfOrder)


def test_a_folder_dropped_on_the_shelf_is_shown_by_what_to_read_next(table, tmp_path):
    """Nothing is opened by itself; the sentence says how many came."""
    table.drop(tune_folder(tmp_path))
    assert table.screen_name == "ShelfScreen"
    assert table.screen.list.order is ShelfOrder.NEXT
    assert "3 tunes are on the shelf." in table.context.window.message
    mine = [title for title in titles(table) if title in ("Zeal", "Quay", "Rill")]
    assert mine == ["Zeal", "Rill", "Quay"]


def test_what_was_opened_comes_after_what_was_never_seen(table):
    """In the order of what to read next."""
    table.go(ToShelf())
    table.key(pygame.K_o, "o")
    first = titles(table)[0]
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    table.key(pygame.K_ESCAPE)
    assert titles(table)[0] != first
    assert titles(table)[-1] == first


def test_notes_that_are_slow_move_their_tunes_back(table):
    """As the plan names them, where there is mastery to ask."""

    class PlayerNotes:
        def slow(self, neck_map):
            home = neck_map.home_of(slow)
            key = ItemKey(
                written="C4", shown=AlteredBy.NOTHING, map_name=map_name(neck_map), place=home.place, sounding=slow
            )
            return (SlowHome(key=key, find_s=9.0, cost_s=9.0),)

    table.key(pygame.K_o, "o")
    easiest = table.screen.list.entries[0]
    slow, _ = max(easiest.counts, key=lambda counted: counted[1])
    vars(table.context.session)["notes"] = PlayerNotes()
    for _ in ShelfOrder:
        table.key(pygame.K_o, "o")
    assert table.screen.list.order is ShelfOrder.NEXT
    assert table.screen.list.entries[0] != easiest
    table.picture()


def test_folders_may_be_dropped_during_a_take(table, tmp_path):
    """The take goes on; the tunes are there afterwards."""
    table.open("F4 q, G4 q, A4 h")
    table.play(53)
    page = table.screen
    table.drop(tune_folder(tmp_path))
    assert table.screen is page
    assert page.take.asked.n == 2
    assert {"Zeal", "Quay", "Rill"} <= {entry.title for entry in shelf()}


def test_order_and_search_are_still_there_after_a_page(table):
    """And the tune that was opened is the one chosen; Esc shows all again before it leaves."""
    table.go(ToShelf())
    table.key(pygame.K_o, "o")
    table.key(pygame.K_o, "o")
    table.key(pygame.K_SLASH, "/")
    table.letters("s")
    table.key(pygame.K_DOWN)
    listed, chosen = titles(table), table.screen.list.chosen
    assert len(listed) > 2
    assert chosen == 1
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    table.key(pygame.K_ESCAPE)
    assert (titles(table), table.screen.list.order, table.screen.list.chosen) == (listed, ShelfOrder.TITLE, chosen)
    table.key(pygame.K_ESCAPE)
    assert table.app.running
    assert titles(table) == sorted(titles(table), key=str.casefold)
    assert len(titles(table)) > len(listed)
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


def test_a_search_that_was_left_can_be_gone_on_with(table):
    """Letters are commands again after a page, until the search is begun anew."""
    table.key(pygame.K_SLASH, "/")
    table.letters("m")
    table.key(pygame.K_RETURN)
    table.key(pygame.K_ESCAPE)
    table.key(pygame.K_m, "m")
    assert table.screen_name == "MapScreen"
    table.key(pygame.K_h, "h")
    table.key(pygame.K_SLASH, "/")
    table.key(pygame.K_o, "o")
    assert titles(table) == [entry.title for entry in found(shelf(), "mo")]
    assert 0 < len(titles(table)) < len(found(shelf(), "m"))


def test_the_game_opens_onto_something_to_read(table):
    assert table.screen_name == "ShelfScreen"
    assert len(shelf()) >= 3
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"


def test_arrows_choose_a_tune_and_a_second_click_opens_it(table):
    table.key(pygame.K_DOWN)
    assert table.screen.list.chosen == 1
    at = (300, table.screen._layout.baseline(2))
    table.click(at)
    assert table.screen.list.chosen == 2
    table.click(at)
    assert table.screen_name == "PlacesPage"


def test_a_file_dropped_on_the_shelf_is_opened_and_its_octave_stated(table, tmp_path):
    table.drop(tune_file(tmp_path, "Melody"))
    assert table.screen.request.score.title == "The Weir"
    assert "guitar octave" in table.context.window.message
    table.key(pygame.K_ESCAPE)
    assert "The Weir" in [entry.title for entry in shelf()]


def test_of_several_parts_the_player_chooses_one_by_its_number(table, tmp_path):
    table.drop(tune_file(tmp_path, "Flute", "Viol"))
    assert "1 Flute, 2 Viol" in table.context.window.message
    table.letters("2")
    table.wait_for_imports()
    assert table.screen.request.score.part == "Viol"


def test_a_file_that_is_no_music_is_refused_in_a_sentence_and_the_game_goes_on(table, tmp_path):
    path = tmp_path / "shopping.txt"
    path.write_text("strings, a capo", encoding="utf-8")
    before = shelf()
    table.drop(path)
    assert "shopping.txt" in table.context.window.message
    assert shelf() == before
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"


def test_a_dropped_tune_whose_order_was_a_choice_is_met_by_its_account(table, tmp_path):
    """The player sees in which order it is played before the first take. One that leaves no choice is opened."""
    path = tmp_path / "weir.abc"
    path.write_text("X:1\nT:Weir\nM:4/4\nL:1/4\nK:C\ncdef|[1 gabc'|[2 c'bag|\n")
    table.drop(path)
    table.wait_for_imports()
    assert table.screen_name == "ImportSummaryScreen"
    assert any(said.endswith("1-2, 1, 3.") for said in table.screen.sentences)


def test_files_chosen_in_the_window_of_the_system_are_read_as_if_dropped(table, tmp_path):
    import sys

    from game.screens.choosing.file_chooser import FileChooser

    path = tune_file(tmp_path, "Melody")
    table.context.window.chooser = FileChooser(
        (sys.executable, "-c", f"import json; print(json.dumps([{str(path)!r}]))")
    )
    table.key(pygame.K_o, mod=pygame.KMOD_CTRL)
    for _ in range(6000):
        table.wait(0.02)
        if table.screen_name != "ShelfScreen":
            break
        pygame.time.wait(20)
    assert table.screen_name in ("PlacesPage", "ImportSummaryScreen")


def test_from_the_shelf_one_key_opens_a_tune_at_first_sight(table):
    table.key(pygame.K_f)
    assert table.screen.request.stage is Stage.SIGHT
    assert table.screen.view.covered


def test_the_free_string_opens_the_chosen_tune_and_twice_leads_back(table):
    table.pluck_free_string(1)
    assert table.screen_name == "PlacesPage"
    table.go(ToShelf())
    table.pluck_free_string(2)
    assert table.screen_name == "TodayScreen"


def test_escape_leaves_the_reading_of_files_before_it_leads_back(table, monkeypatch):
    """What came stays; a search that is shown ends first."""
    left = []
    monkeypatch.setattr(ImportQueue, "busy", property(lambda _: not left))
    monkeypatch.setattr(ImportQueue, "leave", lambda _: left.append(True))
    table.key(pygame.K_SLASH, "/")
    table.letters("moun")
    table.key(pygame.K_ESCAPE)
    assert not left
    table.key(pygame.K_ESCAPE)
    assert (left, table.screen_name) == ([True], "ShelfScreen")
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


def test_escape_leaves_one_question_after_the_other_unanswered_before_it_leads_back(table, tmp_path):
    imports = table.context.window.imports
    imports.to_choose = PartsToChoose(tmp_path / "second.xml", ("Flute", "Viol"))
    imports._asked_later = [PartsToChoose(tmp_path / "first.xml", ("Oboe", "Viol"))]
    table.key(pygame.K_ESCAPE)
    assert imports.to_choose.path.name == "first.xml"
    assert table.context.window.message.startswith("first.xml has several parts")
    table.key(pygame.K_ESCAPE)
    assert (imports.to_choose, table.screen_name) == (None, "ShelfScreen")
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


def page_middle(table, row, number):
    left, top = table.screen._layout.page_at(row, number)
    unit = table.context.sheet.unit
    return (left + 11) * unit, (top + 15) * unit


def test_a_click_on_a_small_page_opens_those_bars(table):
    table.wait(0.2)
    table.click(page_middle(table, 2, 1))
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.index == 1
    assert table.context.session.last_opened == shelf()[2]


def test_arrows_pick_a_page_of_the_chosen_tune_and_enter_opens_it(table):
    for key in (pygame.K_DOWN, pygame.K_DOWN, pygame.K_RIGHT, pygame.K_RIGHT, pygame.K_LEFT, pygame.K_RETURN):
        table.key(key)
    assert table.screen.request.index == 1
    assert table.context.session.last_opened == shelf()[2]


def test_enter_goes_on_with_the_bars_that_were_practised_last(table):
    table.key(pygame.K_RIGHT)
    table.key(pygame.K_RETURN)
    table.play_through()
    table.go(ToShelf())
    table.wait(0.1)
    assert any("2" not in hint.labels and hint.meaning == "Go on" for hint in table.context.window.told_keys)
    table.key(pygame.K_RETURN)
    assert table.screen.request.index == 1


def test_pages_of_the_list_are_turned_by_keys_and_wheel_and_its_ends_are_a_key_away(table):
    rows, last = table.screen._layout.rows, len(offered(shelf(), ())) - 1
    table.key(pygame.K_PAGEDOWN)
    assert table.screen.list.chosen == rows
    table.app.step([pygame.event.Event(pygame.MOUSEWHEEL, y=-1)])
    assert table.screen.list.chosen == 2 * rows
    table.key(pygame.K_END)
    assert table.screen.list.chosen == last
    table.key(pygame.K_PAGEUP)
    assert table.screen.list.chosen == last - rows
    table.key(pygame.K_HOME)
    assert table.screen.list.chosen == 0


def test_an_own_tune_stands_before_the_book(table, tmp_path):
    assert shelf()[0].shipped
    table.drop(tune_file(tmp_path, "Melody"))
    table.go(ToShelf())
    assert titles(table)[0] == "The Weir"
    assert [entry.shipped for entry in table.screen.list.entries] == [False] + [True] * (len(offered(shelf(), ())) - 1)


def test_without_own_tunes_it_says_how_they_come(table, tmp_path):
    """In the place where the chosen tune is described later."""
    said = []
    from game.screens.choosing import shelf_drawing

    wanted = shelf_drawing.say("shelf.own_wanted")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(shelf_drawing, "shortened", lambda text, *_: said.append(text) or text)
        table.picture()
        assert wanted in said
        table.drop(tune_file(tmp_path, "Melody"))
        table.go(ToShelf())
        said.clear()
        table.picture()
        assert wanted not in said
