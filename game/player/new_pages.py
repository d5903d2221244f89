"""Where the notes of a tune's pages stood before it was cut as its phrases fall: by that what the former pages earned
goes over to them.
"""

from collections.abc import Sequence
from typing import NamedTuple

from game.coach.events import FormerPage, PageCutAnew
from game.music.former_pages import former_pages
from game.music.passage import Passage
from game.music.score import Score
from game.player.note_numbers import NoteNumbers
from game.practice_log.rows.passage_key import passage_key


class NewPages(NamedTuple):
    """What is to be said of the pages of a tune that are others than before, and the former pages by their names, those
    that are pages no more.
    """

    said: tuple[PageCutAnew, ...] = ()
    former: tuple[tuple[str, Passage], ...] = ()


def new_pages(score: Score, pages: Sequence[tuple[str, Passage]]) -> NewPages:
    """Of a written-out tune with its pages by their names. A page that is as before is not told of."""
    before = former_pages(score)
    same = {(page.start, page.stop) for page in before}
    if all((page.start, page.stop) in same for _, page in pages):
        return NewPages()
    named = [(passage_key(page), page) for page in before]
    still, former_names = {name for name, _ in pages}, {name for name, _ in named}
    numbers = NoteNumbers(score)
    said = (
        PageCutAnew(is_now=name, former=_former(page, named, numbers))
        for name, page in pages
        if name not in former_names
    )
    return NewPages(tuple(said), tuple((name, page) for name, page in named if name not in still))


def _former(page: Passage, before: Sequence[tuple[str, Passage]], numbers: NoteNumbers) -> tuple[FormerPage, ...]:
    """Where the notes of a page stood; at first where most of them did."""
    found = []
    for name, one in before:
        start, stop = max(page.start, one.start), min(page.stop, one.stop)
        if start < stop:
            first, last = 1 + numbers.count(page.start, start), numbers.count(page.start, stop)
            shift = numbers.struck_from(one, start) - numbers.struck_from(page, start)
            if first <= last:
                found.append(FormerPage(name=name, first=first, last=last, shift=shift))
    return tuple(sorted(found, key=lambda part: part.first - part.last))
