"""Where a new passage probably stands: what passages of like density taught, compared in notes a second."""

from collections.abc import Collection
from itertools import islice
from math import exp, log, sqrt

from game.coach.events import PassageFacts
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import PassageRecord
from game.coach.tempo.belief import Belief
from game.coach.tempo.steady_tempo import prior

_NEWEST = 100
"""So many passages of those played last teach about a new one (ours): the player of three years ago was another."""


def prior_for(
    passage: PassageFacts, records: Collection[PassageRecord], first_bpm: float, numbers: CoachNumbers = NUMBERS
) -> Belief:
    """The belief a passage begins with: its first tempo and the passages like it, each with its own sharpness.
    `records` are in the order in which the passages were played last.
    """
    centre, spread = log(first_bpm) + numbers.first_tempo_margin, numbers.first_tempo_spread
    like = _like(passage, records, numbers)
    if like is not None:
        like_centre, like_spread = like
        weight, like_weight = spread**-2, like_spread**-2
        centre = (centre * weight + like_centre * like_weight) / (weight + like_weight)
        spread = 1 / sqrt(weight + like_weight)
    return prior(exp(centre), spread, numbers)


def has_like_passages(
    passage: PassageFacts, records: Collection[PassageRecord], numbers: CoachNumbers = NUMBERS
) -> bool:
    """Whether any passage is near enough to teach about this one."""
    return _like(passage, records, numbers) is not None


def _like(
    passage: PassageFacts, records: Collection[PassageRecord], numbers: CoachNumbers
) -> tuple[float, float] | None:
    """Mean and spread of log steady tempo at this density, from passages whose estimate is sharp."""
    total = weighted = 0.0
    sharp = (
        (record.belief, record.facts)
        for record in reversed(tuple(records))
        if record.belief is not None
        and record.facts.name != passage.name
        and record.belief.spread <= numbers.known_spread
    )
    for belief, facts in islice(sharp, _NEWEST):
        apart = log(facts.notes_per_beat / passage.notes_per_beat)
        weight = exp(-((apart / numbers.like_density_width) ** 2) / 2)
        total += weight
        weighted += weight * log(belief.bpm * facts.notes_per_beat / passage.notes_per_beat)
    if total < 0.1:
        return None
    # One fully alike passage leaves its spread; ten thin ones, or one far off, leave more doubt.
    return weighted / total, numbers.like_passage_spread * sqrt(1 + 1 / total) / sqrt(2)
