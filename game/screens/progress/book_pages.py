"""The pages of the book: what is signed, the newest first, and what waits for it."""

from dataclasses import dataclass, replace
from datetime import date

from game.coach.marks import Mark
from game.errors import LogError
from game.lines.titles import title_told
from game.practice_log.queries.figure_records import PassageFigures
from game.practice_log.queries.figures import figures_of
from game.screens.context import ScreenContext
from game.text.catalogue import tell

MOST = 400
"""So many pages, those with the newest marks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BookPage:
    """A page of the book. `signed` is the day it was signed off, None while it waits; `named` that of the player's own
    signature, None as long as there is none.
    """

    figures: PassageFigures
    signed: date | None
    named: date | None = None

    @property
    def title(self) -> str:
        """Of the tune."""
        return tell(title_told(self.figures.title))

    @property
    def first(self) -> str:
        """Its first bar; a pickup, which is printed as bar 0, goes with the one after it."""
        return "1" if self.figures.first == "0" else self.figures.first

    @property
    def unnamed(self) -> bool:
        """Whether it is signed off, and its player has not signed it yet."""
        return self.signed is not None and self.named is None

    @property
    def bpm(self) -> float | None:
        """The fastest tempo it was clean at; the target where no take tells."""
        return self.figures.clean_bpm or self.figures.target_bpm

    @property
    def in_time(self) -> bool:
        """Whether it was clean with the metronome."""
        return Mark.IN_TIME.value in dict(self.figures.marks)


def book_pages(context: ScreenContext) -> tuple[BookPage, ...]:
    """All pages that are signed off, the newest first, then those in time, which wait. Says what is wrong with a log
    that cannot be read.
    """
    log, named = context.session.log, context.session.log.facts.desk.signed
    try:
        with log.reading() as connection, figures_of(connection, log.player.uuid) as figures:
            passages = figures.newest_marked(MOST)
    except LogError as error:
        context.say_error(error)
        return ()
    # A teacher's target may have held for the last take: the page is signed at the player's own.
    own = context.settings.target_bpm
    pages = [_page(replace(passage, target_bpm=own), named.get(passage.key)) for passage in passages]
    signed = sorted((page for page in pages if page.signed), key=lambda page: page.signed or date.min, reverse=True)
    return (*signed, *(page for page in pages if page.signed is None and page.in_time))


def _page(passage: PassageFigures, named: date | None) -> BookPage:
    return BookPage(figures=passage, signed=dict(passage.marks).get(Mark.SIGNED_OFF.value), named=named)
