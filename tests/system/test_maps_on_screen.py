"""A map is found for a player's own sheets, changed by playing, printed; and a second one is learned and mixed in.

The game runs in its window, and a pickup plays into it through JACK. The weeks between are in the log: see
`tests.system.fluent_weeks`.
"""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from pypdf import PdfReader

from game.clock import HandClock, wall_time
from game.coach.notes.map_identity import map_key
from game.coach.numbers import NUMBERS
from game.desk.theme import PAPER
from game.desk.typography import Face
from game.instrument.decoding.dirt import NO_LIMITS
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.player.session import open_session
from game.player.settings import Settings
from game.player.settings_file import load
from game.screens.setup.map_words import named, note_and_line, place_told, plainly_written
from game.text.catalogue import say
from tests.sampling import only_where_all_is_run
from tests.system.fluent_weeks import profile_of, read_well
from tests.system.game_on_screen import Game, begun_game, game_on, keep_settings, settings_of
from tests.system.lead_sheets import SHEETS, folder_of_lead_sheets
from tests.system.ode_to_joy import wait_for_guitar
from tests.system.pickup import Pickup, pickup, plucked
from tests.system.waiting import found_within, wait_until
from tests.system.words_on_screen import SLIP, TODAY_TITLE, Line, stands

pytestmark = [pytest.mark.system, only_where_all_is_run("it takes a minute")]

SEARCHED = range(1, 13)
REASONS = Line(face=Face.TITLE, units=25, colour=PAPER.ink, baseline=334, right=730)
NEXT_MAP_TITLE = Line(face=Face.TITLE, units=44, colour=PAPER.ink, baseline=92)
MAP_TITLE = Line(face=Face.TITLE, units=42, colour=PAPER.ink, baseline=116)
LOOKED_AT = Line(face=Face.TITLE, units=26, colour=PAPER.ink, baseline=342, right=810, breaks=True)
"""The heading beside the neck while a note is looked at."""
ASKED = Line(face=Face.TEXT, units=22, colour=PAPER.ink, baseline=342, right=810, breaks=True)
"""What a change would be, while it is asked for."""
PLUCKS = 3
LOST_AFTER_S = 20.0
"""What a pluck leads to is there by then, unless the game never heard of it."""

Found = TypeVar("Found")


def map_of(home: Path) -> NeckMap:
    """The map in the settings of the player of a game."""
    return load(settings_of(home)).settings.neck_map()


def on_shelf(home: Path) -> int:
    return len(list((home / "data" / "homefret" / "library").glob("*.tune.json")))


def find_a_map(game: Game, home: Path) -> NeckMap:
    """From the shelf: the second best position for all tunes, its reasons read, and taken."""
    game.keys("m")
    game.wait_for_words(MAP_TITLE, say("map.title"))
    game.keys("1")
    game.wait_for_words(MAP_TITLE, say("map.best.title"))
    first, before = position_of_reasons(game), map_of(home)
    game.keys("Down")
    chosen = wait_until(lambda: (now := position_of_reasons(game)) != first and now, "the reasons of another position")
    game.keys("Return", "Return")
    found = wait_until(lambda: (now := map_of(home)) != before and now, "another map in the settings")
    assert found.position == chosen
    return found


def position_of_reasons(game: Game) -> int:
    """The position whose reasons stand on the screen."""

    def look() -> int:
        picture = game.picture()
        told = (say("map.best.reasons", position=roman(one)) for one in SEARCHED)
        return next((one for one, words in zip(SEARCHED, told, strict=True) if stands(picture, REASONS, words)), 0)

    return wait_until(look, "the reasons of a position")


def movable(neck_map: NeckMap) -> Place:
    """Another place within reach for one of its notes."""
    reach = range(neck_map.hand.lowest_fret(neck_map.position), neck_map.hand.highest_fret(neck_map.position) + 1)
    for home in neck_map.homes:
        for place in neck_map.tuning.places_of(home.sounding, neck_map.frets):
            if place != home.place and place.fret in reach:
                return place
    raise AssertionError("no note of this map has another place within reach")


def move_by_plucking(game: Game, guitar: Pickup, home: Path, place: Place, free: Place) -> None:
    """The place is plucked, which shows it; the free open string asks, and once more says yes."""
    before = map_of(home)
    sounding, names = before.tuning.sounding(place), Settings().note_names
    shown = note_and_line(plainly_written(sounding, before), names)
    asked = place_told("move", place, note=named(sounding, before, names))
    pluck_until(guitar, place, lambda: stands(game.picture(), LOOKED_AT, shown), f"{shown!r} on the screen")
    pluck_until(guitar, free, lambda: stands(game.picture(), ASKED, asked), f"{asked!r} on the screen")
    moved = pluck_until(guitar, free, lambda: (now := map_of(home)) != before and now, "a moved home in the settings")
    assert moved.places == before.places | {sounding: place}
    assert game.process.poll() is None


def pluck_until(guitar: Pickup, place: Place, look: Callable[[], Found], what: str) -> Found:
    """Pluck a place for what comes of it. A server that a busy computer keeps waiting loses a message now and then: of
    what is not there long afterwards the game heard nothing, and it is plucked again.
    """
    for _ in range(PLUCKS):
        guitar.play(plucked([place], every_s=0.5))
        if found := found_within(LOST_AFTER_S, look):
            return found
    raise AssertionError(f"{what} never came, though {place} was plucked {PLUCKS} times")


def chart_printed(game: Game, home: Path) -> None:
    game.keys("Escape", "4")
    found = wait_until(lambda: list(home.glob("homefret-*.pdf")), "the chart")
    page = wait_until(lambda: whole_page(found[0]), "the whole chart")
    assert roman(map_of(home).position) in page.extract_text()


