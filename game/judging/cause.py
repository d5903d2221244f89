"""Why a pitch was wrong, where it can be told: of a note alone, and of all wrong notes of a take together.

A note alone can seldom tell a slip of the hand from a misreading: what somebody does once or always, at one letter or
at any, tells them apart. While a take runs the note alone has to do.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from game.instrument.decoding.played import PlayedNote
from game.judging.causes.cause_numbers import CAUSE_NUMBERS, CauseNumbers
from game.judging.causes.stories import StoryTeller, story_teller
from game.judging.causes.weighing import Weighing, likeliest
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Cause, NoteVerdict, Verdict


def octave_off(expected: ExpectedNote, sounding: int) -> bool:
    """Whether only the octave is wrong."""
    return sounding != expected.sounding and (sounding - expected.sounding) % 12 == 0


def octaves_too_high(expected: ExpectedNote, sounding: int) -> int:
    """How many octaves too high the right letter was played, negative too low; 0 for another letter."""
    return (sounding - expected.sounding) // 12 if octave_off(expected, sounding) else 0


def cause_of(expected: ExpectedNote, played: PlayedNote) -> Cause:
    """The likeliest cause of a wrong pitch, told from this note alone; `played` does not sound the written pitch."""
    if octave_off(expected, played.sounding):
        return Cause.OCTAVE
    return likeliest(_alone(expected).stories(0, played), CAUSE_NUMBERS)


@lru_cache(maxsize=512)
def _alone(expected: ExpectedNote) -> StoryTeller:
    return story_teller((expected,))


def with_causes(
    expected: Sequence[ExpectedNote], verdicts: Sequence[NoteVerdict], numbers: CauseNumbers = CAUSE_NUMBERS
) -> tuple[NoteVerdict, ...]:
    """The same verdicts, the causes of wrong pitches told from the whole take. Both in the same order, one for each
    written note.
    """
    told = list(verdicts)
    wrong = [
        index
        for index, verdict in enumerate(told)
        if verdict.verdict is Verdict.WRONG_PITCH and verdict.answers and not verdict.octave_off
    ]
    if not wrong:
        return tuple(told)
    teller = story_teller(expected, numbers)
    stories = [teller.stories(index, told[index].answers[0]) for index in wrong]
    causes = Weighing(wrong, stories, teller.counts, numbers).causes()
    for index, cause in zip(wrong, causes, strict=True):
        if told[index].cause is not cause:
            told[index] = replace(told[index], cause=cause)
    return tuple(told)
