"""One key says that a tune is known by ear: takes of it are practice then, and no evidence of reading."""

import pygame
import pytest

from game.audio.sound import silence
from game.coach.stages import Stage
from game.desk.sheet import SMALLEST
from game.player.player_log import PlayerLog
from game.player.settings import InstrumentKind, Settings
from game.practice.take_request import TakeRequest, request_for
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.screens.routes import ToFreshLine, ToPage
from tests.made import score
from tests.sampling import sample
from tests.screens.plugged_in import Plugged
from tests.screens.table import Table
from tests.screens.told_keys import told_keys

ROWS = ("F4 h, G4 h", "A4 w")
OTHER = ("A4 h, F4 h", "G4 w")


def read(table, *rows):
    table.open(*rows)
    table.play_through()


def logged(table):
    session_log = table.context.session.log
    assert session_log.flush()
    with session_log.reading() as log, sightings_up_to_date(log, session_log.player.uuid):
        return [bool(known) for (known,) in log.execute("SELECT known FROM summaries.sighting ORDER BY position")]


def test_from_the_result_on_takes_of_that_tune_carry_the_word_and_no_others(table):
    """What is logged already stays as it was."""
    read(table, *ROWS)
    table.key(pygame.K_F9)
    assert "known by ear" in table.context.window.message.lower()
    assert table.screen_name == "ResultScreen"
    read(table, *ROWS)
    read(table, *OTHER)
    assert logged(table) == [False, True, False]


def test_the_same_key_takes_it_back(table):
    read(table, *ROWS)
    first = table.screen._keys()
    table.key(pygame.K_F9)
    assert table.screen._keys() != first
    table.key(pygame.K_F9)
    assert table.screen._keys() == first
    assert "counts as reading again" in table.context.window.message
    read(table, *ROWS)
    assert logged(table) == [False, False]


def test_it_can_be_said_on_the_page_before_the_first_take(table):
    request = table.open(*ROWS)
    table.key(pygame.K_F9)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.passage == request.passage
    table.play_through()
    assert logged(table) == [True]


def test_the_notes_of_a_tune_known_by_ear_are_no_evidence(table):
    """Neither what is known of notes nor the coach's review hears of them; without the word they do."""
    assert table.context.session.notes.mastery.items == {}
    table.open(*ROWS)
    table.key(pygame.K_F9)
    table.play_through()
    assert table.context.session.notes.mastery.items == {}
    read(table, *OTHER)
    assert len(table.context.session.notes.mastery.items) == 3


def test_it_is_known_at_the_next_start_and_by_that_player_only(table, tmp_path):
    read(table, *ROWS)
    passage = table.screen.finished.passage
    table.key(pygame.K_F9)
    assert table.context.session.log.close() is None
    for folder, knows in ((tmp_path, True), (tmp_path / "another", False)):
        log = PlayerLog(folder)
        assert log.facts.knows_by_ear(passage) is knows
        log.close()


def test_a_tune_known_by_ear_is_known_in_every_key(table):
    read(table, *ROWS)
    table.key(pygame.K_F9)
    read(table, "G4 h, A4 h", "B4 w")
    assert logged(table) == [False, True]


def test_of_a_line_made_just_now_nothing_is_asked(table):
    table.go(ToFreshLine())
    assert "F9" not in told_keys(table.screen.view.keys)
    page = table.screen
    table.key(pygame.K_F9)
    assert table.screen is page


@pytest.mark.parametrize(
    ("wanted", "instrument"),
    sample(
        [
            (lambda request: request.in_stage(Stage.LETTERS), InstrumentKind.GUITAR),
            (lambda request: request.in_stage(Stage.RHYTHM), InstrumentKind.GUITAR),
            (TakeRequest.by_the_click, InstrumentKind.GUITAR),
            (TakeRequest.at_sight, InstrumentKind.GUITAR),
            (lambda request: request, InstrumentKind.NO_PICKUP),
        ],
        by_default=2,
    ),
)
def test_every_stage_has_the_key(tmp_path, wanted, instrument):
    """By what is played on, too; the page that is laid anew says the other thing."""
    table = Table(tmp_path, Settings(instrument=instrument))
    request = wanted(request_for(score(*ROWS), table.context.settings.neck_map()))
    table.go(ToPage(request, chosen=True))
    page, said = table.screen, told_keys(table.screen.view.keys)["F9"]
    table.key(pygame.K_F9)
    assert type(table.screen) is type(page)
    assert table.screen.request == request
    assert table.context.session.log.facts.knows_by_ear(request.passage)
    assert told_keys(table.screen.view.keys)["F9"] != said


def clicked(table):
    """The keys that a click into their boxes presses."""
    return {press.key for _, press in table.context.window._boxes}


@pytest.mark.parametrize("known", sample([False, True], by_default=1))
@pytest.mark.parametrize("plugged", sample([False, True], by_default=1))
def test_the_keys_of_the_result_have_room_at_its_foot_and_all_of_them_on_the_sheet_it_tells_of(
    tmp_path, known, plugged
):
    """In the smallest window, and with a guitar plugged in too, which has a row of its own."""
    table = Table(tmp_path, size=SMALLEST)
    table.context.devices.sound = silence()
    if plugged:
        Plugged(table)
    table.go(ToPage(request_for(score(*ROWS), table.context.settings.neck_map())))
    if known:
        table.key(pygame.K_F9)
    table.play_through()
    table.picture()
    at_foot = {pygame.K_p, pygame.K_w, pygame.K_ESCAPE, pygame.K_RETURN}
    assert {*at_foot, pygame.K_F1} <= clicked(table)
    assert ("the open sixth string" in told_keys(table.screen._string_keys())) is plugged
    table.key(pygame.K_F1)
    assert {*at_foot, pygame.K_F9, pygame.K_a, pygame.K_TAB, pygame.K_F4} <= clicked(table)