def whole_page(path: Path):
    """The only page of a PDF, None while it is being written."""
    if not path.read_bytes().rstrip().endswith(b"%%EOF"):
        return None
    (page,) = PdfReader(path).pages
    return page


def test_a_map_is_found_for_twenty_sheets_moved_by_plucking_printed_and_a_second_one_learned_and_mixed_in(
    jack, screen, tmp_path
):
    # What comes late through a busy computer may look like what a pickup sends and nobody played.
    keep_settings(tmp_path, limits=NO_LIMITS)
    with game_on(screen, tmp_path, jack, module="tests.system.game_with_drops") as game:
        game.drop(folder_of_lead_sheets(tmp_path / "sheets"))
        # Once all that was dropped is read, the shelf comes.
        game.wait_for_words(SLIP, say("shelf.added_many", count=SHEETS))
        assert on_shelf(tmp_path) == SHEETS
        found = find_a_map(game, tmp_path)
        assert found.free_string is not None
        with pickup(jack, "--to", "Homefret") as guitar:
            wait_for_guitar(game)
            move_by_plucking(game, guitar, tmp_path, movable(found), found.free_string)
        chart_printed(game, tmp_path)
    first = map_of(tmp_path)
    today = wall_time()
    read_well(tmp_path, first, (today - timedelta(days=before) for before in (4, 3, 2, 1)))
    second = next_map_taken(screen, tmp_path, jack)
    assert map_key(second) != map_key(first)
    read_well(tmp_path, second, (today + timedelta(days=after) for after in (1, 2, 3, 4)))
    later = 5
    while (today.toordinal() + later) % NUMBERS.mixed_of_days >= NUMBERS.mixed_most:
        later += 1
    assert both_are_read(screen, tmp_path, jack, later) == {first.position, second.position}


def next_map_taken(screen, home: Path, environment: dict[str, str]) -> NeckMap:
    """Today says that the map is fluent; the first of the proposed maps is learned from then on."""
    before = map_of(home)
    with begun_game(screen, home, {**environment, "SDL_AUDIODRIVER": "dummy"}, "-m", "game") as game:
        game.wait_for_words(TODAY_TITLE, say("today.title"))
        game.keys("Tab")
        game.wait_for_words(NEXT_MAP_TITLE, say("next_map.title"))
        game.keys("Return")
        return wait_until(lambda: (now := map_of(home)) != before and now, "the next map in the settings")


def both_are_read(screen, home: Path, environment: dict[str, str], later: int) -> set[int]:
    """On a later day a step of today takes turns: the positions of the maps on which its lines were begun."""
    session = open_session(profile_of(home), HandClock(), now=lambda: wall_time() + timedelta(days=later))
    try:
        steps = session.plan.progress.steps
    finally:
        session.close()
    row = next(number for number, step in enumerate(steps) if len(step.maps) > 1)
    words = {**environment, "SDL_AUDIODRIVER": "dummy", "DAYS_LATER": str(later)}
    module = "tests.system.game_on_a_later_day"
    place = map_of(home).homes[0].place
    with begun_game(screen, home, words, "-m", module) as game, pickup(environment, "--to", "Homefret") as guitar:
        before = len(positions_played(home))
        game.wait_for_words(TODAY_TITLE, say("today.title"))
        wait_for_guitar(game)
        game.keys(*["Down"] * row)
        for takes in (before + 1, before + 2):
            game.keys("Return")
            read_a_line(guitar, home, place, takes)
        return set(positions_played(home)[before:])


def read_a_line(guitar: Pickup, home: Path, place: Place, takes: int) -> None:
    """The line on the page, as the take that makes so many in the log."""
    # Any note begins the take, and the log knows then where the notes of the line are at home.
    wait_until(lambda: begins(guitar, home, place, takes), "a line that is begun")
    line = homes_of_newest(home)
    for _ in range(PLUCKS):
        before = heard(home)
        guitar.play(plucked(line, every_s=0.3))
        if found_within(LOST_AFTER_S, lambda: judged(home) == takes):
            return
        # The page waits for a note that the server lost: the line is played again.
        assert heard(home) - before < len(line), "all of a line was heard, and it is not over"
    raise AssertionError(f"a line is not over that was played {PLUCKS} times")


def begins(guitar: Pickup, home: Path, place: Place, takes: int) -> bool:
    """Pluck a place; whether so many takes were begun then."""
    guitar.play(plucked([place], every_s=0.5))
    return len(positions_played(home)) == takes


def homes_of_newest(home: Path) -> list[Place]:
    """Where the notes of the newest take are at home."""
    newest = "SELECT string, fret FROM asked_note WHERE asked = (SELECT asked FROM take ORDER BY take DESC LIMIT 1)"
    return [Place(*row) for row in rows_of(home, f"{newest} ORDER BY n")]


def judged(home: Path) -> int:
    """How many takes are judged."""
    ((count,),) = rows_of(home, "SELECT count(DISTINCT take) FROM judgement")
    return count


def heard(home: Path) -> int:
    """How many notes were heard in all takes."""
    ((count,),) = rows_of(home, "SELECT count(*) FROM played")
    return count


def rows_of(home: Path, question: str) -> list[tuple]:
    """What the player's log answers."""
    with closing(sqlite3.connect(profile_of(home).log_path)) as log:
        return log.execute(question).fetchall()


def positions_played(home: Path) -> list[int]:
    """The positions of the maps of all takes in the log, in their order."""
    rows = rows_of(home, "SELECT position FROM take JOIN neck_map USING (neck_map) ORDER BY take")
    return [position for (position,) in rows]
