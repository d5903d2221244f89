"""Whether a passage has earned its metronome, and the first tempo."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import ceil
from statistics import median

from game.coach.certainty import wilson_lower
from game.coach.events import PassageFacts, TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers


class Readiness(Enum):
    """What still stands between the player and the metronome."""

    READY = "ready"
    UNSURE = "unsure"
    SLOW = "slow"


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageReadiness:
    """Readiness with the tempo that the finding times allow; None while nothing was timed."""

    readiness: Readiness
    first_bpm: int | None


def surely_right(right: float, asked: float, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether accuracy surely reaches the share of the table: one wrong in 16, three in 32."""
    return wilson_lower(right, asked, numbers.confidence_z) >= numbers.ready_share


def readiness_of(
    *, sure: bool, find_times_s: Sequence[float], passage: PassageFacts, numbers: CoachNumbers = NUMBERS
) -> PassageReadiness:
    """Ready when the pitches are sure and four of five are found within the usual note length at 50.

    Without finding times (a self-checked take) the pitches decide and the first tempo is that of the table.
    """
    bpm = first_tempo(find_times_s, passage, numbers)
    if not sure:
        return PassageReadiness(readiness=Readiness.UNSURE, first_bpm=bpm)
    if bpm is not None and bpm < numbers.quick_at_bpm:
        return PassageReadiness(readiness=Readiness.SLOW, first_bpm=bpm)
    return PassageReadiness(readiness=Readiness.READY, first_bpm=bpm if bpm is not None else int(numbers.quick_at_bpm))


def own_pace(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> int | None:
    """How fast the player went without a click, by the usual time from note to note and the usual note length: beats a
    minute, within the lowest and the highest. None where no times were taken.
    """
    bpm = usual_pace(result.find_times_s, result.passage)
    return None if bpm is None else min(max(bpm, numbers.lowest_bpm), numbers.highest_bpm)


def usual_pace(find_times_s: Sequence[float], passage: PassageFacts) -> int | None:
    """The tempo at which half of the notes were found within the usual note length, rounded down; None without times
    above 0.
    """
    usual_s = median(find_times_s) if find_times_s else 0.0
    return int(60 * passage.usual_note_beats / usual_s) if usual_s > 0 else None


def first_tempo(find_times_s: Sequence[float], passage: PassageFacts, numbers: CoachNumbers = NUMBERS) -> int | None:
    """The tempo at which four notes of five would have been found within the usual note length, rounded down.

    At most the target tempo. Below 50 it means: not yet. None without finding times.
    """
    if not find_times_s:
        return None
    ordered = sorted(find_times_s)
    slowest_s = max(ordered[ceil(round(numbers.quick_share * len(ordered), 6)) - 1], 1e-3)
    bpm = int(min(60 * passage.usual_note_beats / slowest_s, numbers.highest_bpm))
    return bpm if passage.target_bpm is None else min(bpm, max(passage.target_bpm, numbers.lowest_bpm))
