"""Lines over changes: a chord tone on each strong beat, or beside it where an approach note pushes it back, and ways
from one to the next; phrases with a shape, a stop and a lead to the next.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from math import exp
from random import Random

from game.lines.changes import changes
from game.lines.connecting import Connection, approach_note, connecting_notes, resting_notes, triplet_middle
from game.lines.contour import heights_of, range_of
from game.lines.degree_chords import Chord, ChordScale, scale_over
from game.lines.line_request import LineRequest
from game.lines.notating import bars_of
from game.lines.phrasing import Cell, phrases_of, solo_rhythm
from game.lines.rhythms import QUARTER, cells_of_bar
from game.music.pitch import Pitch
from game.music.score import Bar

# Thirds and sevenths tell the chord (trade).
_GUIDE_TONES = 1.5
_FAR = 7
# Only where nothing else is left.
_RARE = 1e-9
# A chord tone comes up only where its chord does: its weight counts for more.
_WEIGHING = 1.5


@dataclass(frozen=True, slots=True)
class _Place:
    """A cell of the rhythm, the scale over its chord, and the chord tone it is about."""

    cell: Cell
    over: ChordScale
    target: Pitch


def solo(request: LineRequest, rng: Random) -> tuple[Bar, ...]:
    """The bars of a line over changes. Raises `TuneError` for a key whose cadence needs double accidentals."""
    phrases = phrases_of(request.bars)
    rows = changes(request.scale, request.bars, rng)
    cells = solo_rhythm(request.rhythm, request.level.flow, request.meter, phrases, rng)
    chords = _chords_under(cells, rows)
    overs = {chord: scale_over(request.scale, chord) for chord in set(chords)}
    targets = _targets(request, cells, chords, [overs[chord] for chord in chords], heights_of(phrases, rng), rng)
    places = [_Place(cell, overs[chord], target) for cell, chord, target in zip(cells, chords, targets, strict=True)]
    pitches = iter(_line(request, places, rng))
    spots = [(spot, None if spot.rest else next(pitches)) for cell in cells for spot in cell.spots]
    onsets = [Fraction(start, QUARTER) for start in accumulate((0, *cells_of_bar(request.meter)))]
    symbols = [[chord.symbol(onset) for chord, onset in zip(row, onsets, strict=False)] for row in rows]
    return bars_of(spots, request.meter, request.scale.key, symbols)


def _chords_under(cells: Sequence[Cell], rows: Sequence[Sequence[Chord]]) -> list[Chord]:
    """The chord of each cell: the second one of a bar from its second cell on."""
    found = []
    for index, cell in enumerate(cells):
        first = index == 0 or cells[index - 1].bar != cell.bar
        found.append(rows[cell.bar][0 if first else -1])
    return found


def _targets(
    request: LineRequest,
    cells: Sequence[Cell],
    chords: Sequence[Chord],
    overs: Sequence[ChordScale],
    heights: Sequence[float],
    rng: Random,
) -> list[Pitch]:
    """A chord tone for each cell, near the height its bar should have and not far from the one before; at the end
    root, third or fifth.
    """
    scale = request.scale
    low, high = range_of(request.level, scale, [request.weights.get(pitch.midi, 1.0) for pitch in scale.pitches], rng)
    bottom, top = scale.pitches[low].staff_step, scale.pitches[high].staff_step
    line: list[Pitch] = []
    at: int | None = None
    for index, (cell, chord, over) in enumerate(zip(cells, chords, overs, strict=True)):
        aim = bottom + heights[cell.bar] * (top - bottom)
        tones = over.stable if index == len(cells) - 1 else over.tones
        near = range(bottom, top + 1) if at is None else range(max(bottom, at - _FAR), min(top, at + _FAR) + 1)
        steps = [step for step in tones if step in near] or list(tones)
        guides = chord.letters[1::2]
        odds = [
            exp(abs(step - aim) / -3)
            * (_onward(step - at) if at is not None else 1.0)
            * (_GUIDE_TONES if tones[step].step in guides else 1.0)
            * request.weights.get(tones[step].midi, 1.0) ** _WEIGHING
            for step in steps
        ]
        step = rng.choices(steps, odds)[0]
        line.append(tones[step])
        # A silent cell leaves the line where it was.
        at = step if cell.struck else at
    return line


def _onward(away: int) -> float:
    """How likely a chord tone follows another so many staff steps away."""
    return 1 / (1 + abs(away)) if 0 < abs(away) <= _FAR else _RARE


def _line(request: LineRequest, places: Sequence[_Place], rng: Random) -> list[Pitch]:
    """All pitches of the line, one for each note of its rhythm."""
    line: list[Pitch] = []
    after_rest = True
    for index, place in enumerate(places):
        following = places[index + 1] if index + 1 < len(places) else None
        line += _cell(request, place, following, (line[-1] if line else None), after_rest, rng)
        after_rest = place.cell.spots[-1].rest
    return line


def _cell(
    request: LineRequest, place: _Place, following: _Place | None, last: Pitch | None, after_rest: bool, rng: Random
) -> list[Pitch]:
    """The pitches of one cell: its chord tone, if its beat sounds, and the way to that of the next. `last` is the note
    sounded last.
    """
    before = None if after_rest else last
    struck = place.cell.struck
    triplets = sum(spot.triplet == 0 for spot in struck)
    count = len(struck) - triplets
    row: list[Pitch] = []
    ahead = following.target if following else place.target
    step = Connection(request.scale, place.over, place.target, ahead, request.weights, last)
    if not place.cell.begins_with_rest:
        row.append(place.target)
        # A triplet, or an early note, has no room for an approach note before it.
        plain = place.cell.spots[0].onset == place.cell.start and place.cell.spots[0].triplet is None
        if plain and before and count > 2 and rng.random() < request.level.late:
            row = [*([approach] if (approach := approach_note(step, before, rng)) else []), place.target]
    left = count - len(row)
    if following is None or following.cell.begins_with_rest or place.cell.spots[-1].rest:
        row += resting_notes(place.over, row[-1] if row else place.target, left, rng)
    else:
        chromatic = rng.random() < request.level.chromatic
        row += connecting_notes(step, left, row[-1] if row else None, chromatic, rng)
    return _with_triplets(place, row, ahead)


def _with_triplets(place: _Place, row: Sequence[Pitch], goal: Pitch) -> list[Pitch]:
    """The notes with a middle one put into each triplet; all lead to `goal`."""
    left = list(row)
    line: list[Pitch] = []
    for spot in place.cell.struck:
        line.append(triplet_middle(place.over, line[-1], left[0], goal) if spot.triplet == 1 else left.pop(0))
    return line
