"""What a figure becomes when it is taken up: itself, moved along the scale or by semitones, turned upside down."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from game.lines.move_rules import MoveRules

SAME, SEQUENCE, TRANSPOSED, INVERTED = "same", "sequence", "transposed", "inverted"
# How far a figure may be moved, in steps of the scale and in semitones.
_STEPS, _SEMITONES = 5, 9


@dataclass(frozen=True, slots=True)
class Figure:
    """The MIDI numbers of a figure that was taken up."""

    notes: tuple[int, ...]


def figures_from(source: Sequence[int], kind: str, rules: MoveRules) -> Iterator[Figure]:
    """What the notes of `source` can become in a way; none where the map has no room."""
    if kind == SAME:
        yield Figure(tuple(source))
    elif kind == TRANSPOSED:
        for by in range(-_SEMITONES, _SEMITONES + 1):
            yield Figure(tuple(pitch + by for pitch in source))
    elif all(pitch in rules.steps for pitch in source):
        places = [rules.steps[pitch] for pitch in source]
        for by in range(-_STEPS, _STEPS + 1):
            rows = [place + by for place in places] if kind == SEQUENCE else [2 * places[0] - p + by for p in places]
            if (by or kind == INVERTED) and all(0 <= row < len(rules.scale) for row in rows):
                yield Figure(tuple(rules.scale[row] for row in rows))
