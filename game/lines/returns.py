"""What comes back in a song: units with the letter of an earlier one, and bars with the rhythm of the one before."""

from collections.abc import Mapping, Sequence
from random import Random

from game.lines.developing import SAME, SEQUENCE
from game.lines.form import Unit
from game.lines.rhythms import ticks_of
from game.lines.song_plan import SongPlan
from game.lines.walk import TakenUp

# How often a bar that takes up the steps of the one before has its notes as well.
_BAR_SAME = 0.45
_FEWEST = 3


def returns_in(plan: SongPlan, rng: Random) -> Mapping[int, TakenUp]:
    """What comes back, by the note it begins at."""
    found: dict[int, TakenUp] = {}
    known: dict[str, tuple[int, tuple[int, ...]]] = {}
    first = 0
    for unit, onsets in zip(plan.units, plan.onsets, strict=True):
        start = unit.start * ticks_of(plan.request.meter)
        own = tuple(onset - start for onset in onsets)
        if unit.letter in known:
            found |= _unit_again(plan, unit, (first, own), known[unit.letter], rng)
        else:
            known[unit.letter] = (first, own)
            found |= _bar_again(plan, own, first, rng)
        first += len(onsets)
    return found


def _unit_again(
    plan: SongPlan, unit: Unit, ours: tuple[int, tuple[int, ...]], theirs: tuple[int, tuple[int, ...]], rng: Random
) -> dict[int, TakenUp]:
    """A unit that comes back: its first note and onsets, and those of the first time. Where one has a pickup and the
    other not, they are taken from their first bar on.
    """
    (first, onsets), (source, earlier) = ours, theirs
    skip, skipped = _before_bar(onsets), _before_bar(earlier)
    if skip == skipped:
        skip = skipped = 0
    shared = _shared(onsets[skip:], earlier[skipped:])
    without_end = sum(onset < (unit.bars - 1) * ticks_of(plan.request.meter) for onset in onsets[skip:])
    manner, drawn = plan.manner, rng.random()
    kinds, count = (SAME, SEQUENCE), shared
    if drawn >= manner.same:
        count = min(shared, without_end)
    if drawn >= manner.same + manner.answer:
        kinds = (SEQUENCE, SAME)
    if drawn >= manner.same + manner.answer + manner.sequence or count < _FEWEST:
        return {}
    return {first + skip: TakenUp(source + skipped, count, kinds)}


def _before_bar(onsets: Sequence[int]) -> int:
    """How many notes of a unit belong to its pickup."""
    return sum(onset < 0 for onset in onsets)


def _shared(ours: Sequence[int], theirs: Sequence[int]) -> int:
    """How many onsets are the same from the beginning."""
    pairs = list(zip(ours, theirs, strict=False))
    return next((at for at, (one, other) in enumerate(pairs) if one != other), len(pairs))


def _bar_again(plan: SongPlan, onsets: Sequence[int], first: int, rng: Random) -> dict[int, TakenUp]:
    """A bar with the rhythm of the one before may have its steps or its notes as well."""
    length = ticks_of(plan.request.meter)
    before, bar = ([at for at, onset in enumerate(onsets) if onset // length == place] for place in (0, 1))
    alike = [onsets[at] for at in before] == [onsets[at] - length for at in bar]
    if len(bar) > 1 and alike and rng.random() < plan.manner.moved:
        kinds = (SAME,) if rng.random() < _BAR_SAME else (SEQUENCE,)
        return {first + bar[0]: TakenUp(first + before[0], len(before), kinds)}
    return {}
