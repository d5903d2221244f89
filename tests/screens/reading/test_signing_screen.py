"""A page that was signed off is signed: with the mouse, with keys, with the guitar, or by its date alone."""

import msgspec
import pygame
import pytest

from game.player.kept_signature import PlayerSignature
from game.player.profiles import Profile
from game.practice_log.rows.passage_key import passage_key
from game.screens.reading.signing_screen import HELD_S
from game.screens.routes import ToPlanned, ToSigning
from tests.sampling import sample
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.table import Table
from tests.screens.ways import signing_of


@pytest.fixture
def signing(table):
    table.go(signing_of(table))
    return table


def facts(table):
    return table.context.session.log.facts.desk


def signed(table):
    return list(facts(table).signed) == [passage_key(table.screen.route.finished.passage)]


def mouse(table, kind, at):
    unit = table.context.sheet.unit
    where = {"pos": (round(at[0] * unit), round(at[1] * unit))}
    table.app.step([pygame.event.Event(kind, button=1, buttons=(1, 0, 0), **where)])


def test_it_is_drawn_with_the_mouse_and_the_pen_writes_it_by_itself_the_next_time(signing):
    room = signing.screen._sheet_on(None).room
    mouse(signing, pygame.MOUSEBUTTONDOWN, (room.left + 20, room.top + 40))
    mouse(signing, pygame.MOUSEMOTION, (room.left + 90, room.top + 80))
    mouse(signing, pygame.MOUSEBUTTONUP, (room.left + 90, room.top + 80))
    assert not signed(signing)
    signing.key(pygame.K_RETURN)
    assert signed(signing)
    drawn = facts(signing).signature
    assert len(drawn.strokes[0]) == 2
    signing.go(signing.screen.route)
    assert signing.screen.signed
    assert signing.screen.moving
    signing.wait(3.0)
    assert not signing.screen.moving
    assert signing.screen._kept == drawn


def test_a_name_is_typed_whatever_letters_are_commands_elsewhere(signing):
    for sign in "Wim? 2nd":
        signing.key(0, sign)
    signing.key(pygame.K_RETURN)
    assert facts(signing).signature == PlayerSignature(typed="Wim? 2nd")


def test_with_nothing_the_date_stands_there_alone_and_no_signature_is_kept(signing):
    signing.key(pygame.K_RETURN)
    assert signed(signing)
    assert facts(signing).signature is None
    signing.key(pygame.K_RETURN)
    assert signing.screen_name == "BookScreen"


def test_the_last_note_held_signs_and_one_among_others_does_not(tmp_path):
    profile = Profile(name="Ann", folder=tmp_path, settings_path=tmp_path / "settings.json")
    table = Table(profile=profile)
    table.go(signing_of(table))
    last = table.screen.route.finished.passage.notes[-1].sounding
    table.play(last)
    table.play(last + 2)
    table.wait(HELD_S + 0.1)
    assert not table.screen.signed
    table.play(last)
    table.wait(HELD_S + 0.1)
    assert signed(table)
    assert table.screen._kept == PlayerSignature(typed="Ann")


def test_the_free_string_signs_and_goes_on(signing):
    signing.pluck_free_string(1)
    assert signed(signing)
    signing.pluck_free_string(1)
    assert signing.screen_name == "BookScreen"


def test_it_can_be_signed_anew(signing):
    signing.key(0, "A")
    signing.key(pygame.K_RETURN)
    signing.key(pygame.K_DELETE)
    assert not signing.screen.signed
    signing.key(0, "B")
    signing.key(pygame.K_RETURN)
    assert facts(signing).signature == PlayerSignature(typed="B")
    assert len(facts(signing).signed) == 1


def test_on_a_still_desk_nothing_moves(table):
    table.context.change_settings(msgspec.structs.replace(table.context.settings, still_desk=True))
    table.go(signing_of(table))
    assert not table.screen.moving


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (1920, 1080)], by_default=1))
def test_every_moment_of_it_can_be_drawn(tmp_path, size):
    table = Table(tmp_path, size=size)
    table.go(signing_of(table))
    for _ in range(6):
        table.wait(0.4)
        table.picture()
    assert not table.screen.moving


def test_inside_a_step_the_plan_goes_on_after_signing(table):
    table.go(ToPlanned())
    table.play_through()
    result = table.screen
    table.go(ToSigning(result.request, result.finished, result.decision, result._then))
    assert table.screen._corner == "Sign"
    table.key(pygame.K_RETURN)
    assert table.screen._corner == "On with today"
    table.key(pygame.K_RETURN)
    assert table.screen.request.planned
    assert table.screen_name == "PlacesPage"


def test_a_last_note_that_nobody_played_signs_nothing_and_one_told_of_anew_does(signing):
    heard = HeardGuitar(signing)
    last = signing.screen.passage.notes[-1].sounding
    note = heard.sound(last)
    heard.turns_out(note)
    signing.wait(1.0)
    assert not signing.screen.signed
    note = heard.sound(last)
    heard.turns_out(note, velocity=60)
    signing.wait(HELD_S)
    assert signing.screen.signed
