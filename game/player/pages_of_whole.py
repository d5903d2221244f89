"""The pages of a tune that is played as a whole, by which a clean take of it counts for each of them."""

from collections.abc import Callable
from dataclasses import replace

from game.coach.events import PassageFacts
from game.coach.played_whole import PageOfWhole
from game.lines.titles import line_of_title
from game.music.drill_title import is_drill_title
from game.music.passage import Passage, passages_of
from game.player.note_numbers import NoteNumbers
from game.practice_log.queries.passage_facts import TunePagesTold


def pages_of_whole(whole: Passage, facts_of: Callable[[Passage], PassageFacts]) -> TunePagesTold | None:
    """The pages of a tune; None of bars that are no whole tune, of lines, which have no pages to come back to, and of
    what is one page itself. Of pages that are the same note for note there is one.
    """
    title = whole.score.title
    if not whole.whole or is_drill_title(title) or line_of_title(title) is not None:
        return None
    numbers, name = NoteNumbers(whole.score), facts_of(whole).name
    pages: dict[str, PageOfWhole] = {}
    for page in passages_of(whole.score):
        facts = replace(facts_of(page), target_bpm=None)
        first, last = numbers.in_whole(page)
        pages.setdefault(facts.name, PageOfWhole(facts=facts, first=first, last=last))
    return None if name in pages else TunePagesTold(whole=name, pages=tuple(pages.values()))
