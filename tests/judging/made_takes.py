"""Random lines and timed takes of them with known errors, so that a judge can be held to what was really
done.

Everything is drawn from the generator that is passed in. Nothing here asks the judge anything.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.tolerance import TimedGrid
from game.judging.verdicts import Verdict
from game.music.accidentals import AlteredBy, ShownAccidental
from game.music.pitch import Pitch
from game.music.written import HeadId, WrittenNote
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place

MAP = standard_map()
LOWEST, HIGHEST = MAP.homes[0].sounding, MAP.homes[-1].sounding
RHYTHMS = (
    (Fraction(1, 2), Fraction(1, 2)),
    (Fraction(1), Fraction(1)),
    (Fraction(3, 2), Fraction(1, 2)),
    (Fraction(1), Fraction(1, 2), Fraction(1, 2)),
    (Fraction(2),),
)
LEAST_APART_S = 0.02
_SPELLING = (
    *(("C", 0), ("C", 1), ("D", 0), ("D", 1), ("E", 0), ("F", 0)),
    *(("F", 1), ("G", 0), ("G", 1), ("A", 0), ("A", 1), ("B", 0)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Errors:
    """Shares of notes dropped, added and wrong; bias and spread of the playing in seconds."""

    dropped: float = 0.05
    added: float = 0.05
    wrong: float = 0.05
    bias_s: float = 0.0
    spread_s: float = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeTake:
    """A take and what was done in it. `answers[i]` is what was played for written note i, None when
    dropped.
    """

    played: tuple[PlayedNote, ...]
    answers: tuple[PlayedNote | None, ...]
    added: tuple[PlayedNote, ...]


def written_line(soundings: Sequence[int], lengths: Sequence[Fraction]) -> tuple[WrittenNote, ...]:
    """A line in C, in bars of four quarters, as the page would give it at guitar octave."""
    notes = []
    onset = Fraction(0)
    for n, (sounding, length) in enumerate(zip(soundings, lengths, strict=True), start=1):
        step, alter = _SPELLING[sounding % 12]
        by = AlteredBy.ACCIDENTAL if alter else AlteredBy.NOTHING
        notes.append(
            WrittenNote(
                n=n,
                bar=str(onset // 4 + 1),
                onset=onset,
                length=length,
                pitch=Pitch(step, alter, sounding // 12),
                sounding=sounding,
                heads=(HeadId(0, n - 1),),
                shown=ShownAccidental(sign=alter or None, courtesy=False, altered_by=by),
                signature=0,
            )
        )
        onset += length
    return tuple(notes)


def expected_line(soundings: Sequence[int], lengths: Sequence[Fraction]) -> tuple[ExpectedNote, ...]:
    """The same with homes in position V."""
    return expected_notes(written_line(soundings, lengths), MAP)


def random_line(count: int, rng: random.Random, *, even: bool = False) -> tuple[ExpectedNote, ...]:
    """A walk over the map, mostly by step, some leaps, some repeated notes. `even` gives eighths only."""
    soundings = [rng.randint(LOWEST + 8, HIGHEST - 8)]
    while len(soundings) < count:
        step = rng.choice((-7, -4, -3, -2, -2, -1, -1, 0, 1, 1, 2, 2, 3, 4, 7))
        soundings.append(min(max(soundings[-1] + step, LOWEST), HIGHEST))
    lengths: list[Fraction] = []
    while len(lengths) < count:
        lengths.extend(RHYTHMS[0] if even else rng.choice(RHYTHMS))
    return expected_line(soundings, lengths[:count])


def played_note(sounding: int, started_s: float, place: Place | None = None) -> PlayedNote:
    """A note at `place`, or at its home, or anywhere it can be played."""
    home = MAP.home_of(sounding)
    found = place or (home.place if home else next(iter(STANDARD.places_of(sounding, 22)), None))
    return PlayedNote(started_s=started_s, sounding=sounding, place=found)


def perfect_take(expected: Sequence[ExpectedNote], grid: TimedGrid) -> list[PlayedNote]:
    """Every note at its home, exactly when due."""
    return [played_note(note.sounding, onset_s) for note, onset_s in zip(expected, grid.onsets_s, strict=True)]


def made_take(expected: Sequence[ExpectedNote], grid: TimedGrid, errors: Errors, rng: random.Random) -> MadeTake:
    """Play the line with known errors. Notes keep their order, at least 20 ms apart; added notes fall
    anywhere.
    """
    answers: list[PlayedNote | None] = []
    last_s = -1e9
    for note, onset_s in zip(expected, grid.onsets_s, strict=True):
        fate = rng.random()
        started_s = max(onset_s + rng.gauss(errors.bias_s, errors.spread_s), last_s + LEAST_APART_S)
        if fate < errors.dropped:
            answers.append(None)
            continue
        wrong = fate < errors.dropped + errors.wrong
        off = rng.choice((-12, -3, -2, -2, -1, -1, 1, 1, 2, 2, 3, 12)) if wrong else 0
        answers.append(played_note(note.sounding + off, started_s))
        last_s = started_s
    added = tuple(
        played_note(rng.randint(LOWEST, HIGHEST), rng.uniform(grid.onsets_s[0], grid.onsets_s[-1]))
        for _ in expected
        if rng.random() < errors.added
    )
    played = sorted((*added, *filter(None, answers)), key=lambda note: note.started_s)
    return MadeTake(played=tuple(played), answers=tuple(answers), added=added)


def verdict_as_made(note: ExpectedNote, answer: PlayedNote | None, index: int, grid: TimedGrid) -> Verdict:
    """What was done, in the words of a verdict."""
    if answer is None:
        return Verdict.MISSED
    if answer.sounding != note.sounding:
        return Verdict.WRONG_PITCH
    offset_s = answer.started_s - grid.onsets_s[index]
    if -grid.early_s[index] <= offset_s <= grid.late_s[index]:
        return Verdict.CLEAN
    return Verdict.EARLY if offset_s < 0 else Verdict.LATE


def moved(played: Sequence[PlayedNote], by_s: float) -> tuple[PlayedNote, ...]:
    """The same notes `by_s` later."""
    return tuple(replace(note, started_s=note.started_s + by_s) for note in played)
