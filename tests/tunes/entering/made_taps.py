"""Taps of a hand that is never quite on the click."""

from fractions import Fraction
from random import Random

from game.tunes.entering.draft import Draft, DraftPitch
from game.tunes.entering.entering import Entering, EntryStep, in_step
from game.tunes.entering.rhythm_entry import begun, ended, ends_itself, struck
from game.tunes.entering.tapped_rhythm import Tap

BEATS = tuple(Fraction(beat) for beat in range(8))
QUARTER_S = 0.75
"""At 80 quarters a minute."""


def with_pitches(count: int, **head) -> Entering:
    """A draft with so many pitches and no rhythm yet, in the step of the rhythm."""
    pitches = tuple(DraftPitch(sounding=55 + number % 8) for number in range(count))
    draft = Draft(pitches=pitches, **head)
    return in_step(Entering(draft=draft.__class__(**{**fields_of(draft), "settled": draft.start})), EntryStep.RHYTHM)


def fields_of(draft: Draft) -> dict:
    return {name: getattr(draft, name) for name in draft.__dataclass_fields__}


def taps(places, *, start=Fraction(0), zero_s=100.0, quarter_s=QUARTER_S, late_s=0.0, spread_s=0.0, seed=1, rests=()):
    """A tap at each place in quarter notes, and one that says rest at each of `rests`."""
    chance = Random(seed)
    both = [(place, False) for place in places] + [(place, True) for place in rests]
    return tuple(
        Tap(at_s=zero_s + float(place - start) * quarter_s + late_s + chance.gauss(0, spread_s), rest=rest)
        for place, rest in sorted(both)
    )


def tapped_run(state: Entering, made, *, until=None, zero_s=100.0, quarter_s=QUARTER_S) -> Entering:
    """The state after a run with these taps, until it ends itself, or `until` so many quarter notes are over."""
    state = begun(state, zero_s=zero_s, quarter_s=quarter_s)
    for tap in made:
        state = struck(state, tap)
    now_s = zero_s if until is None else zero_s + float(until - state.run.start) * quarter_s
    while until is None and not ends_itself(state, now_s):
        now_s += 1 / 60
    return ended(state, now_s)


def rhythm_of(state: Entering) -> list:
    return [(onset.at, onset.rest_at) for onset in state.draft.onsets]
