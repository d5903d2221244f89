"""Files that come onto the shelf."""

import pygame

from game.message import message
from game.screens.choosing.shelf_files import ShelfFiles
from game.screens.routes import ToImportAccount
from game.tunes.library.import_results import ImportRefused, PartsToChoose
from tests.screens.told_keys import told_keys


def key(text):
    return pygame.event.Event(pygame.KEYDOWN, key=ord(text), unicode=text, mod=0)


def test_the_keys_that_say_which_part_is_meant_are_told_while_that_is_asked(table, tmp_path):
    files = ShelfFiles(table.context)
    assert files.hints == ()
    assert not files.chose_part(key("1"))
    table.context.window.imports.to_choose = PartsToChoose(tmp_path / "two.musicxml", ("Flute", "Viol"))
    assert told_keys(files.hints) == {"1 2": "which part"}
    assert not files.chose_part(key("3"))
    assert files.chose_part(key("2"))


def test_several_files_that_were_not_read_are_accounted_for_once(table):
    files = ShelfFiles(table.context)
    assert files.account_of_refused() is None
    refused = ImportRefused((message("tune.empty", file="a.abc"), message("tune.empty", file="b.abc")))
    table.context.window.imports.refused = refused
    assert files.account_of_refused() == ToImportAccount(refused)
    assert files.account_of_refused() is None


def test_one_file_that_was_not_read_has_no_account_of_its_own(table):
    files = ShelfFiles(table.context)
    table.context.window.imports.refused = ImportRefused((message("tune.empty", file="a.abc"),))
    assert files.account_of_refused() is None
    assert files.refused is not None
