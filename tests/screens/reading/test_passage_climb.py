"""The way to signing, as a timed page shows it."""

from dataclasses import replace

import pygame

from game.coach.events import Wish
from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from game.coach.tempo_ladder import LadderRung, RungNote, RungStanding
from game.screens.reading.passage_climb import PassageClimb, below_ladder, climb_of, distance_in_words, marks_in_words
from game.screens.routes import ToPage
from tests.screens.ways import request_of


def rung(bpm, standing=RungStanding.AHEAD, **kind):
    return LadderRung(tempo_bpm=bpm, standing=standing, **kind)


def climb(*to_signing, target=96, marks=(), rungs=()):
    return PassageClimb(rungs=(*rungs, rung(target, target=True)), to_signing=to_signing, marks=marks, own_pace_bpm=58)


def timed(table, bpm=60):
    """A request in time with the click, of bars the coach was asked about."""
    request = request_of(table, Stage.TIME)
    table.context.session.coach.open_passage(request.passage)
    table.context.session.coach.overrule(request.passage, Wish.METRONOME_NOW, bpm)
    return replace(request, pulse=Pulse.METRONOME, tempo_bpm=bpm)


def test_the_distance_is_told_rung_by_rung_and_of_many_the_first_and_the_last():
    assert distance_in_words(climb(96)) == "One rung to signing: 96."
    assert distance_in_words(climb(75, 81, 87, 93, 96)) == "Five rungs to signing: 75, 81, 87, 93, 96."
    assert distance_in_words(climb(62, 66, 70, 75, 81, 96)) == "Six rungs to signing: 62, 66, 70, …, 96."


def test_where_the_target_is_kept_it_is_told_how_it_is_signed_and_then_no_more():
    assert distance_in_words(climb()) == ("The target is kept. To sign: 96, as the first take of the day, on two days.")
    assert distance_in_words(climb(marks=(Mark.SIGNED_OFF,))) == ""


def test_below_the_ladder_stand_the_own_pace_and_what_kind_of_take_comes():
    now = rung(70, RungStanding.NOW, note=RungNote.SETTLING)
    assert below_ladder(climb(96, rungs=(now,))) == ("own pace 58", "a settling take")
    assert below_ladder(climb(96)) == ("own pace 58",)


def test_the_marks_of_practice_are_told_earned_or_not():
    told = marks_in_words(climb(96, marks=(Mark.FOUND, Mark.IN_TIME)))
    assert [(mark.word, mark.earned) for mark in told] == [("found", True), ("in time", True), ("signed off", False)]


def test_only_a_take_in_time_with_the_click_has_a_ladder_and_its_own_tempo_is_now(table):
    request = timed(table, 60)
    shown = climb_of(table.context, request)
    assert shown is not None
    assert [one.tempo_bpm for one in shown.rungs if one.standing is RungStanding.NOW] == [60]
    assert shown.to_signing[-1] == shown.target_bpm == table.context.settings.target_bpm
    for other in (request.in_stage(Stage.TIME), request.by_the_click(), replace(request, stage=Stage.RHYTHM)):
        assert climb_of(table.context, other) is None


def test_a_click_on_a_rung_is_a_wish_for_its_tempo(table):
    table.go(ToPage(timed(table, 60), chosen=True))
    view = table.screen.view
    now, aim = (
        next(hit for hit, bpm in view._rungs if bpm == wanted) for wanted in (60, table.context.settings.target_bpm)
    )
    page = table.screen
    table.click(now.center)
    assert table.screen is page
    table.click(aim.center)
    assert table.screen.request.tempo_bpm == table.context.settings.target_bpm
    kept = [one for one in table.screen.view.climb.rungs if one.tempo_bpm == table.screen.request.tempo_bpm]
    assert [one.kept for one in kept] == [False]
    table.key(pygame.K_ESCAPE)
