"""Whatever pages draw comes from the text catalogue: in the language of brackets no word of it is bare.

Titles of tunes, names of people, devices and files, notes, figures and what stands on keys are no words of ours.
"""

from dataclasses import replace

import pygame
import pytest

from game.coach.decisions import Offer
from game.coach.stages import Stage
from game.instrument.decoding.played import OffNeck
from game.neck.tuning import Place
from game.player.profiles import first_player
from game.player.settings import InstrumentKind, Settings
from game.screens.routes import (
    ToBook,
    ToMarking,
    ToPage,
    ToProgress,
    ToSettings,
    ToToday,
)
from tests.bare_words import without_brackets
from tests.sampling import sample
from tests.screens.drawn_text import bare
from tests.screens.progress.signed_pages import sign
from tests.screens.table import Table
from tests.screens.timed_pages import free_page, metronome_page, sight_request
from tests.screens.ways import request_of, some_routes

pytestmark = pytest.mark.usefixtures("in_brackets")


def test_what_is_caught_is_what_was_drawn(drawn, table):
    """Brackets are there, whole sentences are, and a word that is written in the sources would be seen."""
    table.picture()
    assert sum("«" in text for text in drawn.whole) > 10
    table.context.say("Nobody wrote this into the catalogue.")
    table.picture()
    assert bare(drawn) == {
        "Nobody wrote this into the catalogue.": ["Nobody", "wrote", "this", "into", "the", "catalogue"]
    }
    assert without_brackets("«Take »3« of »12") == " 3 12"


def test_every_screen(drawn, table, tmp_path):
    for name, route in some_routes(table, tmp_path, 0).items():
        table.go(route)
        assert table.screen_name == name
        table.picture()
    assert bare(drawn, "blue pickup", "blue interface", "Melody") == {}


def test_from_the_first_start_over_a_take_to_progress_and_settings(drawn):
    table = Table(profile=first_player())
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    table.play_through(each_s=0.6)
    table.key(pygame.K_RETURN)
    for key in (pygame.K_ESCAPE, pygame.K_t, pygame.K_RETURN):
        table.key(key)
    assert table.screen.request.planned
    table.play_through()
    table.go(ToToday())
    for _ in table.context.session.plan.progress.steps:
        table.key(pygame.K_BACKSPACE)
    table.picture()
    table.go(ToProgress())
    for _ in table.screen.chapters:
        table.key(pygame.K_RIGHT)
        table.picture()
    assert table.screen.chapters[1].dots
    sign(table, table.open("F4 q, G4 q, A4 q, G4 q", "A4 q, G4 q, F4 q, G4 q"))
    table.go(ToBook())
    table.picture()
    assert table.screen.pages
    for key in (pygame.K_TAB, pygame.K_TAB):
        table.picture()
        table.key(key)
    table.go(ToSettings())
    table.picture()
    assert bare(drawn) == {}


def test_a_take_in_places_with_all_that_can_be_said_of_it(drawn, tmp_path):
    table = Table(tmp_path, guitar=True)
    table.open("F4 q, G4 q, F#5 q, C2 q", "A4 q, Bb4 q, A4 h", key=-1)
    table.play(57)
    table.play(53, Place(6, 13))
    table.play(53)
    table.wait(4.5)
    table.key(pygame.K_F5)
    table.key(pygame.K_F5)
    table.picture()
    table.play(55)
    table.play(55, off_neck=OffNeck.BEYOND_FRETS)
    table.picture()
    table.screen.device_lost("blue pickup", was_playing=True)
    table.picture()
    table.screen.device_found("blue pickup")
    table.picture()
    table.key(pygame.K_F9)
    table.key(pygame.K_ESCAPE)
    table.open("F4 h, G4 h")
    table.play(65, place=False)
    table.picture()
    table.play(67, place=False)
    table.wait(1.0)
    table.picture()
    assert table.screen_name == "ResultScreen"
    assert bare(drawn, "blue pickup") == {}


@pytest.mark.parametrize("guitar", sample([False, True], by_default=1))
def test_naming(drawn, tmp_path, guitar):
    table = Table(tmp_path, guitar=guitar)
    table.go(ToPage(request_of(table, Stage.LETTERS), chosen=True))
    table.picture()
    if guitar:
        table.play(53)
        table.picture()
    table.letters("g")
    table.key(pygame.K_UP)
    table.picture()
    table.key(pygame.K_F5)
    table.picture()
    table.letters("fga")
    table.key(pygame.K_ESCAPE)
    table.picture()
    assert bare(drawn) == {}


def test_takes_in_time(drawn, table):
    page = metronome_page(table)
    table.play_in_time(offset_s=-0.04, wrong={3}, until=5)
    table.picture()
    table.key(pygame.K_SPACE, " ")
    table.picture()
    page.begin()
    table.wait(12.0, frame_s=0.05)
    table.picture()
    free_page(table, Stage.RHYTHM)
    table.key(pygame.K_F5)
    table.picture()
    table.play_through(each_s=0.4)
    table.picture()
    table.go(ToPage(sight_request(table), chosen=True))
    table.picture()
    table.key(pygame.K_SPACE)
    table.play_through(each_s=0.4)
    table.picture()
    assert table.screen_name == "ResultScreen"
    assert bare(drawn) == {}


@pytest.mark.parametrize("offer", sample(Offer, by_default=1))
def test_whatever_the_coach_offers(drawn, table, offer):
    table.open("F4 h, G4 h")
    table.play_through()
    table.screen.decision = replace(table.screen.decision, offer=offer)
    table.key(pygame.K_RETURN)
    table.picture()
    assert bare(drawn) == {}


def test_an_ordinary_guitar(drawn, tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    table.open("F4 h, G4 h")
    table.picture()
    for key in (pygame.K_RETURN, pygame.K_SPACE, pygame.K_SPACE, pygame.K_BACKSPACE):
        table.key(key)
        table.picture()
    assert table.screen_name == "ResultScreen"
    table.go(ToMarking(request_of(table, Stage.RHYTHM)))
    table.key(pygame.K_SPACE)
    table.picture()
    table.key(pygame.K_RETURN)
    table.picture()
    assert bare(drawn) == {}
