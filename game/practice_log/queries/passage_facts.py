"""What facts say of passages, as content and back: that a file was read anew, that pages were cut anew, which pages a
tune has.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from math import isfinite
from typing import Any

from game.coach.events import FormerPage, PageCutAnew, PassageFacts, PassageRenamed
from game.coach.played_whole import PageOfWhole

MOST_FORMER, MOST_PAGES = 100, 2000
"""Of so many pages one is made, so many pages has a tune: more says nothing that makes sense."""


def cut_anew_content(said: PageCutAnew) -> dict[str, Any]:
    """The content of a fact about `About.CUT_ANEW`."""
    former = [{"key": page.name, "first": page.first, "last": page.last, "shift": page.shift} for page in said.former]
    return {"is": said.is_now, "former": former}


def said_of_passage(content: Any) -> Iterator[PassageRenamed | PageCutAnew]:
    """What the content of a fact says; nothing where it makes no sense."""
    match content:
        case {"was": {"key": str(was)}, "is": {"key": str(is_now)}}:
            yield PassageRenamed(was=was, is_now=is_now)
        case {"is": str(is_now), "former": [_, *_] as former} if len(former) <= MOST_FORMER:
            with suppress(ValueError):
                yield PageCutAnew(is_now=is_now, former=tuple(_former(page) for page in former))


def _former(page: Any) -> FormerPage:
    """Raises `ValueError` for what is no page."""
    match page:
        case {"key": str(name), "first": int(first), "last": int(last), "shift": int(shift)}:
            return FormerPage(name=name, first=first, last=last, shift=shift)
    raise ValueError(f"no former page: {page!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class TunePagesTold:
    """The pages of the tune that is called `whole`."""

    whole: str
    pages: tuple[PageOfWhole, ...]


def tune_pages_content(told: TunePagesTold) -> dict[str, Any]:
    """The content of a fact about `About.TUNE_PAGES`."""
    return {"whole": told.whole, "pages": [_page_content(page) for page in told.pages]}


def told_tune_pages(content: Any) -> TunePagesTold | None:
    """What the content of a fact says of the pages of a tune; None where it makes no sense."""
    match content:
        case {"whole": str(whole), "pages": [_, *_] as pages} if len(pages) <= MOST_PAGES:
            with suppress(ValueError):
                return TunePagesTold(whole=whole, pages=tuple(_page(page) for page in pages))
    return None


def _page_content(page: PageOfWhole) -> dict[str, Any]:
    facts = page.facts
    return {
        "key": facts.name,
        "first": page.first,
        "last": page.last,
        "notes_per_beat": facts.notes_per_beat,
        "usual_note_beats": facts.usual_note_beats,
    }


def _page(content: Any) -> PageOfWhole:
    """Raises `ValueError` for what is no page."""
    match content:
        case {
            "key": str(name),
            "first": int(first),
            "last": int(last),
            "notes_per_beat": int() | float() as rate,
            "usual_note_beats": int() | float() as usual,
        } if isfinite(rate) and isfinite(usual):
            facts = PassageFacts(name=name, notes_per_beat=rate, usual_note_beats=usual)
            return PageOfWhole(facts=facts, first=first, last=last)
    raise ValueError(f"no page of a tune: {content!r}")
