"""Practice from the paper itself, with the click and one's own word."""

import json

import pygame
import pytest

from game.practice.paper_practice import OwnWord
from game.screens.routes import ToFromPaper, ToPaperPractice
from game.screens.writing.paper_practice_screen import take_in_words
from tests.screens.table import Table
from tests.screens.writing.writing_tables import pass_time

FACTS = "SELECT content FROM fact WHERE about = 'from paper' ORDER BY fact"


def begun(table, *, title="Nocturne", bars=2):
    table.go(ToPaperPractice())
    table.letters(title)
    table.key(pygame.K_DOWN)
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_BACKSPACE)
    table.letters(str(bars))
    table.key(pygame.K_RETURN)
    return table.screen


def play_on(table, bars):
    """So many bars, and a little."""
    screen = table.screen
    pass_time(table, screen._zero_s - table.clock.now_s() + bars * 4 * 60 / 72 + 0.2)


def kept(table) -> list[dict]:
    return [json.loads(content) for (content,) in table.logged(FACTS)]


def test_once_through_is_kept_with_time_bars_tempo_and_word(table):
    screen = begun(table)
    play_on(table, 2)
    assert screen.asks
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert kept(table) == [
        {
            "title": "Nocturne",
            "bars": 2,
            "beats": 4,
            "unit": 4,
            "tempo_bpm": 72,
            "bars_played": 2,
            "seconds": 6.7,
            "word": "slips",
        }
    ]


def test_it_is_no_take_and_no_judgement(table):
    """So nothing of it counts as reading, in whatever is made of the log."""
    begun(table)
    play_on(table, 2)
    table.key(pygame.K_RETURN)
    assert len(kept(table)) == 1
    assert table.logged("SELECT count(*) FROM take") == [(0,)]
    assert table.logged("SELECT count(*) FROM coach_event") == [(0,)]


def test_who_stops_in_the_middle_has_played_the_bars_before(table):
    begun(table, bars=8)
    play_on(table, 3)
    table.key(pygame.K_SPACE)
    table.key(pygame.K_RETURN)
    assert [(one["bars_played"], one["bars"], one["word"]) for one in kept(table)] == [(3, 8, "well")]


def test_who_says_nothing_has_practised_all_the_same(table):
    begun(table)
    play_on(table, 2)
    table.key(pygame.K_ESCAPE)
    assert [one["word"] for one in kept(table)] == [None]


def test_stopped_in_the_count_in_or_the_first_bar_nothing_was_practised(table):
    screen = begun(table)
    table.key(pygame.K_ESCAPE)
    assert not screen.asks
    table.key(pygame.K_RETURN)
    play_on(table, 0.5)
    table.key(pygame.K_SPACE)
    assert not screen.asks
    assert kept(table) == []


def test_the_free_string_begins_stops_and_says_how_it_went(tmp_path):
    table = Table(tmp_path, guitar=True)
    table.go(ToPaperPractice())
    table.pluck_free_string(1)
    play_on(table, 1)
    table.pluck_free_string(1)
    assert table.screen.asks
    table.pluck_free_string(3)
    assert [(one["bars_played"], one["word"]) for one in kept(table)] == [(1, "apart")]


def test_notes_that_are_played_along_are_nothing(table):
    screen = begun(table)
    play_on(table, 1)
    table.play(52)
    assert screen.moving


def test_the_piece_of_last_time_lies_on_the_desk_and_others_are_found_again(table):
    begun(table, title="First")
    play_on(table, 2)
    table.key(pygame.K_RETURN)
    begun(table, title=" and Second")
    play_on(table, 2)
    table.key(pygame.K_RETURN)
    table.go(ToPaperPractice())
    titles = [table.screen.piece.title]
    table.key(pygame.K_RIGHT)
    titles.append(table.screen.piece.title)
    assert titles == ["First and Second", "First"]
    assert take_in_words(table.screen._before[0]) == "Last time: 2 bars at 72, it went well."


def test_a_computer_that_slept_ends_it_where_it_was(table):
    begun(table, bars=8)
    play_on(table, 2)
    table.clock.advance(100.0)
    table.wait(0.1)
    table.key(pygame.K_RETURN)
    assert [one["bars_played"] for one in kept(table)] == [2]


@pytest.mark.parametrize("word", list(OwnWord))
def test_every_word_is_drawn_and_chosen_by_a_click(table, word):
    screen = begun(table)
    table.picture()
    play_on(table, 2)
    row = list(OwnWord).index(word)
    table.click((300, screen._rows_top + row * screen._row_height + 5))
    table.key(pygame.K_RETURN)
    table.picture()
    assert kept(table)[0]["word"] == word.value


def test_escape_goes_back_to_the_doors(table):
    table.go(ToFromPaper())
    table.go(ToPaperPractice())
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "FromPaperScreen"
