"""The game as its player has it: a process of its own in a window, a guitar played into it by another process, and what
it made of that in the practice log and on the screen.
"""

import os
import statistics
import time
from collections.abc import Iterator
from fractions import Fraction

import pygame
import pytest

from game.desk.neck_drawing import NeckDrawing
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import write_take
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place
from game.paths import shipped
from game.tunes.library.library import shipped_entries
from tests.commands.running import answer
from tests.system.game_on_screen import Game, a_screen, game_on
from tests.system.jack import jack_server
from tests.system.pickup import pickup, plucked

pytestmark = pytest.mark.system

(TUNE,) = shipped("content", "tunes").glob("*ode-to-joy.musicxml")
SHELF_ROW = [entry.file_name for entry in shipped_entries()].index(TUNE.name)
MAP = standard_map()
SIZE = (1280, 720)


@pytest.fixture(scope="module")
def jack(tmp_path_factory):
    with jack_server(tmp_path_factory.mktemp("jack")) as environment:
        yield environment


@pytest.fixture
def screen(tmp_path) -> Iterator[str]:
    with a_screen(tmp_path) as display:
        yield display


VERDICTS = """
SELECT n, verdict FROM verdict JOIN judgement USING (judgement) WHERE verdict != 'clean' ORDER BY judgement, n
"""
ENDINGS = "SELECT judgement FROM judgement"


def first_passage() -> list[Place]:
    """The homes of the first four bars, told by the `score` command."""
    notes = [note for note in answer("score", TUNE)["notes"] if note["bar"] in ("1", "2", "3", "4")]
    return [Place(note["string"], note["fret"]) for note in notes]


def with_three_faults(homes: list[Place]) -> tuple[list[Place], dict[int, str]]:
    """The line with two wrong pitches, each put right, and one right pitch elsewhere; what the result must show."""
    elsewhere = next(p for p in STANDARD.places_of(STANDARD.sounding(homes[8]), 22) if p != homes[8])
    played = [*homes[:2], Place(homes[2].string, homes[2].fret + 1), *homes[2:5]]
    played += [Place(homes[5].string, homes[5].fret - 1), *homes[5:8], elsewhere, *homes[9:]]
    return played, {3: "wrong pitch", 6: "wrong pitch", 9: "other place"}


def open_first_passage(game: Game) -> None:
    game.key(*["Down"] * SHELF_ROW, "Return")
    time.sleep(0.7)


def is_paper_with_music(picture: pygame.Surface) -> None:
    """Warm paper over most of the window, ink on it, a little blue-black where notes were read, a little accent."""

    def near(colour, reach):
        return pygame.mask.from_threshold(picture, colour, (reach, reach, reach, 255)).count()

    area = picture.get_width() * picture.get_height()
    assert near((250, 244, 231), 4) > 0.6 * area
    assert near((32, 29, 26), 25) > 0.004 * area
    assert near((30, 66, 132), 25) > 100
    assert near((184, 72, 44), 45) > 20


