"""Practice from paper: the program clicks and counts the bars, and does not know a note. What it came to is the
player's own word, kept as practice and never as evidence of reading. Pure.
"""

from dataclasses import dataclass
from enum import Enum

from game.music.meter import Meter

MOST_BARS = 999


class OwnWord(Enum):
    """How it went, as the player says."""

    WELL = "well"
    SLIPS = "slips"
    APART = "apart"


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperPiece:
    """What lies on the desk: `bars` are to be played at `tempo_bpm` of the metre's own beats."""

    title: str = ""
    bars: int = 16
    meter: Meter
    tempo_bpm: int = 72


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperTake:
    """Once through, or until it was stopped: whole `bars_played` in `seconds` without the count-in; `word` None where
    nothing was said.
    """

    piece: PaperPiece
    bars_played: int
    seconds: float
    word: OwnWord | None


def bar_of_click(piece: PaperPiece, passed_s: float) -> int:
    """The bar the click is in, from 1; 0 in the count-in, one more than there are at the end."""
    if passed_s < 0:
        return 0
    return min(int(passed_s / bar_s(piece)) + 1, piece.bars + 1)


def bar_s(piece: PaperPiece) -> float:
    """Seconds to a bar."""
    return 60.0 / piece.tempo_bpm * float(piece.meter.bar_length / piece.meter.beat_length)


def taken(piece: PaperPiece, passed_s: float, word: OwnWord | None) -> PaperTake:
    """What was played in so many seconds of the click; the bar that was stopped in is not whole."""
    # A hair of a bar is how floats and frames round.
    bars = min(piece.bars, int(max(0.0, passed_s) / bar_s(piece) + 0.02))
    return PaperTake(
        piece=piece, bars_played=bars, seconds=max(0.0, min(passed_s, piece.bars * bar_s(piece))), word=word
    )
