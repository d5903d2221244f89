"""The weights lines are drawn by: how likely each half-bar cell, each interval and each degree of a chord is.

They are weights of our own, set by published counts and rounded, and lie in `content/lines`: each file says by which
counts, and what beside them is not counted but ours.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parents[1]


class Idiom(Enum):
    """A kind of melody with weights of its own; the values are the names of the files."""

    FOLK = "folk-songs"
    LEAD = "lead-sheets"
    SOLO = "solos"


@dataclass(frozen=True, slots=True)
class LineWeights:
    """Weights, in hundredths or so.

    `cells`: metre, then place of the cell in its bar ("0", "1") or place and the cell before it ("1|0 12"), then the
    cell: its onsets in twelfths of a quarter note, "-" for none. `intervals`: place of the note to come ("strong",
    "beat", "off") and interval before it ("beat|-2"), or "long" and place after two beats and more ("long|beat"), then
    semitones. `degrees`: kind of chord and place ("7|off"), then twelve weights from the root up.
    """

    cells: Mapping[str, Mapping[str, Mapping[str, float]]]
    intervals: Mapping[str, Mapping[int, float]]
    degrees: Mapping[str, tuple[float, ...]]


@cache
def weights_of(idiom: Idiom) -> LineWeights:
    """The weights of an idiom. A file of ours that cannot be read is no user's fault: `OSError` or `ValueError`."""
    found = _read(f"{idiom.value}.json")
    return LineWeights(
        cells=found["cells"],
        intervals={
            place: {int(semitones): float(weight) for semitones, weight in row.items()}
            for place, row in found["intervals"].items()
        },
        degrees={place: tuple(map(float, row)) for place, row in found.get("degrees", {}).items()},
    )


def _read(name: str) -> Any:
    """Shipped data lie inside the installed package, in a checkout beside it; no pure folder knows `game.paths`."""
    inside = _PACKAGE / "content" / "lines" / name
    path = inside if inside.exists() else _PACKAGE.parent / "content" / "lines" / name
    return json.loads(path.read_text(encoding="utf-8"))
