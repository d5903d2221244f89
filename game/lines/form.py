"""The form of a song: short phrases, some of which come back.

A phrase of four bars is two units of two; the letters of the units are plans of common practice (trade), about a
quarter of the songs have none of their units twice.
"""

from dataclasses import dataclass
from random import Random

_PHRASE_BARS = 4
_UNIT_BARS = 2
# Plans for two phrases, and how likely each is (ours).
_PLANS = {"abac": 3.0, "abab": 1.6, "aabc": 1.4, "aaba": 1.4, "abcb": 1.2, "abca": 0.6, "aabb": 0.8, "abcd": 3.0}
_SHORT_PLANS = {"ab": 2.0, "aa": 1.2}
# How often a second half of the song is made of what the first was made of.
_SAME_AGAIN = 0.5


@dataclass(frozen=True, slots=True)
class Unit:
    """Bars that belong together: index of the first, how many, a letter shared with units that are alike, and whether
    the phrase, or the whole song, ends with it.
    """

    start: int
    bars: int
    letter: str
    ends_phrase: bool
    ends_song: bool = False

    @property
    def stop(self) -> int:
        """The index of the bar after the last."""
        return self.start + self.bars


def phrases_of(bars: int) -> tuple[int, ...]:
    """How many bars each phrase has: four, and two or three where four do not go in."""
    lengths = [_PHRASE_BARS] * (bars // _PHRASE_BARS)
    left = bars % _PHRASE_BARS
    if left == 1 and lengths:
        lengths[-1:] = [3, 2]
    elif left:
        lengths.append(left)
    return tuple(lengths)


def song_form(bars: int, returns: float, rng: Random) -> tuple[Unit, ...]:
    """The units of a song of so many bars. Units with the same letter have the same number of bars.

    `returns` is how much likelier plans are in which something comes back.
    """
    shapes = [(2, 2) if phrase == _PHRASE_BARS else (phrase,) for phrase in phrases_of(bars)]
    count = sum(map(len, shapes))
    letters = _letters(count, returns, rng)
    units: list[Unit] = []
    start = 0
    for shape in shapes:
        for place, length in enumerate(shape):
            letter = letters[len(units)] + ("" if length == _UNIT_BARS else str(length))
            units.append(Unit(start, length, letter, place == len(shape) - 1, len(units) == count - 1))
            start += length
    return tuple(units)


def _letters(count: int, returns: float, rng: Random) -> list[str]:
    """A letter for each unit, section by section of four."""
    letters: list[str] = []
    known = ""
    while len(letters) < count:
        plans = _PLANS if count - len(letters) > _UNIT_BARS else _SHORT_PLANS
        odds = [odd * (returns if len(set(plan)) < len(plan) else 1.0) for plan, odd in plans.items()]
        plan = rng.choices(list(plans), odds)[0]
        if known and rng.random() >= _SAME_AGAIN:
            plan = plan.translate(str.maketrans("abcd", "efgh" if known == "abcd" else "abcd"))
            known = "efgh" if known == "abcd" else "abcd"
        known = known or "abcd"
        letters += plan
    return letters[:count]
