"""From note to note: intervals drawn by the one before, the place and the footing, or a figure taken up as a whole.

Where a way leads nowhere it is walked back and another is taken, so every rule holds to the end of the line.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from game.lines.developing import Figure, figures_from
from game.lines.footing import Footing
from game.lines.move_rules import MoveRules, Owed

# How many choices may be taken back in one line; then the nearest footing will do.
_PATIENCE = 400


@dataclass(frozen=True, slots=True)
class TakenUp:
    """That a line takes up `count` notes from note `source` on, in the ways of `kinds`, the first that can be had."""

    source: int
    count: int
    kinds: tuple[str, ...]


@dataclass(slots=True)
class _Choice:
    """A place in the line where something was chosen, and what else could have been."""

    at: int
    owed: Owed | None
    options: list[tuple[float, tuple[int, ...], Owed | None]] = field(default_factory=list)


def walk(footings: Sequence[Footing], rules: MoveRules, taken_up: Mapping[int, TakenUp], rng: Random) -> list[int]:
    """A MIDI number for each footing."""
    line: list[int] = []
    choices: list[_Choice] = []
    owed: Owed | None = None
    patience = _PATIENCE
    while len(line) < len(footings):
        choice = _Choice(len(line), owed, _options(footings, rules, taken_up.get(len(line)), line, owed))
        choices.append(choice)
        while not choices[-1].options:
            patience -= 1
            if patience < 0 or len(choices) == 1:
                choices[-1].options = [(1.0, (rules.nearest(footings[choices[-1].at], line),), None)]
                break
            choices.pop()
            del line[choices[-1].at :]
        last = choices[-1]
        drawn = rng.choices(range(len(last.options)), [option[0] for option in last.options])[0]
        _, notes, owed = last.options.pop(drawn)
        line += notes
    return line


def _options(
    footings: Sequence[Footing], rules: MoveRules, taken_up: TakenUp | None, line: list[int], owed: Owed | None
) -> list[tuple[float, tuple[int, ...], Owed | None]]:
    at = len(line)
    if taken_up and owed is None and at + taken_up.count <= len(footings):
        source = line[taken_up.source : taken_up.source + taken_up.count]
        for kind in taken_up.kinds:
            found = [
                (weight, figure.notes, left)
                for figure in figures_from(source, kind, rules)
                if (weight := _weight(footings, rules, figure, line)) > 0
                for left in (rules.owed_after(footings, line, figure.notes),)
            ]
            if found:
                return found
    before = line[-1] if line else None
    return [
        (weight, (pitch,), left)
        for pitch, weight in rules.onward(footings[at], line).items()
        for allowed, left in (rules.allows(footings, at, pitch, before, owed),)
        if allowed
    ]


def _weight(footings: Sequence[Footing], rules: MoveRules, figure: Figure, line: list[int]) -> float:
    """How well a figure stands where the line is; 0 where a rule forbids it."""
    at = len(line)
    product = 1.0
    owed: Owed | None = None
    before = line[-1] if line else None
    for place, pitch in enumerate(figure.notes):
        footing = footings[at + place]
        weight = footing.pitches.get(pitch, 0.0)
        allowed, owed = rules.allows(footings, at + place, pitch, before, owed)
        if not weight or not allowed or (before is not None and not rules.reaches(before, pitch)):
            return 0.0
        product *= weight
        before = pitch
    fit: float = product ** (2 / len(figure.notes))
    return fit * (rules.join(footings[at], line, figure.notes[0]) if line else 1.0)
