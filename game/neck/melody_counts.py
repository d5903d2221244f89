"""How often each pitch, and each pair of neighbouring pitches, occurs in some melodies."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class MelodyCounts:
    """Counts of sounding MIDI numbers, and of ordered pairs of neighbours.

    Neighbours follow each other within a tune, across rests too: the hand has to get there all the same. A note
    repeated is a pair with itself, which moves nothing. Tunes are not neighbours.
    """

    counts: Mapping[int, int] = field(default_factory=dict)
    pairs: Mapping[tuple[int, int], int] = field(default_factory=dict)

    @property
    def notes(self) -> int:
        """How many notes there are."""
        return sum(self.counts.values())


def melody_counts(phrases: Iterable[Sequence[int]]) -> MelodyCounts:
    """The counts of some tunes, each the sounding MIDI numbers of its notes in order of play."""
    counts, pairs = Counter[int](), Counter[tuple[int, int]]()
    for phrase in phrases:
        counts.update(phrase)
        pairs.update(pairwise(phrase))
    return MelodyCounts(dict(counts), dict(pairs))


def counted_together(parts: Iterable[MelodyCounts]) -> MelodyCounts:
    """The counts of all these tunes."""
    counts, pairs = Counter[int](), Counter[tuple[int, int]]()
    for part in parts:
        counts.update(part.counts)
        pairs.update(part.pairs)
    return MelodyCounts(dict(counts), dict(pairs))
