"""The book holds the passages with their marks, and opens at any of them."""

import pygame
import pytest

from game.practice.take_request import request_for
from game.screens.routes import ToBook, ToPage, ToShelf
from game.tunes.library.library import open_entry, shelf
from tests.screens.table import Table


@pytest.fixture
def practised(tmp_path):
    """Two passages of a tune on the shelf were found, and one line that is nowhere."""
    table = Table(tmp_path)
    entry = next(entry for entry in shelf() if entry.title == "Au clair de la lune")
    table.context.session.log.facts.open_tune(entry.name)
    request = request_for(open_entry(entry), table.context.settings.neck_map())
    for page in (request, request.moved(1)):
        table.go(ToPage(page))
        read(table)
    table.open("F4 h, G4 h", "A4 w")
    read(table)
    table.context.session.log.flush()
    return table


def read(table):
    for note in table.screen.take.expected:
        table.play(note.sounding)
        table.wait(0.3, frame_s=0.1)
    table.wait(2.0, frame_s=0.1)


def test_the_newest_mark_stands_first_with_its_day(practised):
    practised.go(ToShelf())
    practised.key(pygame.K_g)
    practised.key(pygame.K_b)
    assert practised.screen_name == "BookScreen"
    titles = [(passage.title, passage.first) for passage in practised.screen.passages]
    assert len(titles) == 3
    assert titles[1:] == [("Au clair de la lune", "5"), ("Au clair de la lune", "1")]
    assert {mark for passage in practised.screen.passages for mark, _ in passage.marks} == {"found"}
    practised.key(pygame.K_ESCAPE)
    assert practised.screen_name == "ProgressScreen"


def test_enter_lays_the_chosen_passage_on_the_desk(practised):
    practised.go(ToBook())
    practised.key(pygame.K_DOWN)
    practised.key(pygame.K_RETURN)
    assert practised.screen.request.passage.bar_numbers == ("5", "8")


def test_a_passage_that_is_on_no_shelf_says_so_and_the_book_stays_open(practised):
    practised.go(ToBook())
    practised.key(pygame.K_RETURN)
    assert practised.screen_name == "BookScreen"
    assert "not on the shelf" in practised.context.window.message


def test_the_choice_stays_within_the_book(practised):
    practised.go(ToBook())
    practised.key(pygame.K_UP)
    assert practised.screen.chosen == 0
    practised.key(pygame.K_PAGEDOWN)
    assert practised.screen.chosen == 2


def test_without_marks_it_says_what_they_are(table):
    table.go(ToBook())
    assert table.screen.passages == ()
    table.key(pygame.K_RETURN)
    assert table.screen_name == "BookScreen"
