"""A whole practice: led by the coach, driven from the guitar alone, or by keys without any instrument."""

import numpy as np
import pygame

from game.coach.stages import Stage
from game.player.settings import InstrumentKind, Settings
from game.screens.routes import ToPage
from tests.instrument.listening import string_model
from tests.instrument.listening.melodies import LineNote
from tests.instrument.listening.played_lines import Modelled, played
from tests.instrument.listening.rendered_guitar import RATE
from tests.screens.heard_guitar import HeardGuitar, play_sound
from tests.screens.table import Table

ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h")


def keys(table, *row):
    for key in row:
        table.key(key)
        table.wait(0.2)


def take_through(table):
    """Do what the page that is open wants, up to its result; gives its stage, and whether the metronome played."""
    request = table.screen.request
    if table.screen_name == "SelfMarkedPage":
        while table.screen_name == "SelfMarkedPage":
            keys(table, pygame.K_RETURN, pygame.K_RETURN)
    elif table.screen_name == "FreePage":
        table.wait(2.0, frame_s=0.1)
        keys(table, pygame.K_RETURN)
    else:
        keys(table, pygame.K_SPACE)
        table.wait(60.0, frame_s=0.05)
    if table.screen_name == "MarkingScreen":
        keys(table, pygame.K_RETURN)
    assert table.screen_name == "ResultScreen"
    return request.stage.value, request.tempo_bpm is not None


def test_the_coach_leads_from_places_through_rhythm_to_a_tempo_that_climbs(table):
    """A flawless player: each decision is taken by Enter."""
    table.settle(target_bpm=70)
    request = table.open(*ROWS, key=-1)
    table.go(ToPage(request))
    seen = []
    for _ in range(14):
        page = table.screen
        seen.append((page.request.stage, page.request.tempo_bpm))
        if page.request.tempo_bpm is not None:
            table.play_in_time()
            table.wait(2.5)
        elif page.request.stage is Stage.PLACES:
            for note in page.take.expected:
                table.play(note.sounding)
                table.wait(0.3)
            table.wait(1.0)
        else:
            for note in page.take.expected:
                table.play(note.sounding)
                table.wait(0.7 * float(note.note.length) - 0.1)
            table.wait(2.0)
        assert table.screen_name == "ResultScreen"
        assert table.screen.decision.reason
        if table.screen.decision.offer.value != "again":
            table.day += 1
            table.go(ToPage(request))
        else:
            table.key(pygame.K_RETURN)
    stages = [stage for stage, _ in seen]
    assert stages[0] is Stage.PLACES
    assert stages.index(Stage.RHYTHM) < stages.index(Stage.TIME)
    tempos = [tempo for stage, tempo in seen if stage is Stage.TIME and tempo]
    assert tempos
    assert max(tempos) > tempos[0] or tempos[0] >= 70


def test_a_practice_is_driven_from_the_guitar_alone(table):
    table.settle(target_bpm=60)
    table.pluck_free_string(1)
    page = table.screen
    assert page.request.stage is Stage.PLACES
    for note in page.take.expected:
        table.play(note.sounding)
        table.wait(0.3)
    table.wait(1.0)
    assert table.screen_name == "ResultScreen"
    first = table.screen.finished.expected[0].sounding
    table.wait(1.2)
    table.play(first)
    assert table.screen_name == "FreePage"
    page = table.screen
    for note in page.take.expected:
        table.play(first)
        table.wait(0.7 * float(note.note.length) - 0.1)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    table.pluck_free_string(2)
    assert table.screen_name == "TodayScreen"


def test_an_ordinary_guitar_is_practised_from_the_first_note_to_the_metronome(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    keys(table, pygame.K_RETURN)
    taken = [take_through(table)]
    while taken[-1] != ("time", True) and len(taken) < 8:
        keys(table, pygame.K_RETURN)
        taken.append(take_through(table))
    assert taken == [("places", False), ("rhythm", False), ("rhythm", True), ("time", False), ("time", True)]
    keys(table, pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"
    table.context.session.log.flush()
    with table.context.session.log.reading() as connection:
        kept = connection.execute("SELECT self_marked, count(*) FROM take GROUP BY self_marked").fetchall()
    assert kept == [(1, 5)]


def test_a_practice_is_driven_by_the_sound_of_a_plain_guitar_alone(table):
    """A line with one wrong note, then the free string once to go on, and twice to stop; the strings are modelled."""
    HeardGuitar(table)
    table.open("F4 q, G4 q, A4 q, Bb4 q", key=-1)
    row = [(0.5, 53), (0.9, 55), (1.3, 56), (1.8, 57), (2.2, 58), (4.2, 40), (6.2, 40), (6.6, 40)]
    notes = [LineNote(start_s=at_s, length_s=0.38, pitch=pitch, velocity=85) for at_s, pitch in row]
    sound = played(notes, Modelled(string_model.STEEL), np.random.default_rng(2)).samples
    upto = int(5.6 * RATE)
    play_sound(table, sound[: int(3.6 * RATE)], RATE)
    assert table.verdicts == ["clean", "clean", "wrong pitch", "clean"]
    play_sound(table, sound[int(3.6 * RATE) : upto], RATE)
    page = table.screen
    assert page.in_take, "plucked once: it goes on as advised"
    play_sound(table, np.concatenate([sound[upto:], np.zeros(RATE // 2)]), RATE)
    assert table.screen is not page
