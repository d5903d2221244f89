"""The notes of a page that are still in pencil, and how far each has come."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from game.coach.notes.ink import InkRecord, SpellingKey
from game.coach.notes.items import map_name
from game.coach.numbers import NUMBERS
from game.judging.expected import ExpectedNote
from game.judging.verdicts import NoteVerdict, Verdict
from game.music.pitch import Pitch
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.text.catalogue import say

MOST_IN_WORK = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteInWork:
    """A written note and what it has come to: whether it was `met`, its quick finds, and whether they were on two days.
    `now` are those of the take under way.
    """

    pitch: Pitch
    met: bool
    finds: int
    two_days: bool
    now: int = 0

    @property
    def filled(self) -> float:
        """How much of the way to ink is behind it; the last step is another day's, and music's."""
        return min(self.finds + self.now, NUMBERS.ink_finds) / (NUMBERS.ink_finds + 1)

    @property
    def state_words(self) -> str:
        """What it has come to, in words."""
        if self.two_days:
            return say("work.two_days")
        count = min(self.finds + self.now, NUMBERS.ink_finds)
        if count:
            return say("work.found", count=count)
        return say("work.met" if self.met else "work.not_met")


def notes_in_work(context: ScreenContext, request: TakeRequest) -> tuple[NoteInWork, ...]:
    """The notes of a request that are not ink yet, at most five: those first that came up most often to be slow, wrong
    or due, in the order of the page.
    """
    notes, neck_map = context.session.notes, request.neck_map
    inks, on_map, weights = notes.mastery.ink, map_name(neck_map), notes.weights(neck_map)
    found: dict[str, tuple[float, NoteInWork]] = {}
    for note in request.passage.notes:
        home = neck_map.home_of(note.sounding)
        if home is None or note.pitch.name in found:
            continue
        record = inks.get(SpellingKey(note.pitch.name, on_map, home.place))
        if record is None or record.inked_day is None:
            found[note.pitch.name] = -weights.get(note.sounding, 0.0), _in_work(note.pitch, record)
    heaviest = sorted(found, key=lambda name: found[name][0])[:MOST_IN_WORK]
    return tuple(found[name][1] for name in found if name in heaviest)


def _in_work(pitch: Pitch, record: InkRecord | None) -> NoteInWork:
    known = record or InkRecord()
    return NoteInWork(pitch=pitch, met=record is not None, finds=known.finds, two_days=known.two_days)


def with_take(
    work: tuple[NoteInWork, ...], expected: Iterable[ExpectedNote], answered: Iterable[NoteVerdict]
) -> tuple[NoteInWork, ...]:
    """The notes with what was found quickly and unhelped in a take: the log says it in the end."""
    notes, verdicts = tuple(expected), {verdict.n: verdict for verdict in answered}
    quick = _quick_finds(notes, verdicts)
    met = {note.note.pitch for note in notes if note.n in verdicts}
    return tuple(replace(one, now=quick.count(one.pitch), met=one.met or one.pitch in met) for one in work)


def _quick_finds(expected: tuple[ExpectedNote, ...], answered: Mapping[int, NoteVerdict]) -> list[Pitch]:
    """The first note has no time to find, and one that is repeated was not looked for."""
    asked = (note for before, note in pairwise(expected) if note.sounding != before.sounding)
    return [note.note.pitch for note in asked if _is_quick(answered.get(note.n))]


def _is_quick(verdict: NoteVerdict | None) -> bool:
    if verdict is None or verdict.verdict is not Verdict.CLEAN or verdict.time_to_find_ms is None:
        return False
    return verdict.time_to_find_ms <= 1000 * NUMBERS.slow_find_s
