"""The account of what was not read: every file with its whole reason, on as many pages as it takes."""

import pygame
import pytest

from game.desk.fitted_text import fitted_px
from game.desk.sheet import SMALLEST
from game.desk.typography import text_width, wrapped
from game.message import message
from game.screens.choosing.import_words import fault_told
from game.screens.choosing.shelf_keys import shelf_hints
from game.screens.keys_sheet import keys_of
from game.screens.routes import ToFreshLine, ToImportAccount, ToShelf
from game.screens.window_size import ORDINARY
from game.text.language import languages
from game.tunes.library.import_queue import ImportQueue
from game.tunes.library.import_results import ImportDone, ImportRefused
from game.tunes.library.library import shipped_entries
from tests.sampling import sample
from tests.screens.table import Table
from tests.speaking import speaking

TEN = (
    message("tune.empty", file="01 empty.abc"),
    message("tune.unknown_format", file="02 prose.abc"),
    message("musicxml.broken", file="03 cut short.xml", line=120, column=3),
    message("tune.cannot_be_unpacked", file="04 damaged.mxl"),
    message("midi.ends_too_early", file="05 cut short.mid"),
    message("transfer.no_plain_file", file="06.mid", kind=message("transfer.is_pipe")),
    message("musicxml.defines_entities", file="07.xml"),
    message("musicxml.nothing_in_common", file="08.xml", bar="12"),
    message("tune.reader_too_slow", file="09.xml", limit_s=30.0, limit_mb=1000),
    message("tune.no_notes", file="x" * 199 + "…"),
)


@pytest.mark.parametrize("size", sample([SMALLEST, ORDINARY, (3840, 2160)], by_default=1))
@pytest.mark.parametrize("language", sample(languages(), by_default=1))
def test_ten_reasons_stand_there_whole_and_none_is_cut(tmp_path, size, language):
    """On as many pages as it takes, each as large as the last and every line within the paper."""
    with speaking(language):
        table = Table(tmp_path, size=size)
        table.go(ToImportAccount(ImportDone(entries=shipped_entries()[:2], files=12, faults=TEN)))
        screen, px = table.screen, table.screen._px
        assert [one.text for page in screen.pages for one in page] == [fault_told(fault) for fault in TEN]
        for page in screen.pages:
            assert fitted_px(page, screen._room, px) == px
            for one in page:
                lines = wrapped(one.text, one.face, px, screen._room.width)
                assert all(text_width(line, one.face, px) <= screen._room.width for line in lines)


def test_ten_reasons_have_room_on_one_page_of_a_window_as_it_opens(table):
    table.go(ToImportAccount(ImportRefused(TEN[:-1])))
    assert len(table.screen.pages) == 1


def test_pages_are_turned_by_keys_and_wheel_and_not_beyond_the_last(table):
    table.go(ToImportAccount(ImportRefused(TEN * 6)))
    last = len(table.screen.pages) - 1
    pictures = {table.picture()}
    for key in (pygame.K_DOWN, pygame.K_PAGEDOWN, pygame.K_RIGHT):
        table.key(key)
        pictures.add(table.picture())
    assert (table.screen.page, len(pictures)) == (3, 4)
    for _ in range(last + 3):
        table.app.step([pygame.event.Event(pygame.MOUSEWHEEL, y=-1)])
    assert table.screen.page == last
    for _ in range(last + 3):
        table.key(pygame.K_UP)
    assert table.screen.page == 0
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"


def test_a_folder_with_damaged_files_leads_to_their_reasons_and_a_key_brings_them_back(table, tmp_path):
    """At once where the player sits before the shelf; the tunes that came stand on it."""
    folder = tmp_path / "tunes"
    folder.mkdir()
    (folder / "good.abc").write_text("X:1\nT:Ford\nM:4/4\nL:1/4\nK:C\nCDEF|\n")
    for name in ("bad 1.abc", "bad 2.abc"):
        (folder / name).write_text("strings")
    table.drop(folder)
    table.app.step([])
    assert table.screen_name == "ImportAccountScreen"
    assert [sentence[:9] for sentence in table.screen.sentences] == ["bad 1.abc", "bad 2.abc"]
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"
    assert any(entry.title == "Ford" for entry in table.screen.list.entries)
    table.key(pygame.K_u, "u")
    assert table.screen_name == "ImportAccountScreen"


def test_one_file_that_was_not_read_is_told_below_the_shelf_and_has_the_key_too(table, tmp_path):
    (tmp_path / "bad.abc").write_text("strings")
    table.key(pygame.K_u, "u")
    assert table.screen_name == "ShelfScreen"
    table.drop(tmp_path / "bad.abc")
    assert table.screen_name == "ShelfScreen"
    assert table.context.window.message.startswith("bad.abc: is not a music file we know")
    table.key(pygame.K_u, "u")
    assert table.screen_name == "ImportAccountScreen"


def test_in_a_take_nothing_comes_between_and_the_key_tells_it_afterwards(table, tmp_path):
    for name in ("bad 1.abc", "bad 2.abc"):
        (tmp_path / name).write_text("strings")
    table.go(ToShelf())
    table.go(ToFreshLine())
    page = table.screen
    assert page.in_take
    table.drop(tmp_path / "bad 1.abc", tmp_path / "bad 2.abc")
    assert table.screen is page
    table.go(ToShelf())
    table.key(pygame.K_u, "u")
    assert table.screen_name == "ImportAccountScreen"


@pytest.mark.parametrize("language", languages())
def test_the_shelf_tells_all_its_keys_also_while_files_are_read_and_after_some_were_not(
    tmp_path, language, monkeypatch
):
    """In the smallest window: what has no room at its foot stands on the sheet of all keys; instruments come last."""
    with speaking(language):
        table = Table(tmp_path, size=SMALLEST)
        table.context.window.imports.refused = ImportRefused(TEN)
        table.go(ToShelf())
        monkeypatch.setattr(ImportQueue, "busy", property(lambda _: True))
        table.app.draw()
        clicked = {press.key for _, press in table.context.window._boxes}
        hints = shelf_hints(typing=False, searched=False, reading=True, refused=True)
        told = {hint.labels for hint in keys_of(table.context)}
    assert {hint.labels for hint in hints} <= told
    assert {press.key for hint in hints[:-1] for press in hint.presses} <= clicked
