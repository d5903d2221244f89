"""Tunes of the book, tapped by a hand: what was written of each, beside what its page says."""

from dataclasses import dataclass
from fractions import Fraction
from random import Random

from game.music.score import Rest, Score
from game.tunes.entering.draft import Draft, DraftPitch
from game.tunes.entering.entering import Entering, EntryStep, in_step
from game.tunes.entering.rhythm_entry import begun, ended, struck
from game.tunes.entering.tapped_rhythm import Tap

ZERO_S = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tapped:
    """A tune that was tapped: how many notes it has, and how many came out where they stand on the page."""

    title: str
    notes: int
    right: int
    whole: bool


def can_be_tapped(score: Score) -> bool:
    """Whether it keeps one metre, and its bars are full."""
    meter = score.bars[0].meter
    return all(bar.meter == meter and (bar.pickup or bar.length == meter.bar_length) for bar in score.bars)


def places_of(score: Score) -> tuple[list[Fraction], list[Fraction]]:
    """Where notes begin, and where rests do behind a note; from the first bar line, without repeats."""
    onsets: list[Fraction] = []
    rests: list[Fraction] = []
    at = -score.bars[0].length if score.bars[0].pickup else Fraction(0)
    rest_before = True
    for bar in score.bars:
        for event in bar.events:
            is_rest = isinstance(event, Rest)
            if is_rest and not rest_before:
                rests.append(at + event.onset)
            if not is_rest and event.length and not event.tied_from_previous:
                onsets.append(at + event.onset)
            rest_before = is_rest
        at += bar.length
    return onsets, rests


def tapped_by_hand(score: Score, seed: int, *, bpm: float, spread_s: float, lean_s: float) -> Tapped:
    """The tune tapped at so many beats a minute by a hand that is off by chance, and leans up to so much."""
    onsets, rests = places_of(score)
    first, chance = score.bars[0], Random(seed)
    pickup = first.length if first.pickup else Fraction(0)
    quarter_s = 60.0 / bpm / float(first.meter.beat_length)
    pitches = tuple(DraftPitch(sounding=60) for _ in onsets)
    draft = Draft(meter=first.meter, pickup=pickup, settled=-pickup, pitches=pitches, swung=False)
    state = begun(in_step(Entering(draft=draft), EntryStep.RHYTHM), zero_s=ZERO_S, quarter_s=quarter_s)
    lean = chance.uniform(-lean_s, lean_s)
    for place, rest in sorted([(place, False) for place in onsets] + [(place, True) for place in rests]):
        at_s = ZERO_S + float(place + pickup) * quarter_s + lean + chance.gauss(0, spread_s)
        state = struck(state, Tap(at_s=at_s, rest=rest))
    state = ended(state, ZERO_S + 1e5)
    found = [onset.at for onset in state.draft.onsets]
    right = len(set(found) & set(onsets))
    return Tapped(title=score.title, notes=len(onsets), right=right, whole=found == onsets)
