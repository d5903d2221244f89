"""A line over changes: phrases as they come, chord tones and approaches by measured weights, figures taken up."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from random import Random

from game.lines.changes import changes
from game.lines.degree_chords import Chord
from game.lines.developing import INVERTED, SAME, SEQUENCE, TRANSPOSED
from game.lines.footing import Footing
from game.lines.line_request import LineRequest
from game.lines.manners import SOLO_MANNERS
from game.lines.notating import bars_of
from game.lines.rhythms import HALF, QUARTER, ticks_of
from game.lines.solo_footings import solo_footings, solo_rules
from game.lines.solo_rhythm import phrases_in, solo_onsets
from game.lines.spots import spots_of
from game.lines.walk import TakenUp, walk
from game.music.chords import ChordSymbol
from game.music.keys import spelled
from game.music.pitch import Pitch
from game.music.score import Bar

# How often a note before two beats of silence and more is no longer than its beat.
_SHORT = 0.7
# Figures have so many notes, and are taken from one of so many phrases before.
_FEWEST, _MOST, _BACK = 4, 7, 3
# How often a figure opens its phrase.
_OPENS = 0.5
# How often a long phrase goes on with the few notes it has just played, in sequence.
_ON_AND_ON = 0.5
_WAYS = (((TRANSPOSED, SEQUENCE), 4.0), ((SEQUENCE, TRANSPOSED), 1.5), ((SAME, TRANSPOSED), 2.0), ((INVERTED,), 1.0))


def solo(request: LineRequest, rng: Random) -> tuple[Bar, ...]:
    """The bars of a line over changes, a pickup bar first where it has one. Raises `TuneError` for a key whose cadence
    needs double accidentals.
    """
    manner = SOLO_MANNERS[request.level.number]
    rows = changes(request.scale, request.bars, rng)
    onsets = solo_onsets(request.bars, request.rhythm, request.meter, manner, rng)
    end = request.bars * ticks_of(request.meter)
    spots = spots_of(onsets, end, request.rhythm, request.meter, rng, short=_SHORT)
    footings = solo_footings(request, rows, [spot for spot in spots if not spot.rest], rng)
    line = walk(footings, solo_rules(request, rng), _taken_up(onsets, manner.taken_up, rng), rng)
    pitches = iter(_spelled(footings, line, request))
    placed = [(spot, None if spot.rest else next(pitches)) for spot in spots]
    return bars_of(placed, request.meter, request.scale.key, [_symbols(row) for row in rows])


def _symbols(row: Sequence[Chord]) -> tuple[ChordSymbol, ...]:
    return tuple(chord.symbol(Fraction(at * HALF, QUARTER)) for at, chord in enumerate(row))


def _taken_up(onsets: Sequence[int], share: float, rng: Random) -> Mapping[int, TakenUp]:
    """Which notes take up a figure, and from where: one of the last phrases, or what was just played."""
    phrases = phrases_in(onsets)
    found: dict[int, TakenUp] = {}
    for index, phrase in enumerate(phrases):
        free = phrase.start
        earlier = [row for row in phrases[max(0, index - _BACK) : index] if len(row) >= _FEWEST]
        if earlier and len(phrase) >= _FEWEST and rng.random() < share:
            source = rng.choice(earlier)
            count = rng.randint(_FEWEST, min(_MOST, len(phrase), len(source)))
            at = phrase.start if rng.random() < _OPENS else rng.randint(phrase.start, phrase.stop - count)
            (kinds,) = rng.choices([kinds for kinds, _ in _WAYS], [odd for _, odd in _WAYS])
            found[at] = TakenUp(rng.randint(source.start, source.stop - count), count, kinds)
            free = at + count
        if phrase.stop - free > 2 * _FEWEST and rng.random() < _ON_AND_ON:
            count = rng.randint(_FEWEST - 1, _FEWEST)
            at = rng.randint(free + count, phrase.stop - count)
            found[at] = TakenUp(at - count, count, (SEQUENCE, TRANSPOSED))
    return found


def _spelled(footings: Sequence[Footing], line: Sequence[int], request: LineRequest) -> list[Pitch]:
    """The notes of the chord's scale as it spells them, others as neighbours of where they go, or as they colour it."""
    found: list[Pitch] = []
    for at, (footing, midi) in enumerate(zip(footings, line, strict=True)):
        assert footing.over is not None
        pitch = footing.over.midis.get(midi)
        if pitch is None:
            ways = (_neighbour(footings[ahead], line[ahead], midi, request) for ahead in range(at + 1, len(line))[:2])
            pitch = next((way for way in ways if way), None) or footing.colours.get(midi)
        found.append(pitch or spelled(midi, request.scale.key))
    return found


def _neighbour(footing: Footing, goal: int, midi: int, request: LineRequest) -> Pitch | None:
    """A note as the neighbour of a goal, None where it is not."""
    assert footing.over is not None
    target = footing.over.midis.get(goal)
    if target is None or not 0 < abs(midi - goal) <= 2:
        return None
    return request.scale.neighbour(target, above=midi > goal, semitones=abs(midi - goal))
