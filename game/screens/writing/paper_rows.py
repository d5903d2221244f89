"""What is said of a piece on paper before it is practised, row by row."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import pygame

from game.practice.paper_practice import MOST_BARS, PaperPiece, PaperTake
from game.screens.reading.page_heading import beat_in_words
from game.screens.writing.head_rows import LONGEST_TITLE, METERS
from game.text.catalogue import say

_TEMPO_STEP, _SLOWEST, _FASTEST = 2, 20, 300


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """A row: its name, its value in words, the piece with the next value or the one before, and with another text."""

    name: str
    words: Callable[[PaperPiece], str]
    stepped: Callable[[PaperPiece, int], PaperPiece] | None = None
    typed: Callable[[PaperPiece, str], PaperPiece] | None = None


def edited(piece: PaperPiece, row: PieceRow, event: pygame.event.Event, before: Sequence[PaperTake]) -> PaperPiece:
    """The piece after a key in a row; the arrows in the row of the title go through the pieces of before."""
    step = {pygame.K_LEFT: -1, pygame.K_RIGHT: 1}.get(event.key)
    if step is not None:
        return row.stepped(piece, step) if row.stepped else _other_piece(piece, step, before)
    if row.typed is None:
        return piece
    if event.key == pygame.K_BACKSPACE:
        return row.typed(piece, row.words(piece)[:-1])
    if event.unicode and event.unicode.isprintable():
        return row.typed(piece, row.words(piece) + event.unicode)
    return piece


def _other_piece(piece: PaperPiece, step: int, before: Sequence[PaperTake]) -> PaperPiece:
    """The piece practised before this one, or after it."""
    pieces = [take.piece for take in before]
    here = next((at for at, one in enumerate(pieces) if one.title == piece.title), None)
    if not pieces:
        return piece
    return pieces[0 if here is None else (here + step) % len(pieces)]


def _bars_typed(piece: PaperPiece, text: str) -> PaperPiece:
    """Digits; without any there are none yet."""
    digits = "".join(char for char in text if char in "0123456789")[-3:]
    return replace(piece, bars=int(digits or "0"))


def _meter_stepped(piece: PaperPiece, by: int) -> PaperPiece:
    at = METERS.index(piece.meter) if piece.meter in METERS else 0
    return replace(piece, meter=METERS[(at + by) % len(METERS)])


PIECE_ROWS = (
    PieceRow(
        name="writing.row.title",
        words=lambda piece: piece.title,
        typed=lambda piece, text: replace(piece, title=text[:LONGEST_TITLE]),
    ),
    PieceRow(
        name="paper.row.bars",
        words=lambda piece: str(piece.bars or ""),
        stepped=lambda piece, by: replace(piece, bars=max(1, min(MOST_BARS, piece.bars + by))),
        typed=_bars_typed,
    ),
    PieceRow(name="writing.row.meter", words=lambda piece: piece.meter.text, stepped=_meter_stepped),
    PieceRow(
        name="writing.row.tempo",
        words=lambda piece: say("writing.tempo", beat=beat_in_words(piece.meter), bpm=piece.tempo_bpm),
        stepped=lambda piece, by: replace(
            piece, tempo_bpm=max(_SLOWEST, min(_FASTEST, piece.tempo_bpm + by * _TEMPO_STEP))
        ),
    ),
)
