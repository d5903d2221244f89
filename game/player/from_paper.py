"""Practice from paper as a fact of the log, and back. What makes no sense, from elsewhere, is none."""

from typing import Annotated, Any

import msgspec
from msgspec import Meta

from game.music.meter import Meter
from game.practice.paper_practice import MOST_BARS, OwnWord, PaperPiece, PaperTake
from game.text.clean_text import cleaned

_A_DAY_S = 24 * 3600.0


class _Told(msgspec.Struct):
    """What the fact holds; whatever else a newer program says of it is passed over."""

    title: str
    bars: Annotated[int, Meta(ge=1, le=MOST_BARS)]
    beats: int
    unit: int
    tempo_bpm: Annotated[int, Meta(ge=1, le=400)]
    bars_played: Annotated[int, Meta(ge=0, le=MOST_BARS)]
    seconds: Annotated[float, Meta(ge=0, le=_A_DAY_S)]
    word: OwnWord | None = None


def paper_content(take: PaperTake) -> dict[str, Any]:
    """What JSON can say of it."""
    piece = take.piece
    return {
        "title": piece.title,
        "bars": piece.bars,
        "beats": piece.meter.beats,
        "unit": piece.meter.unit,
        "tempo_bpm": piece.tempo_bpm,
        "bars_played": take.bars_played,
        "seconds": round(take.seconds, 1),
        "word": take.word.value if take.word else None,
    }


def paper_take(content: dict[str, Any]) -> PaperTake | None:
    """The take a fact tells of; None for what is none."""
    try:
        told = msgspec.convert(content, type=_Told)
        meter = Meter(told.beats, told.unit)
    except (msgspec.ValidationError, ValueError):
        return None
    piece = PaperPiece(title=cleaned(told.title), bars=told.bars, meter=meter, tempo_bpm=told.tempo_bpm)
    return PaperTake(piece=piece, bars_played=told.bars_played, seconds=told.seconds, word=told.word)