def test_a_guitar_played_into_the_game_shows_just_the_three_faults_that_were_played(jack, screen, tmp_path):
    homes = first_passage()
    played, faults = with_three_faults(homes)
    with game_on(screen, tmp_path, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
        open_first_passage(game)
        game.picture(tmp_path / "page.png")
        guitar.play(plucked(played, every_s=0.25))
        game.wait_for(ENDINGS, 1)
        time.sleep(1.0)
        is_paper_with_music(game.picture(tmp_path / "result.png"))
        assert dict(game.log(VERDICTS)) == faults
        assert game.log("SELECT count(*) FROM played") == [(len(played),)]


def test_the_same_by_mouse_on_the_neck(screen, tmp_path):
    homes = first_passage()
    played, faults = with_three_faults(homes)
    # Where the page draws the neck in a window of this size.
    neck = NeckDrawing(room=pygame.Rect(70, 694 - 236, 1140, 150), neck_map=MAP)
    with game_on(screen, tmp_path, {**os.environ, "HOMEFRET_MIDI_API": "alsa"}) as game:
        open_first_passage(game)
        for place in played:
            game.click(neck.centre_of(place))
        game.picture(tmp_path / "page.png")
        game.wait_for(ENDINGS, 1)
        time.sleep(1.0)
        is_paper_with_music(game.picture(tmp_path / "result.png"))
        assert dict(game.log(VERDICTS)) == faults


def test_the_same_from_files(tmp_path):
    played, faults = with_three_faults(first_passage())
    notes = [
        PlayedNote(started_s=0.25 * index, sounding=STANDARD.sounding(place), place=place)
        for index, place in enumerate(played)
    ]
    write_take(tmp_path / "take.mid", notes)
    read = answer("take", TUNE, tmp_path / "take.mid", "--stage", "places")
    assert {v["n"]: v["verdict"] for v in read["verdicts"] if v["verdict"] not in ("clean", "unread")} == faults


def test_a_guitar_that_vanishes_in_a_take_makes_it_wait_and_the_take_is_finished_when_it_is_back(
    jack, screen, tmp_path
):
    homes = first_passage()
    with game_on(screen, tmp_path, jack) as game:
        open_first_passage(game)
        for half in (homes[:6], homes[6:]):
            with pickup(jack, "--to", "Homefret") as guitar:
                guitar.play(plucked(half, every_s=0.2))
            time.sleep(1.5)
        game.wait_for(ENDINGS, 1)
        assert game.log(VERDICTS) == []
        assert game.log("SELECT outcome FROM judgement") == [("finished",)]


def test_the_window_can_be_made_smaller_and_larger_in_the_middle_of_a_take(screen, tmp_path):
    with game_on(screen, tmp_path, {**os.environ, "HOMEFRET_MIDI_API": "alsa"}) as game:
        open_first_passage(game)
        window = game.xdotool("search", "--onlyvisible", "--class", "homefret").split()[0]
        for width, height in ((1000, 620), (1280, 720)):
            game.xdotool("windowsize", "--sync", window, width, height)
            time.sleep(0.5)
        is_alive = game.process.poll() is None
        assert is_alive
        game.key("Escape", "Escape")
        assert game.process.wait(10) == 0


def test_a_take_against_the_count_in_has_the_lean_it_was_played_with(jack, screen, tmp_path):
    """The transport of JACK and the game's own turn are a few ms; the sender's first note begins the count-in."""
    notes = [note for note in answer("score", TUNE)["notes"] if note["bar"] in ("1", "2", "3", "4")]
    homes = [Place(note["string"], note["fret"]) for note in notes]
    with game_on(screen, tmp_path, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
        for take, lean_s in enumerate((0.045, -0.03), start=1):
            game.key(*(["Down"] * SHELF_ROW if take == 1 else []), "Return")
            time.sleep(0.7)
            if take == 1:
                # From places through rhythm to time, and the metronome now; after that the coach goes on from there.
                game.key("Tab", "Tab", "k")
            ((tempo,),) = game.wait_for("SELECT tempo_bpm FROM decision ORDER BY coach_event DESC LIMIT 1", 1)
            quarter_s = 60 / tempo
            begin_s, onset_0_s = 1.2, 1.2 + 0.25 + 4 * quarter_s
            sent = plucked(homes[:1], every_s=0.2, from_s=begin_s, delay=Delay())
            for note, home in zip(notes, homes, strict=True):
                at_s = onset_0_s + float(Fraction(note["onset"])) * quarter_s + lean_s
                sent += plucked([home], every_s=0.1, from_s=at_s, delay=Delay())
            guitar.play(sent)
            game.wait_for(ENDINGS, take)
            time.sleep(0.5)
            if take == 1:
                game.picture(tmp_path / "timed-result.png")
            offsets = game.log(
                "SELECT offset_ms FROM verdict WHERE judgement = (SELECT max(judgement) FROM judgement) ORDER BY n"
            )
            assert len(offsets) == len(homes)
            bias_ms = statistics.median(offset for (offset,) in offsets)
            assert bias_ms == pytest.approx(1000 * lean_s, abs=12)
            game.key("Escape")
        assert game.log("SELECT count(*) FROM verdict WHERE verdict NOT IN ('clean', 'late', 'early')") == [(0,)]
