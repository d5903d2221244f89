"""What facts say of passages to the coach, as content and back: that a file was read anew, that pages were cut anew."""

from collections.abc import Iterator
from contextlib import suppress
from typing import Any

from game.coach.events import FormerPage, PageCutAnew, PassageRenamed

MOST_FORMER = 100
"""Of so many pages one is made: more says nothing that makes sense."""


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
