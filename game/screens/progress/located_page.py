"""Where the bars of a page of the book stand: the tune on the shelf, and the request that lays them on the desk."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from game.errors import HomefretError
from game.music.passage import Passage, whole_tune
from game.practice.take_request import TakeRequest, request_for
from game.practice_log.queries.figure_records import PassageFigures
from game.practice_log.rows.passage_key import passage_key
from game.screens.context import ScreenContext
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry


@dataclass(frozen=True, slots=True, kw_only=True)
class LocatedPage:
    """The tune on the shelf, and its bars as a request."""

    entry: ShelfEntry
    request: TakeRequest

    @property
    def passage(self) -> Passage:
        """The bars."""
        return self.request.passage


def located_page(
    context: ScreenContext, figures: PassageFigures, entries: tuple[ShelfEntry, ...]
) -> LocatedPage | None:
    """The bars of these figures among the tunes of the shelf; None where they are there no more: lines are made for
    once, and tunes can be taken away.
    """
    for entry in _likely(context, figures, entries):
        try:
            request = request_for(open_entry(entry), context.settings.neck_map())
        except HomefretError:
            continue
        same = [passage for passage in _candidates(request, figures) if passage_key(passage) == figures.key]
        if same:
            # Bars may come again note for note: those with the same numbers are meant.
            numbers = figures.first, figures.last
            passage = next((one for one in same if one.bar_numbers == numbers), same[0])
            return LocatedPage(entry=entry, request=_at(request, passage))
    return None


def _likely(context: ScreenContext, figures: PassageFigures, entries: tuple[ShelfEntry, ...]) -> Iterator[ShelfEntry]:
    """The tunes of that title; only where it is none of them, that in which the plan finds the passage, which
    looks through every tune that was ever opened.
    """
    yield from (entry for entry in entries if entry.title == figures.title)
    found = context.session.plan.find_passage(figures.key)
    if found is not None:
        yield found.entry


def _candidates(request: TakeRequest, figures: PassageFigures) -> Iterator[Passage]:
    """The passages of a tune, the whole of it, and bars between the same bar numbers."""
    yield from request.passages
    score = request.passage.score
    yield whole_tune(score)
    for start, first in enumerate(score.bars):
        if first.number == figures.first:
            stops = (
                stop for stop in range(start + 1, len(score.bars) + 1) if score.bars[stop - 1].number == figures.last
            )
            for stop in stops:
                passage = Passage(score=score, start=start, stop=stop)
                if passage.notes:
                    yield passage


def _at(request: TakeRequest, passage: Passage) -> TakeRequest:
    if passage in request.passages:
        return replace(request, index=request.passages.index(passage))
    return replace(request, passages=(passage,), index=0)
