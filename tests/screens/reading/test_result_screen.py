"""The result of a take leads on, by keys and by the guitar."""

from dataclasses import replace

import pygame

from game.coach.decisions import Offer
from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from game.coach.tempo_ladder import RungStanding
from game.neck.tuning import Place
from game.screens.reading.margin_ladder import CLIMB_S
from game.screens.routes import ToPage, ToPlanned, ToShelf
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.timed_pages import metronome_page


def result(table):
    table.open("F4 h, G4 h", "A4 w", "A4 w", "A4 w", "C5 w", "C5 w", "C5 w", "C5 w")
    for sounding in (53, 55, 57, 57, 57):
        table.play(sounding)
    table.wait(1.0)
    assert table.screen_name == "ResultScreen"


def test_noodling_over_a_result_is_ignored(table):
    result(table)
    for _ in range(8):
        table.play(53)
        table.wait(0.3)
    assert table.screen_name == "ResultScreen"


def test_after_a_second_of_silence_the_first_note_at_its_home_begins_again(table):
    result(table)
    table.wait(1.1)
    table.play(53, Place(4, 3))
    assert table.screen_name == "ResultScreen"
    table.wait(1.1)
    advised = table.screen.decision
    table.play(53)
    request = table.screen.request
    assert (request.index, request.stage, request.pulse) == (0, advised.stage, advised.pulse)


def test_the_free_open_string_does_what_the_corner_says(table):
    result(table)
    request, decision = table.screen.request, table.screen.decision
    table.pluck_free_string(1)
    assert table.screen.request == request.as_decided(decision)


def test_the_free_open_string_twice_goes_back_to_where_one_came_from(table):
    table.go(ToShelf())
    result(table)
    table.pluck_free_string(2)
    assert table.screen_name == "ShelfScreen"


def test_keys_repeat_go_on_and_change_the_stage(table):
    result(table)
    table.key(pygame.K_RETURN)
    assert table.screen.request.index == 0
    table.key(pygame.K_RIGHT)
    assert table.screen.request.index == 1
    table.key(pygame.K_TAB)
    assert table.screen.request.stage is Stage.RHYTHM
    table.key(pygame.K_F4)
    assert table.screen.request.passage.whole


def test_where_the_coach_wants_no_more_of_a_passage_today_a_sibling_comes_next(table):
    request = table.open("F4 q, G4 q, A4 q, G4 q", "A4 q, Bb4 q, C5 q, A4 q", "Bb4 q, A4 q, G4 q, A4 q", "F4 w", key=-1)
    table.play_through()
    table.screen.decision = replace(table.screen.decision, offer=Offer.SIBLING)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.passage.bars != request.passage.bars


def test_a_take_that_fell_apart_in_two_bars_leads_to_those_and_then_to_all_of_them(table):
    rows = ("F4 q, G4 q, A4 q, G4 q", "A4 q, Bb4 q, C5 q, A4 q", "Bb4 q, A4 q, G4 q, A4 q", "F4 q, G4 q, F4 h")
    whole = table.open(*rows, key=-1)
    table.go(ToPage(replace(whole.in_stage(Stage.TIME), pulse=Pulse.METRONOME, tempo_bpm=80), chosen=True))
    table.play_in_time(wrong={5, 6, 7, 9, 10, 11})
    table.wait(3.0)
    assert table.screen_name == "ResultScreen"
    bpm = table.screen.decision.tempo_bpm
    assert table.screen._words.now.startswith(f"Down to {bpm}, bars 2–3 only.")
    table.key(pygame.K_RETURN)
    few = table.screen.request
    assert (few.passage.start, few.passage.stop, few.tempo_bpm) == (1, 3, bpm)
    table.play_in_time()
    table.wait(3.0)
    assert table.screen._words.now.startswith(f"All of bars 1–4 again, at {bpm}.")
    table.key(pygame.K_RETURN)
    assert table.screen.request.passage == whole.passage
    assert table.screen.request.tempo_bpm == bpm


def test_a_page_just_signed_off_is_signed_before_anything_else(table):
    result(table)
    table.screen.decision = replace(table.screen.decision, earned=(Mark.SIGNED_OFF,))
    table.key(pygame.K_RETURN)
    assert table.screen_name == "SigningScreen"
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "BookScreen"


