"""Which pages stand in the book."""

from datetime import date, timedelta

from game.errors import LogError
from game.practice_log.queries.figure_records import PassageFigures
from game.practice_log.queries.figures import Figures
from game.screens.progress import book_pages as module
from game.screens.progress.book_pages import book_pages

DAY = date(2026, 11, 20)


def passage(key, *marks, first="1"):
    return PassageFigures(
        key=key,
        title="Sibling of Ford: transposed to F",
        first=first,
        last="4",
        takes=3,
        first_day=DAY,
        last_day=DAY,
        newest_bpm=60,
        clean_bpm=60,
        target_bpm=60,
        marks=marks,
    )


def test_the_newest_signed_page_stands_first_what_is_in_time_waits_and_what_is_found_is_not_in_it(table, monkeypatch):
    """Whatever order the marks came in: to be signed off is what counts."""
    found, in_time = ("found", DAY), ("in time", DAY)
    kept = (
        passage("old", found, ("signed off", DAY - timedelta(9))),
        passage("found only", found),
        passage("waits", found, in_time),
        passage("new", ("signed off", DAY)),
    )
    monkeypatch.setattr(Figures, "newest_marked", lambda _, most: kept[:most])
    pages = book_pages(table.context)
    assert [(page.figures.key, page.signed) for page in pages] == [
        ("new", DAY),
        ("old", DAY - timedelta(9)),
        ("waits", None),
    ]


def test_a_pickup_goes_with_the_bar_after_it(table, monkeypatch):
    monkeypatch.setattr(Figures, "newest_marked", lambda _, most: (passage("a", ("in time", DAY), first="0"),) * most)
    page = book_pages(table.context)[0]
    assert page.first == "1"
    assert "Ford" in page.title


def test_a_log_that_cannot_be_read_is_a_sentence_and_an_empty_book(table, monkeypatch):
    def refused(*_):
        raise LogError("log.no_sense", fault="x")

    monkeypatch.setattr(module, "figures_of", refused)
    assert book_pages(table.context) == ()
    assert table.context.window.message
