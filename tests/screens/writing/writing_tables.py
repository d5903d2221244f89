"""A table at which a tune is entered, with a guitar in hand or by the keys of the computer."""

from fractions import Fraction
from random import Random

import pygame

from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import STANDARD
from game.screens.routes import ToEntering, ToFromPaper
from game.tunes.entering.entering import EntryStep
from tests.instrument.pickup_simulator import Pickup, stream
from tests.instrument.ports.bench_driver import GUITAR

FOUR_BARS = (52, 52, 53, 55, 55, 53, 52, 50, 48, 48, 50, 52, 52, 50, 50)
RHYTHM = tuple(Fraction(at) for at in (*range(13), Fraction(27, 2), 14))


def pass_time(table, seconds):
    """Exactly so long, in as few frames as the game takes for no gap."""
    frames = int(seconds / 0.5) + 1
    table.wait(seconds, frame_s=seconds / frames)


def new_tune(table, title="By Hand"):
    table.go(ToFromPaper())
    table.go(ToEntering())
    table.letters(title)
    return table.screen


def play_pitches(table, pitches=FOUR_BARS):
    """From the head on: the pitches one after another."""
    table.key(pygame.K_RETURN)
    for sounding in pitches:
        started(table, note_at(table, sounding))
        pass_time(table, 0.3)


def tap_rhythm(table, places=RHYTHM, *, tap=None, stop=True):
    """From the pitches on: the rhythm on the space bar, or by `tap`, until the run ends itself."""
    if table.screen_undrawn.state.step is EntryStep.PITCHES:
        table.key(pygame.K_RETURN)
    table.key(pygame.K_SPACE)
    tap_along(table, places, tap=tap)
    if stop:
        wait_for_end(table)


def tap_along(table, places, *, tap=None):
    run = table.screen_undrawn.state.run
    for place in places:
        due_s = run.zero_s + float(place - run.start) * run.quarter_s
        pass_time(table, max(0.01, due_s - table.clock.now_s()))
        tap() if tap else table.key(pygame.K_SPACE)


def wait_for_end(table):
    for _ in range(600):
        if table.screen_undrawn.state.run is None:
            return
        pass_time(table, 0.3)
    raise AssertionError("the click went on for ever")


def whole_tune_entered(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table)
    table.key(pygame.K_RETURN)
    return table.screen


def onsets(table) -> list:
    return [onset.at for onset in table.screen_undrawn.state.draft.onsets]


def soundings(table) -> list:
    return [pitch.sounding for pitch in table.screen_undrawn.state.draft.pitches]


def note_at(table, sounding, place=None) -> PlayedNote:
    return PlayedNote(started_s=table.clock.now_s(), sounding=sounding, place=place, source="test guitar")


def started(table, note):
    table.note_started(note)


def revise(table, before, after):
    table.screen.note_revised(NoteRevised(before=before, after=after, channel=1))


def play_through_pickup(pickup, places, times_s, shares, seed):
    """Places at times of the clock as a pickup tells them that has each fault in a share of the notes."""
    table = pickup.table
    notes = [
        PlayedNote(started_s=at_s, sounding=STANDARD.sounding(place), place=place, velocity=90)
        for place, at_s in zip(places, times_s, strict=True)
    ]
    for sent in stream(Pickup(setup=StringsSetup(), shares=shares), notes, Random(seed)):
        let_pass(table, sent.at_s - table.clock.now_s())
        pickup.driver.play(GUITAR, list(sent.message))
        table.app.take_in([])
    let_pass(table, 1.5)


def let_pass(table, seconds):
    """As `pass_time`, with nothing drawn."""
    frames = max(0, int(seconds * 30)) + 1
    for _ in range(frames):
        table.clock.advance(max(0.0, seconds) / frames)
        table.app.take_in([])
