"""A folder as it lies on somebody's disk, dropped on the window of the running game."""

import os
from pathlib import Path

import pygame
import pytest

from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.desk.typography import Face, rendered, wrapped
from game.screens.choosing.import_words import fault_told
from game.text.catalogue import say
from game.tunes.library.adding import Adder, files_in
from game.tunes.library.import_results import NotAdded
from tests.sampling import only_where_all_is_run
from tests.system.damaged_tunes import DAMAGED, GOOD, damaged_folder
from tests.system.game_on_screen import game_on
from tests.system.ode_to_joy import without_midi
from tests.system.words_on_screen import BELOW_TITLE, PAGE_TITLE, SHELF_TITLE, TITLE, stands_at

pytestmark = pytest.mark.system


def on_shelf(home: Path) -> int:
    """How many tunes of the player's own there are."""
    return len(list((home / "data" / "homefret" / "library").glob("*.tune.json")))


def reasons_for(folder: Path, library: Path) -> list[str]:
    """Why the files that stand in the folder itself are not read, in their order."""
    with Adder(folder=library) as adder:
        came = [one for path in files_in(sorted(folder.iterdir())).files for one in adder.added(path)]
    return [fault_told(one.fault) for one in came if isinstance(one, NotAdded)]


def not_standing(reasons: list[str], picture: pygame.Surface) -> list[str]:
    """The lines of the reasons that do not stand on the account, one below the other."""
    sheet = Sheet(picture.get_size())
    px, y = sheet.px(22), sheet.text_area.top + sheet.px(100)
    missing = []
    for reason in reasons:
        for line in wrapped(reason, Face.TEXT, px, sheet.text_area.width):
            if not stands_at(picture, rendered(line, Face.TEXT, px, PAPER.ink), (sheet.text_area.left, y)):
                missing.append(line)
            y += round(1.25 * px)
        y += round(0.24 * px)
    return missing


def file_of_an_old_archive(folder: Path) -> Path:
    """A tune in a file whose name is not UTF-8."""
    path = Path(os.fsdecode(os.fsencode(folder) + b"/caf\xe9.abc"))
    path.write_bytes(b"X:1\nT:The Ford\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|\n")
    return path


@only_where_all_is_run("it takes a quarter of a minute")
def test_of_two_hundred_files_those_that_can_be_read_stand_on_the_shelf_and_the_others_are_named_with_their_reason(
    screen, tmp_path
):
    """Ten are damaged in ten ways. Every reason stands on the page whole. The game goes on, and reads a file whose name
    is not UTF-8 like any other.
    """
    folder = damaged_folder(tmp_path / "disk")
    with game_on(screen, tmp_path, without_midi(), module="tests.system.game_with_drops") as game:
        game.drop(folder)
        game.wait_for_words(TITLE, say("import_account.title"))
        game.wait_for_words(BELOW_TITLE, say("import_account.came", count=GOOD, refused=len(DAMAGED)))
        assert on_shelf(tmp_path) == GOOD
        reasons = reasons_for(folder, tmp_path / "other library")
        assert len(reasons) == len(DAMAGED)
        assert not_standing(reasons, game.picture()) == []
        game.keys("Escape")
        game.wait_for_words(SHELF_TITLE, say("shelf.title"))
        game.drop(file_of_an_old_archive(tmp_path))
        game.wait_for_words(PAGE_TITLE, "The Ford")
        assert on_shelf(tmp_path) == GOOD + 1
