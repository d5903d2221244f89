"""The programme: three tunes are picked, and when all their pages are signed the evening is played."""

import pygame
import pytest

from game.screens.routes import ToProgramme, ToShelf
from game.tunes.library.library import shelf
from tests.screens.choosing.signed_tunes import sign_pages


def picked(table):
    programme = table.context.session.log.facts.desk.programme
    return programme.tunes if programme else ()


def names(*numbers):
    return tuple(shelf()[number].name for number in numbers)


@pytest.fixture
def three(table):
    """Three short tunes are the programme."""
    for name in names(0, 1, 2):
        table.go(ToProgramme(name))
    return table


def test_one_key_on_the_shelf_brings_the_chosen_tune_and_it_takes_a_free_place(table):
    table.go(ToShelf())
    for _ in range(2):
        table.key(pygame.K_DOWN)
        table.key(pygame.K_v, "v")
        assert table.screen_name == "ProgrammeScreen"
        table.key(pygame.K_ESCAPE)
        assert table.screen_name == "ShelfScreen"
    assert picked(table) == names(1, 2)


def test_a_fourth_waits_to_be_put_in_the_place_of_another(three):
    fourth = names(5)[0]
    three.go(ToProgramme(fourth))
    assert picked(three) == names(0, 1, 2)
    three.key(pygame.K_DOWN)
    three.key(pygame.K_RETURN)
    assert picked(three) == (*names(0), fourth, *names(2))


def test_one_that_is_in_it_is_shown_and_not_taken_twice(three):
    three.go(ToProgramme(names(1)[0]))
    assert (three.screen.chosen, picked(three)) == (1, names(0, 1, 2))


def test_a_tune_is_taken_out_and_an_empty_place_leads_to_the_shelf(three):
    three.key(pygame.K_DELETE)
    assert len(picked(three)) == 2
    three.screen.chosen = 2
    three.key(pygame.K_RETURN)
    assert three.screen_name == "ShelfScreen"


def test_as_long_as_pages_are_left_the_corner_goes_on_with_the_next_of_the_chosen_tune(three):
    sign_pages(three, shelf()[1], pages=1)
    three.go(ToProgramme())
    three.key(pygame.K_DOWN)
    three.key(pygame.K_RETURN)
    assert three.screen.request.score.title == shelf()[1].title
    assert three.screen.request.index == 1


def test_when_all_pages_are_signed_the_evening_is_played_tune_by_tune_and_kept(three):
    """With the metronome, each whole; the day is kept once all three were played, and only then."""
    sign_pages(three, *shelf()[:3], bpm=72)
    three.settle(target_bpm=72)
    facts = three.context.session.log.facts
    three.go(ToProgramme())
    for number in range(3):
        assert facts.desk.programme.played == ()
        three.key(pygame.K_RETURN)
        assert three.screen.request.score.title == shelf()[number].title
        assert three.screen.request.passage.whole
        three.play_in_time()
        three.wait(4.0, frame_s=0.1)
        assert three.screen_name == "ResultScreen"
        assert "On with the evening" in {hint.meaning for hint in three.context.window.told_keys}
        three.key(pygame.K_RETURN)
        assert three.screen_name == "ProgrammeScreen"
        assert [tune.played_today for tune in three.screen.tunes] == [True] * (number + 1) + [False] * (2 - number)
    assert [day.toordinal() for day in facts.desk.programme.played] == [three.day]
    three.screen.read_anew()
    assert len(facts.desk.programme.played) == 1


def test_a_tune_is_heard_whole_and_stopped_by_the_same_key(three, monkeypatch):
    played, stopped = [], []
    sound = three.context.devices.sound
    monkeypatch.setattr(sound, "play", lambda lines, _clock, accompaniment: played.append(lines))  # noqa: ARG005
    monkeypatch.setattr(sound, "stop", lambda: stopped.append(True))
    monkeypatch.setattr(type(sound.strings), "playing", property(lambda _: len(played) > len(stopped)))
    for count in range(1, 4):
        three.key(pygame.K_SPACE, " ")
        assert (len(played), len(stopped)) == ((count + 1) // 2, count // 2)


def test_a_tune_that_left_the_shelf_keeps_its_place_and_can_be_taken_out(table):
    table.go(ToProgramme("gone"))
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"
    table.go(ToProgramme())
    table.key(pygame.K_DELETE)
    assert picked(table) == ()


def test_a_click_chooses_a_place_and_a_second_one_does_what_the_corner_says(three):
    unit = three.context.sheet.unit
    at = (300 * unit, (212 + 128) * unit)
    three.screen.chosen = 0
    three.click(at)
    assert three.screen.chosen == 1
    three.click(at)
    assert three.screen.request.score.title == shelf()[1].title
