"""What the book says of its pages."""

from dataclasses import replace
from datetime import date

import pytest

from game.music.meter import Meter
from game.practice_log.queries.figure_records import PassageFigures
from game.screens.progress.book_pages import BookPage
from game.screens.progress.book_words import (
    back_in_words,
    book_in_words,
    day_in_words,
    signed_tempo_in_words,
    waiting_in_words,
)

TODAY = date(2026, 11, 29)
FIGURES = PassageFigures(
    key="k",
    title="The Ford",
    first="0",
    last="4",
    takes=12,
    first_day=date(2025, 12, 30),
    last_day=date(2026, 11, 20),
    newest_bpm=90,
    clean_bpm=96.0,
    target_bpm=92,
    marks=(("found", date(2026, 11, 3)), ("in time", date(2026, 11, 9))),
)
WAITING = BookPage(figures=FIGURES, signed=None)
SIGNED = BookPage(figures=replace(FIGURES, read_day=date(2026, 11, 1)), signed=TODAY, named=TODAY)


def test_it_counts_what_is_signed_what_of_that_was_read_and_what_waits():
    assert book_in_words(()) == ""
    assert book_in_words((SIGNED,)) == "One page signed, the newest first; one of them read."
    assert book_in_words((SIGNED, replace(SIGNED, figures=FIGURES), WAITING)) == (
        "Two pages signed, the newest first; one of them read; one waits for your name."
    )
    assert book_in_words((WAITING, WAITING)) == "Two wait for your name."
    assert book_in_words((SIGNED, replace(SIGNED, named=None), WAITING)) == (
        "One page signed, the newest first; one of them read; two wait for your name."
    )


def test_the_tempo_is_told_in_the_beat_of_its_metre():
    assert signed_tempo_in_words(SIGNED, Meter(4, 4)) == "♩ = 96"
    assert signed_tempo_in_words(SIGNED, Meter(6, 8)) == "♩. = 96"
    assert signed_tempo_in_words(SIGNED, None) == "96"
    none = replace(SIGNED, figures=replace(FIGURES, clean_bpm=None, target_bpm=None))
    assert signed_tempo_in_words(none, Meter(4, 4)) == ""


@pytest.mark.parametrize(
    ("clean", "target", "said"),
    [
        (70.0, 96, "in time at 70, sign it at 96"),
        (96.0, 96, "at 96, once more another day"),
        (None, 96, "in time so far"),
        (70.0, None, "in time so far"),
    ],
)
def test_a_page_that_waits_says_what_it_waits_for(clean, target, said):
    figures = replace(FIGURES, clean_bpm=clean, target_bpm=target)
    assert waiting_in_words(replace(WAITING, figures=figures)) == said


def test_its_back_tells_takes_days_and_the_tempi_that_were_kept():
    assert back_in_words(SIGNED, tuple(range(50, 100, 5)), TODAY) == (
        "12 takes, 30 Dec 2025 to 20 Nov",
        "Read at sight on 1 Nov",
        "In time since 9 Nov",
        "Tempi kept: 75, 80, 85, 90 and 95",
    )
    once = replace(WAITING, figures=replace(FIGURES, takes=1, first_day=TODAY, marks=()))
    assert back_in_words(once, (), TODAY) == ("1 take, on 29 Nov",)


def test_a_day_of_another_year_has_its_year():
    assert day_in_words(TODAY, TODAY) == "29 Nov"
    assert "2025" in day_in_words(date(2025, 1, 2), TODAY)
