"""A tune of the shelf is opened: its page, first sight of it, or the account of what was made of its file."""

from game.errors import HomefretError
from game.music.order_choices import order_choices
from game.music.score import Score
from game.player.tune_pages import TunePages
from game.practice.take_request import request_for
from game.screens.context import ScreenContext
from game.screens.routes import Route, ToImportSummary, ToPage
from game.text.catalogue import tell_all
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry


def opened(
    context: ScreenContext, entry: ShelfEntry, pages: TunePages, page: int, *, at_sight: bool = False
) -> ToPage | None:
    """A page of a tune as the coach says, or all of it at first sight. None, with a sentence, where it cannot be
    opened.
    """
    context.session.last_opened = entry
    try:
        score = open_entry(entry)
    except HomefretError as error:
        context.say_error(error)
        return None
    context.session.log.facts.open_tune(entry.name)
    request = request_for(score, context.settings.neck_map())
    if at_sight:
        return ToPage(request.at_sight(), chosen=True)
    return ToPage(request.moved(pages.pages[page].index if pages.pages else 0))


def import_summary(context: ScreenContext, entry: ShelfEntry) -> Route | None:
    """What was made of a tune. None, with a sentence, where it cannot be opened."""
    try:
        return ToImportSummary(entry, open_entry(entry))
    except HomefretError as error:
        context.say_error(error)
    return None


def opened_dropped(context: ScreenContext, entry: ShelfEntry, pages: TunePages, page: int) -> Route | None:
    """What was dropped here is opened, and how its octave was settled is said. Where more was guessed or left out, or
    the order of play was a choice, its account comes first.
    """
    route = opened(context, entry, pages, page)
    if route is None:
        return None
    score = route.request.score
    if _wants_account(context, score):
        return import_summary(context, entry)
    settled = (score.octave_reason,) if score.octave_reason else ()
    context.say(tell_all((*settled, *score.warnings[:1])))
    return route


def _wants_account(context: ScreenContext, score: Score) -> bool:
    from game.tunes.library.fitting import notes_off_map  # noqa: PLC0415 - not before the first frame

    return bool(score.warnings or order_choices(score.bars) or notes_off_map(score, context.settings.neck_map()))
