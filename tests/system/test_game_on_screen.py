"""The game as its player has it: a process of its own in a window, a guitar played into it by another process, and what
it made of that in the practice log and on the screen.

No pickup's dirt is told apart here, nor a slide, which are matters of milliseconds: a busy computer does not keep them.
"""

from pathlib import Path

import pygame
import pytest

from game.desk.neck_drawing import NeckDrawing
from game.instrument.decoding.dirt import NO_LIMITS
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import write_take
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place
from game.screens.reading.page_layout import PageLayout
from game.text.catalogue import say
from tests.commands.running import answer
from tests.sampling import only_where_all_is_run
from tests.system.game_on_screen import SIZE, Game, game_on, keep_settings
from tests.system.ode_to_joy import (
    FAULTS,
    GUITAR,
    TUNE,
    TUNE_TITLE,
    elsewhere,
    first_passage,
    next_string,
    open_first_passage,
    wait_for_guitar,
    without_midi,
)
from tests.system.pickup import pickup, plucked
from tests.system.waiting import played_anew
from tests.system.words_on_screen import PAGE_TITLE, SHELF_TITLE, SLIP, stands

pytestmark = pytest.mark.system

MAP = standard_map()
ENDINGS = "SELECT judgement FROM judgement"


def with_three_faults(homes: list[Place]) -> tuple[list[Place], dict[int, str]]:
    """The line with two wrong pitches, each put right, and one right pitch elsewhere; what the result must show."""
    played = [*homes[:2], next_string(homes[2]), *homes[2:5], next_string(homes[5]), *homes[5:8]]
    return [*played, elsewhere(homes[8]), *homes[9:]], {3: "wrong pitch", 6: "wrong pitch", 9: "other place"}


def is_paper_with_music(picture: pygame.Surface) -> bool:
    """Warm paper over most of the window, ink on it, a little blue-black where notes were read, a little accent."""

    def near(colour, reach):
        return pygame.mask.from_threshold(picture, colour, (reach, reach, reach, 255)).count()

    area = picture.get_width() * picture.get_height()
    return (
        near((250, 244, 231), 4) > 0.6 * area
        and near((32, 29, 26), 25) > 0.004 * area
        and near((30, 66, 132), 25) > 100
        and near((184, 72, 44), 45) > 20
    )


def shows_the_three_faults(game: Game, faults: dict[int, str]) -> None:
    game.wait_for_rows(ENDINGS, 1)
    game.wait_for_picture(is_paper_with_music, "the page with its marks")
    assert dict(game.log(FAULTS)) == faults


def plays_three_faults(jack, screen, home: Path) -> None:
    played, faults = with_three_faults(first_passage())
    keep_settings(home, limits=NO_LIMITS)
    with game_on(screen, home, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
        wait_for_guitar(game)
        open_first_passage(game)
        guitar.play(plucked(played, every_s=0.15))
        shows_the_three_faults(game, faults)
        assert game.log("SELECT count(*) FROM played") == [(len(played),)]


def test_a_guitar_played_into_the_game_shows_just_the_three_faults_that_were_played(jack, screen, tmp_path):
    played_anew(lambda home: plays_three_faults(jack, screen, home), tmp_path)


def test_the_same_by_mouse_on_the_neck_in_a_window_that_is_made_smaller_and_larger_in_the_middle_of_the_take(
    screen, tmp_path
):
    played, faults = with_three_faults(first_passage())
    # Where the page draws the neck, in a window of this size, left of the notes in work.
    room = PageLayout(width=1280, height=720, column=True, neck=True).neck_room
    neck = NeckDrawing(room=pygame.Rect(*map(round, room)), neck_map=MAP)
    clicked = [neck.centre_of(place) for place in played]
    with game_on(screen, tmp_path, without_midi()) as game:
        open_first_passage(game)
        game.clicks(clicked[:5])
        window = game.xdotool("search", "--onlyvisible", "--class", "homefret").split()[0]
        for size in ((1000, 620), SIZE):
            game.xdotool("windowsize", "--sync", window, *size)
            game.wait_for_picture(lambda picture, size=size: is_page_of(picture, size), f"the page in {size}")
        game.clicks(clicked[5:])
        shows_the_three_faults(game, faults)
        game.keys("Escape")
        game.wait_for_words(SHELF_TITLE, say("shelf.title"))


def is_page_of(picture: pygame.Surface, size: tuple[int, int]) -> bool:
    """Whether a window of this size, in the upper left corner of the screen, shows the page."""
    return stands(picture.subsurface((0, 0), size), PAGE_TITLE, TUNE_TITLE)


def test_the_same_from_files(tmp_path):
    played, faults = with_three_faults(first_passage())
    notes = [
        PlayedNote(started_s=0.25 * index, sounding=STANDARD.sounding(place), place=place)
        for index, place in enumerate(played)
    ]
    write_take(tmp_path / "take.mid", notes)
    read = answer("take", TUNE, tmp_path / "take.mid", "--stage", "places")
    assert {v["n"]: v["verdict"] for v in read["verdicts"] if v["verdict"] not in ("clean", "unread")} == faults


def vanishes_in_a_take(jack, screen, home: Path) -> None:
    homes = first_passage()
    keep_settings(home, limits=NO_LIMITS)
    with game_on(screen, home, jack) as game:
        open_first_passage(game)
        with pickup(jack, "--to", "Homefret") as guitar:
            guitar.play(plucked(homes[:6], every_s=0.15))
        game.wait_for_words(SLIP, say("page.waits", device=GUITAR))
        with pickup(jack, "--to", "Homefret") as guitar:
            wait_for_guitar(game, SLIP)
            guitar.play(plucked(homes[6:], every_s=0.15))
            game.wait_for_rows(ENDINGS, 1)
        assert game.log(FAULTS) == []
        assert game.log("SELECT outcome FROM judgement") == [("finished",)]


@only_where_all_is_run("it takes a quarter of a minute")
def test_a_guitar_that_vanishes_in_a_take_makes_it_wait_and_the_take_is_finished_when_it_is_back(
    jack, screen, tmp_path
):
    played_anew(lambda home: vanishes_in_a_take(jack, screen, home), tmp_path)
