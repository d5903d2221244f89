"""What the book says of its pages."""

from datetime import date

from game.coach.marks import Mark
from game.music.meter import Meter
from game.screens.progress.book_pages import BookPage
from game.screens.reading.page_heading import beat_in_words
from game.text.catalogue import as_sentence, in_figures, on_day, say

_MOST_TEMPI = 5


def book_in_words(pages: tuple[BookPage, ...]) -> str:
    """How many pages are signed by name, how many of them were read at first sight, and how many wait for it: those in
    time, and those signed off.
    """
    signed = [page for page in pages if page.signed is not None and not page.unnamed]
    read = sum(page.figures.read_day is not None for page in signed)
    waiting = len(pages) - len(signed)
    said = [say("book.signed_pages", count=len(signed))] if signed else []
    said += [say("book.of_them_read", count=read)] if read else []
    said += [say("book.waiting_pages", count=waiting)] if waiting else []
    return as_sentence("; ".join(said)) if said else ""


def signed_tempo_in_words(page: BookPage, meter: Meter | None) -> str:
    """The fastest tempo it was clean at, with its beat where the metre is known; the target where no take tells."""
    if page.bpm is None:
        return ""
    return f"{beat_in_words(meter)} = {in_figures(page.bpm, '.0f')}" if meter else in_figures(page.bpm, ".0f")


def waiting_in_words(page: BookPage) -> str:
    """At which tempo it is in time, and at which it is signed."""
    figures = page.figures
    if figures.clean_bpm is None or figures.target_bpm is None:
        return say("book.in_time_so_far")
    if figures.clean_bpm >= figures.target_bpm:
        return say("book.another_day", target=figures.target_bpm)
    return say("book.sign_at", now=figures.clean_bpm, target=figures.target_bpm)


def back_in_words(page: BookPage, kept_bpms: tuple[int, ...], today: date) -> tuple[str, ...]:
    """What was played of a page: its takes and days, when it earned what, and the tempi that were kept."""
    figures = page.figures
    first, last = (day_in_words(day, today) for day in (figures.first_day, figures.last_day))
    said = [say("book.takes", count=figures.takes, first=first, last=last)]
    if figures.read_day is not None:
        said.append(say("book.read_on", day=day_in_words(figures.read_day, today)))
    in_time = dict(figures.marks).get(Mark.IN_TIME.value)
    if in_time is not None:
        said.append(say("book.in_time_since", day=day_in_words(in_time, today)))
    if kept_bpms:
        said.append(say("book.kept", tempi=tuple(map(str, kept_bpms[-_MOST_TEMPI:]))))
    return tuple(said)


def day_in_words(day: date, today: date) -> str:
    """A day, with its year where that is another than that of today."""
    return on_day(day, "short" if day.year == today.year else "column")