def test_a_rung_that_is_clicked_is_the_next_tempo_by_the_players_wish(table):
    page = metronome_page(table, tempo=60)
    table.play_in_time()
    while table.screen is page:
        table.wait(0.5, frame_s=0.1)
    table.picture()
    rungs = table.screen._rungs
    wanted = max(rungs, key=lambda rung: rung.tempo_bpm)
    table.click(table.screen._rung_hits[rungs.index(wanted)].center)
    assert table.screen_name == "MetronomePage"
    assert table.screen.request.tempo_bpm == wanted.tempo_bpm


def climbing_result(table, **settings):
    """A result of a take at 60 that leads to a higher rung, from its first moment on, with nothing said over it."""
    table.settle(**settings)
    page = metronome_page(table, tempo=60)
    table.play_in_time()
    while table.screen is page:
        table.wait(0.01, frame_s=0.01)
    table.context.window.message = ""
    now = next(rung for rung in table.screen._rungs if rung.standing is RungStanding.NOW)
    assert now.tempo_bpm > 60
    return table.screen


def red_rows(table):
    """From where to where there is red pencil between the rails, in pixels."""
    surface, hits = table.app.surface, table.screen._rung_hits
    rails = hits[0].unionall(hits[1:])
    rails.width = 40
    rails.left = hits[0].right - 60
    inside = pygame.mask.from_threshold(
        surface.subsurface(rails), table.context.theme.accent, (60, 60, 60, 255)
    ).get_bounding_rects()
    red = inside[0].unionall(inside[1:])
    return red.move(rails.topleft).centery


def test_the_red_rung_climbs_from_the_tempo_of_the_take_to_that_of_now_within_400_ms(table):
    screen = climbing_result(table)
    heights, opened_s = [], table.screen._opened_s
    for at_s in (0.01, 0.2, 0.39, CLIMB_S):
        table.clock.advance(opened_s + at_s - table.clock.now_s())
        table.picture()
        heights.append(red_rows(table))
    tempi = [rung.tempo_bpm for rung in screen._rungs]
    hits = dict(zip(tempi, screen._rung_hits, strict=True))
    now = next(rung for rung in screen._rungs if rung.standing is RungStanding.NOW)
    assert abs(heights[0] - hits[60].centery) <= 4
    assert heights[0] > heights[1] > heights[2]
    assert abs(heights[-1] - hits[now.tempo_bpm].centery) <= 4
    assert screen.moving
    table.clock.advance(0.1)
    assert not screen.moving


def test_on_a_still_desk_the_red_rung_is_there_at_once(table):
    screen = climbing_result(table, still_desk=True)
    assert not screen.moving
    first = table.picture()
    table.clock.advance(0.5)
    assert table.picture() == first


def test_space_stops_what_sounds(table, monkeypatch):
    result(table)
    sound, heard = table.context.devices.sound, []
    monkeypatch.setattr(type(sound), "play", lambda *_, **__: heard.append("play"))
    monkeypatch.setattr(type(sound), "stop", lambda *_: heard.append("stop"))
    monkeypatch.setattr(type(sound.strings), "playing", property(lambda _: heard == ["play"]))
    table.key(pygame.K_SPACE)
    table.key(pygame.K_SPACE)
    assert heard == ["play", "stop"]


def test_inside_a_step_the_corner_tells_the_time_that_is_left_and_no_key_leads_elsewhere(table):
    table.go(ToPlanned())
    table.play_through()
    result_ = table.screen
    assert result_.request.planned
    assert result_._time_left.endswith("min left of this step")
    for key in (pygame.K_RIGHT, pygame.K_LEFT, pygame.K_TAB, pygame.K_a, pygame.K_F4):
        table.key(key)
        assert table.screen is result_
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


def test_a_guitar_that_is_heard_leads_on_and_back_by_the_free_string(table):
    heard = HeardGuitar(table)
    result(table)
    heard.sound(58)
    heard.sound(40)
    table.wait(1.0)
    assert table.screen_name == "ResultScreen", "a string that rings along is no command"
    heard.pluck_free()
    page = table.screen
    assert page.request.passage.notes
    assert table.screen_name != "ResultScreen"
    heard.pluck_free(2)
    assert table.screen is not page
