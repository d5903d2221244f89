"""A clean take of a whole tune is one of each of its pages."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from game.coach.events import PagePlayed, PassageFacts, TakeResult
from game.coach.heard_enough import is_heard_enough
from game.coach.judged_take import JudgedNote, take_result
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Stage
from game.coach.tempo.clean_takes import is_clean

_COUNTING = (Stage.PLACES, Stage.TIME, Stage.SIGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class PageOfWhole:
    """A page of a tune: what the coach must know of it, and which notes of the whole it holds, from 1. Raises
    `ValueError` for a page without notes.
    """

    facts: PassageFacts
    first: int
    last: int

    def __post_init__(self) -> None:
        if not 1 <= self.first <= self.last:
            raise ValueError(f"no page has the notes {self.first} to {self.last}")


def pages_played(
    whole: TakeResult, notes: Iterable[JudgedNote], pages: Sequence[PageOfWhole], numbers: CoachNumbers = NUMBERS
) -> tuple[PagePlayed, ...]:
    """What was played of each page in a take of the whole tune; nothing unless that was clean, to the end and without a
    stop, and pitches were asked at their places or in time.

    Each has its own notes right and wrong. Its bars had been met as often as those of the whole that were met most
    often, which may make a first sighting of bars a later one, and never the other way round.
    """
    clean = is_heard_enough(whole, numbers) and is_clean(whole, numbers)
    if whole.stage not in _COUNTING or not whole.kept_going or not clean:
        return ()
    judged = tuple(notes)
    return tuple(PagePlayed(result) for page in pages if (result := _of_page(whole, judged, page)).homes)


def _of_page(whole: TakeResult, notes: Sequence[JudgedNote], page: PageOfWhole) -> TakeResult:
    own = [note._replace(n=note.n - page.first + 1) for note in notes if page.first <= note.n <= page.last]
    return take_result(
        own,
        (),
        passage=replace(page.facts, target_bpm=whole.passage.target_bpm),
        day=whole.day,
        stage=whole.stage,
        tempo_bpm=whole.tempo_bpm,
        sighting=whole.sighting,
        heard=whole.heard,
        known_by_ear=whole.known_by_ear,
        self_marked=whole.self_marked,
        settling=whole.settling,
        minute=whole.minute,
    )
