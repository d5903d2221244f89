"""Which story is the likeliest at each wrong note, all of a take weighed together.

How often each cause and each kind of it was at work in this take is told from the notes, and the notes from that, in
turn: a few rounds of mixture weights. A rate is what happened over the notes at which it could have happened, with
the figures of the table as a floor; what was thought of a note does not count at that note. So a slip among slips is a
slip, and a letter that is always read as the next one is misread, however like they sound once.
"""

from collections import defaultdict
from collections.abc import Sequence

from game.judging.causes.cause_numbers import CauseNumbers
from game.judging.causes.stories import Counts, Kind, Story
from game.judging.verdicts import Cause

_NEARBY = 2
# Stories this much less likely than the best one at their note, by the table alone, are left out: no take of a usual
# length turns them round.
_HOPELESS = 0.01


def likeliest(stories: Sequence[Story], numbers: CauseNumbers) -> Cause:
    """The cause of a wrong note of which nothing else is known."""
    return max(stories, key=lambda story: numbers.rates[story.kind[0]] * story.share * story.chance).cause


class Weighing:
    """The wrong notes of one take, being weighed. `indices` are their places in the take, in order."""

    def __init__(
        self, indices: Sequence[int], stories: Sequence[Sequence[Story]], counts: Counts, numbers: CauseNumbers
    ) -> None:
        self._indices, self._numbers = indices, numbers
        self._rates = numbers.rates
        self._exposures = {word: counts.of(word) for word in numbers.rates}
        self._of_word: defaultdict[str, float] = defaultdict(float)
        self._of_kind: defaultdict[Kind, float] = defaultdict(float)
        self._stories: list[Sequence[Story]] = []
        self._weights: list[list[float]] = []
        for told in stories:
            self._add(told)

    def causes(self) -> list[Cause]:
        """The likeliest cause of each note."""
        unsure = [at for at, told in enumerate(self._stories) if len(told) > 1]
        for _ in range(self._numbers.rounds if len(self._stories) > 1 else 0):
            for at in unsure:
                self._count(at, -1)
                self._weights[at] = _normal([self._rate(at, story) * story.chance for story in self._stories[at]])
                self._count(at, 1)
        return [
            told[weights.index(max(weights))].cause for told, weights in zip(self._stories, self._weights, strict=True)
        ]

    def _add(self, told: Sequence[Story]) -> None:
        """One more note, with what the table makes of its stories."""
        weights = [self._rates[story.kind[0]] * story.share * story.chance for story in told]
        least = _HOPELESS * max(weights)
        self._stories.append([story for story, weight in zip(told, weights, strict=True) if weight > least])
        self._weights.append(_normal([weight for weight in weights if weight > least]))
        self._count(len(self._stories) - 1, 1)

    def _count(self, at: int, sign: int) -> None:
        for story, weight in zip(self._stories[at], self._weights[at], strict=True):
            self._of_word[story.kind[0]] += sign * weight
            self._of_kind[story.kind] += sign * weight

    def _rate(self, at: int, story: Story) -> float:
        """How often this kind of thing happened in the take, the note at `at` left out."""
        numbers, word = self._numbers, story.kind[0]
        strength = numbers.rate_strength
        of_all = (self._of_word[word] + self._rates[word] * strength) / (self._exposures[word] - 1 + strength)
        happened = self._of_kind[story.kind]
        if story.cause is Cause.SLIP:
            happened += numbers.slip_nearby * story.exposure * min(self._nearby(at, story.kind), 1)
        strength = numbers.kind_strength
        return (happened + of_all * story.share * strength) / (max(story.exposure, 1) - 1 + strength)

    def _nearby(self, at: int, kind: Kind) -> float:
        """How many notes beside this one are thought to have gone wrong in the same way."""
        index, near = self._indices[at], 0.0
        for other in range(max(at - _NEARBY, 0), min(at + _NEARBY + 1, len(self._indices))):
            if other != at and abs(self._indices[other] - index) <= _NEARBY:
                for story, weight in zip(self._stories[other], self._weights[other], strict=True):
                    if story.kind == kind:
                        near += weight
        return near


def _normal(weights: list[float]) -> list[float]:
    whole = sum(weights)
    return [weight / whole for weight in weights]
