"""Where the bars of a page of the book stand on the shelf."""

from dataclasses import replace
from datetime import date

import pytest

from game.music.passage import Passage, whole_tune
from game.practice.take_request import request_for
from game.practice_log.queries.figure_records import PassageFigures
from game.practice_log.rows.passage_key import passage_key
from game.screens.progress.located_page import located_page
from game.tunes.library.library import open_entry, shelf

DAY = date(2026, 11, 20)


def figures_of(passage, title):
    first, last = passage.bar_numbers
    return PassageFigures(
        key=passage_key(passage),
        title=title,
        first=first,
        last=last,
        takes=1,
        first_day=DAY,
        last_day=DAY,
        newest_bpm=None,
        clean_bpm=None,
        target_bpm=None,
    )


def tune(table, number):
    entry = shelf()[number]
    return entry, request_for(open_entry(entry), table.context.settings.neck_map())


@pytest.mark.parametrize("number", [0, 3, 5])
def test_its_passages_are_found_at_their_place_in_the_tune(table, number):
    """Of bars that are played again, the first time."""
    entry, request = tune(table, number)
    for passage in request.passages:
        figures = figures_of(passage, entry.title)
        located = located_page(table.context, figures, shelf())
        assert (located.entry, located.passage.bar_numbers) == (entry, passage.bar_numbers)
        assert passage_key(located.passage) == figures.key
        assert located.request.passages == request.passages


def test_the_whole_tune_and_bars_that_the_player_chose_are_found_too(table):
    entry, request = tune(table, 2)
    score = request.passage.score
    for passage in (whole_tune(score), Passage(score=score, start=2, stop=7)):
        located = located_page(table.context, figures_of(passage, entry.title), shelf())
        assert located.passage == passage


def test_a_tune_that_has_another_title_now_is_found_where_it_was_opened(table):
    entry, request = tune(table, 1)
    figures = figures_of(request.passage, "As it was called once")
    assert located_page(table.context, figures, shelf()) is None
    table.context.session.log.facts.open_tune(entry.name)
    assert located_page(table.context, figures, shelf()).entry == entry


def test_bars_that_are_nowhere_or_whose_file_is_gone_are_none(table):
    entry, request = tune(table, 1)
    figures = figures_of(request.passage, entry.title)
    gone = replace(entry, name="gone", shipped=False)
    assert located_page(table.context, figures, (gone,)) is None
    assert located_page(table.context, replace(figures, key="0" * 32), shelf()) is None
