"""The way of the hand through a take in free reading: the one it went, beside the best one, phrase by phrase.

Of a phrase it is told only where all of it was played: each note right, and its place known. Between phrases the music
breathes, and the hand has time.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from game.judging.expected import ExpectedNote
from game.judging.summary import is_asked
from game.judging.verdicts import COUNTS_AS_CLEAN, NoteVerdict
from game.message import Message, message
from game.music.passage import PASSAGE_BARS, Passage
from game.music.phrase_cuts import phrase_cuts
from game.neck.hand_path import HandPath, best_path_beside, path_of
from game.neck.movement_costs import Fingered
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.practice.finished_take import FinishedTake

FEWEST_NOTES = 2
"""A single note is no way."""

HARDLY_EASIER = 0.75
"""So little more than the best way, less than a stretch of the hand, is as easy as any (ours): who crosses one string
more than needed need not be told.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandInPhrase:
    """The hand in a phrase: its notes by their numbers `n`, the `bars` they stand in, as printed, how they were
    `played`, and of the `easy` ways through them the one that goes along longest; `left_at` is the index of the first
    note that was taken elsewhere than on any easy way, None where there is none. `least_cost` is that of the best way.
    """

    n: tuple[int, ...]
    bars: tuple[str, ...]
    played: HandPath
    easy: HandPath
    least_cost: float
    left_at: int | None

    @property
    def is_best(self) -> bool:
        """Whether no way would have cost less."""
        return self.played.cost <= self.least_cost

    @property
    def is_easy(self) -> bool:
        """Whether hardly any way would have cost less."""
        return self.left_at is None

    @property
    def spared(self) -> float:
        """What the best way costs less (`game.neck.movement_costs`)."""
        return self.played.cost - self.least_cost

    @property
    def frets(self) -> int:
        """How many frets the hand moved along the neck, up and down."""
        return frets_moved(self.played.steps)

    @property
    def easy_frets(self) -> int:
        """How many of them the easy way takes."""
        return frets_moved(self.easy.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandInTake:
    """The `phrases` that were played whole, of `phrase_count` that have a way at all. `placed` is whether the
    instrument told any place.
    """

    phrases: tuple[HandInPhrase, ...]
    phrase_count: int
    placed: bool

    @property
    def shown(self) -> HandInPhrase | None:
        """The phrase to look at: where most was to be gained, and of equals where the hand went farthest."""

        def worth(one: HandInPhrase) -> tuple[float, int]:
            return one.spared, one.frets

        return max(self.phrases, key=worth, default=None)


def frets_moved(steps: Sequence[Fingered]) -> int:
    """How far the hand goes along the neck on its way, in frets: the sum of all its shifts."""
    return sum(abs(after.position - before.position) for before, after in pairwise(steps))


def hand_in_take(finished: FinishedTake) -> HandInTake | None:
    """The way of the hand through a take; None where homes were asked."""
    free_on = finished.free_on
    if free_on is None:
        return None
    verdicts = {verdict.n: verdict for verdict in finished.judgement.verdicts}
    phrases = [
        phrase
        for notes in _phrases(finished.passage, finished.expected)
        if len(phrase := [note for note in notes if is_asked(note, free_on)]) >= FEWEST_NOTES
    ]
    whole = (_hand_in_phrase(phrase, verdicts, free_on) for phrase in phrases)
    return HandInTake(
        phrases=tuple(one for one in whole if one is not None),
        phrase_count=len(phrases),
        placed=any(note.place is not None for verdict in verdicts.values() for note in verdict.answers),
    )


def _phrases(passage: Passage, expected: Sequence[ExpectedNote]) -> Iterator[list[ExpectedNote]]:
    """The notes phrase by phrase, as the tune is divided into pages; of a phrase that was cut those that were asked."""
    for start, stop in phrase_cuts(passage.score.bars, PASSAGE_BARS):
        yield [note for note in expected if start <= passage.start + note.note.heads[0].bar < stop]


def _hand_in_phrase(
    notes: Sequence[ExpectedNote], verdicts: dict[int, NoteVerdict], neck_map: NeckMap
) -> HandInPhrase | None:
    """None where a note of it was not right, or nothing told where it was taken."""
    places = [_place_of(verdicts[note.n], note.sounding) for note in notes]
    known = [place for place in places if place is not None]
    if len(known) < len(notes):
        return None
    hand = neck_map.hand
    beside = best_path_beside(known, tuning=neck_map.tuning, frets=neck_map.frets, hand=hand, within=HARDLY_EASIER)
    return HandInPhrase(
        n=tuple(note.n for note in notes),
        bars=tuple(note.note.bar for note in notes),
        played=path_of(known, hand=hand),
        easy=beside.path,
        least_cost=beside.least_cost,
        left_at=beside.left_at,
    )


def _place_of(verdict: NoteVerdict, sounding: int) -> Place | None:
    """Where a right note was taken."""
    if verdict.verdict not in COUNTS_AS_CLEAN:
        return None
    places = (one.place for one in verdict.answers if one.sounding == sounding and one.place is not None)
    return next(places, None)


def hand_told(hand: HandInTake) -> Message:
    """The way of the hand, or why none is known, in one or two plain sentences."""
    shown = hand.shown
    if shown is None:
        if not hand.phrase_count:
            return message("hand.one_note")
        return message("hand.not_whole" if hand.placed else "hand.unknown")
    told = _phrase_told(shown)
    if hand.phrase_count == 1:
        return told
    easy, count = sum(one.is_easy for one in hand.phrases), len(hand.phrases)
    if easy == count:
        return message("hand.all_easy", count=count, of=hand.phrase_count)
    first, last = shown.bars[0], shown.bars[-1]
    in_bar = message("hand.bar", bar=first, told=told)
    in_bars = in_bar if first == last else message("hand.bars", first=first, last=last, told=told)
    return message("hand.some_easy", easy=easy, count=count, of=hand.phrase_count, bars=in_bars)


def _phrase_told(hand: HandInPhrase) -> Message:
    began, least = roman(hand.played.steps[0].position), roman(hand.easy.steps[0].position)
    stayed = message("hand.stayed", position=began)
    moved = message("hand.moved", count=hand.frets) if hand.frets else stayed
    if hand.left_at is None:
        return message("hand.easiest" if hand.is_best else "hand.easy", moved=moved)
    said = {"moved": moved, "bar": hand.bars[hand.left_at]}
    if hand.frets <= hand.easy_frets:
        return message("hand.less_to_stretch", **said)
    if not hand.easy_frets:
        return message("hand.could_stay", **said, position=least)
    return message("hand.fewer_frets", **said, best=hand.easy_frets)
