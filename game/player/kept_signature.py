"""How a player signs: strokes drawn with the mouse, or a typed name; as a fact of the log, and back. What makes no
sense, from elsewhere, is none.
"""

from dataclasses import dataclass
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from game.text.clean_text import cleaned

Stroke = tuple[tuple[float, float], ...]
"""The points a pen went through. Both coordinates count in heights of the room to sign in: x from its left end on, y
from its top, 0 to 1.
"""

MOST_STROKES, MOST_POINTS = 100, 5_000
WIDEST = 8.0
"""So many heights of the room lie between its ends at most."""

LONGEST_NAME = 60
_DECIMALS = 3

_Across = Annotated[float, Meta(ge=0, le=WIDEST)]
_Down = Annotated[float, Meta(ge=0, le=1)]
_Points = Annotated[list[tuple[_Across, _Down]], Meta(min_length=1, max_length=MOST_POINTS)]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerSignature:
    """What is kept: `strokes` as they were drawn, or a `typed` name; never both. Raises `ValueError` for neither."""

    strokes: tuple[Stroke, ...] = ()
    typed: str = ""

    def __post_init__(self) -> None:
        if bool(self.strokes) == bool(self.typed):
            raise ValueError("a signature is drawn or typed, one of the two")


class _Told(msgspec.Struct):
    """What the fact holds."""

    strokes: Annotated[list[_Points], Meta(max_length=MOST_STROKES)] = []
    typed: str = ""


def signature_content(signature: PlayerSignature) -> dict[str, Any]:
    """What JSON can say of it: as much as can be kept, in thousandths. A stroke that left the room ends at its edge."""
    strokes: list[list[list[float]]] = []
    left = MOST_POINTS
    for stroke in signature.strokes[:MOST_STROKES]:
        points = [
            [round(min(max(x, 0.0), WIDEST), _DECIMALS), round(min(max(y, 0.0), 1.0), _DECIMALS)]
            for x, y in stroke[:left]
        ]
        left -= len(points)
        strokes += [points] if points else []
    return {"strokes": strokes} if strokes else {"typed": cleaned(signature.typed, LONGEST_NAME)}


def told_signature(content: dict[str, Any]) -> PlayerSignature | None:
    """The signature a fact tells of; None for what is none."""
    try:
        told = msgspec.convert(content, type=_Told)
        typed = cleaned(told.typed, LONGEST_NAME)
        return PlayerSignature(strokes=tuple(tuple(stroke) for stroke in told.strokes), typed=typed)
    except (msgspec.ValidationError, ValueError):
        return None
