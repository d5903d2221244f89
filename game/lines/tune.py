"""A tune along the scale, from rhythm, chords and walk to notes on the page."""

from fractions import Fraction
from random import Random

from game.lines.altering import Sung, with_accidentals
from game.lines.contour import heights_of
from game.lines.line_request import LineRequest
from game.lines.melody import ground_of, sung
from game.lines.notating import bars_of
from game.lines.phrasing import letters_of, phrases_of, sung_rhythm
from game.lines.plain_chords import plain_chords
from game.music.score import Bar


def tune(asked: LineRequest, rng: Random) -> tuple[Bar, ...]:
    """The bars of a tune: phrases with a shape and a breath, the key note at the end."""
    scale = asked.scale
    phrases = phrases_of(asked.bars)
    letters = letters_of(phrases, rng)
    cells = sung_rhythm(asked.rhythm, asked.level.flow, asked.meter, letters, rng)
    chords = plain_chords(asked.level, scale, phrases, rng)
    counts = [len(cell.struck) for cell in cells]
    rows = sung(ground_of(asked, chords, heights_of(phrases, rng), counts, rng), letters, rng)
    line = [
        Sung(spot, scale.pitches[index], chord)
        for cell, row, chord in zip(cells, rows, chords, strict=True)
        for spot, index in zip(cell.struck, row, strict=True)
    ]
    pitches = iter(with_accidentals(asked, line, rng))
    spots = [(spot, None if spot.rest else next(pitches)) for cell in cells for spot in cell.spots]
    return bars_of(spots, asked.meter, scale.key, [(chord.symbol(Fraction(0)),) for chord in chords])
