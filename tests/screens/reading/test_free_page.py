"""A take at the player's own pace, without a click."""

import pygame
import pytest

from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.player.settings import InstrumentKind
from game.practice.pencilled import CountMark
from game.screens.routes import ToPage
from game.text.catalogue import tell_all
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.timed_pages import SOUNDINGS, free_page, sight_request


@pytest.fixture
def page(table):
    table.go(ToPage(sight_request(table), chosen=True))
    return table.screen


def test_at_ones_own_pace_the_time_an_instrument_is_away_counts_for_nothing(table, pickup):
    request = table.open("F4 q, G4 q, A4 q, Bb4 q", "C5 w").in_stage(Stage.TIME)
    table.go(ToPage(request, chosen=True))
    places = [table.context.settings.neck_map().home_of(note.sounding).place for note in table.screen.take.expected]
    for place in places[:2]:
        pickup.pluck(place, lasts_s=0.46)
    pickup.pull_out()
    table.wait(12.0)
    assert table.screen_name == "FreePage"
    pickup.plug_in()
    for place in places[2:]:
        pickup.pluck(place, lasts_s=0.46)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    counts = table.screen.finished.summary.counts
    assert counts[Verdict.MISSED] == counts[Verdict.UNREAD] == 0
    assert not [event for event in table.screen.finished.judgement.events if event.kind.value == "stop"]


def test_there_is_no_help_and_nothing_is_pencilled_while_it_is_read(table, page):
    table.key(pygame.K_SPACE)
    table.play(page.take.expected[0].sounding + 2)
    table.key(pygame.K_F5)
    table.key(pygame.K_F10)
    assert not page.view.marks
    assert not page.view.colours


def test_it_is_kept_as_first_sight_and_other_music_comes_next(table):
    table.go(ToPage(sight_request(table), chosen=True))
    page = table.screen
    table.key(pygame.K_SPACE)
    for note in page.take.expected:
        table.play(note.sounding)
        table.wait(0.5)
    table.wait(2.0)
    assert "first sight" in tell_all(table.screen.decision.reason)
    with table.context.session.log.reading() as connection:
        assert connection.execute("SELECT stage, sighting FROM take").fetchall() == [("sight", 1)]


def test_at_ones_own_pace_the_pulse_is_inferred_and_the_take_ends_by_itself(table):
    free_page(table)
    for sounding, pause in zip(SOUNDINGS, (0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 1.0), strict=True):
        table.play(sounding)
        table.wait(pause - 0.1)
    table.wait(1.5)
    assert table.verdicts == ["clean"] * 7
    assert table.screen.finished.usual_bpm == pytest.approx(120, rel=0.05)
    words = table.screen._words
    assert any("120" in said or "pace" in said for said in (words.why, *words.beside))


def test_the_counts_are_written_under_the_notes_on_request(table):
    page = free_page(table, Stage.RHYTHM)
    table.key(pygame.K_F5)
    assert [mark.mark for mark in page.view.marks][:4] == [CountMark(str(n)) for n in (1, 2, 3, 4)]
    table.key(pygame.K_F5)
    assert page.view.marks == []


@pytest.mark.parametrize("at_sight", [False, True])
def test_one_whom_nothing_listens_to_is_told_the_key_that_leads_to_the_marking(table, at_sight):
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    request = sight_request(table)
    table.go(ToPage(request if at_sight else request.in_stage(Stage.RHYTHM), chosen=True))
    if at_sight:
        table.key(pygame.K_RETURN)
        table.key(pygame.K_RETURN)
        assert table.screen_name == "FreePage"
    table.picture()
    key = pygame.K_RETURN if at_sight else pygame.K_SPACE
    table.click(next(box for box, press in table.context.window._boxes if press.key == key).center)
    assert table.screen_name == "MarkingScreen"


def test_a_guitar_that_is_heard_is_judged_by_pitch_and_time(table):
    heard = HeardGuitar(table)
    free_page(table)
    for sounding, pause in zip(SOUNDINGS, (0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 1.0), strict=True):
        heard.sound(sounding + (1 if sounding == 60 else 0), wait_s=pause - 0.04)
    table.wait(1.5)
    assert table.verdicts == ["clean"] * 4 + ["wrong pitch"] + ["clean"] * 2
    assert table.screen.finished.usual_bpm == pytest.approx(120, rel=0.05)


def test_nothing_is_begun_and_nothing_ended_by_what_was_not_heard_surely(table):
    heard = HeardGuitar(table)
    page = free_page(table, Stage.RHYTHM)
    heard.sound(53, sure=False)
    table.wait(9.0, frame_s=0.1)
    assert table.screen is page
    assert not page.take.heard_anything
    for _ in SOUNDINGS[1:]:
        heard.sound(53, wait_s=0.4)
    heard.sound(53, sure=False)
    assert page.take.at == len(SOUNDINGS) - 1


def test_a_string_touched_in_a_line_that_is_heard_shows_no_counts(table):
    heard = HeardGuitar(table)
    page = free_page(table)
    heard.pluck_free()
    assert page.view.marks
    heard.pluck_free()
    heard.sound(53)
    heard.pluck_free()
    assert not page.view.marks
