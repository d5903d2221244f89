"""Changes: the chords lines go over, as tunes have them (trade), each ending with two, five and one.

A row is a bar: one chord, or two of half a bar each.
"""

from collections.abc import Sequence
from random import Random

from game.errors import TuneError
from game.lines.degree_chords import (
    DOMINANT,
    HALF_DIMINISHED,
    MAJOR_SEVENTH,
    MAJOR_SIXTH,
    MINOR_SEVENTH,
    MINOR_SIXTH,
    Chord,
    Degree,
    chord_on_degree,
)
from game.lines.scale import Scale, is_rare_spelling
from game.music.keys import ORDER_OF_SHARPS, Key

BarDegrees = tuple[Degree, ...]
Round = tuple[BarDegrees, ...]

_TWO, _THREE, _FIVE, _SIX = (Degree(number, MINOR_SEVENTH) for number in (2, 3, 5, 6))
_ONE, _FOUR = Degree(1, MAJOR_SEVENTH), Degree(4, MAJOR_SEVENTH)
_V = Degree(5, DOMINANT)
_DOMINANT = {number: Degree(number, DOMINANT) for number in range(1, 8)}
_HOME = Degree(1, MAJOR_SIXTH)
_FOUR_MINOR = Degree(4, MINOR_SIXTH)
_SEVEN_HALF = Degree(7, HALF_DIMINISHED)

_MINOR_ONE, _MINOR_FOUR = Degree(1, MINOR_SEVENTH), Degree(4, MINOR_SEVENTH)
_MINOR_TWO = Degree(2, HALF_DIMINISHED)
_MINOR_HOME = Degree(1, MINOR_SIXTH)
_FLAT_THREE, _FLAT_SIX = Degree(3, MAJOR_SEVENTH, -1), Degree(6, MAJOR_SEVENTH, -1)
_FLAT_SEVEN = Degree(7, DOMINANT, -1)
_FLAT_SIX_SEVEN = Degree(6, DOMINANT, -1)

_FOUR_BARS: tuple[Round, ...] = (
    ((_ONE,), (_SIX,), (_TWO,), (_V,)),
    ((_TWO,), (_V,), (_ONE,), (_DOMINANT[6],)),
    ((_THREE,), (_DOMINANT[6],), (_TWO,), (_V,)),
    ((_ONE, _SIX), (_TWO, _V), (_THREE, _DOMINANT[6]), (_TWO, _V)),
    ((_ONE,), (_FIVE, _DOMINANT[1]), (_FOUR,), (_FOUR_MINOR,)),
    ((_SEVEN_HALF,), (_DOMINANT[3],), (_SIX,), (_DOMINANT[2],)),
    ((_DOMINANT[3],), (_DOMINANT[6],), (_DOMINANT[2],), (_V,)),
)
_TWO_BARS: tuple[Round, ...] = (
    ((_ONE, _DOMINANT[6]), (_TWO, _V)),
    ((_ONE, _SIX), (_TWO, _V)),
    ((_THREE, _DOMINANT[6]), (_TWO, _V)),
)
_ENDINGS: dict[int, tuple[Round, ...]] = {
    2: (((_TWO, _V), (_HOME,)),),
    3: (((_TWO,), (_V,), (_HOME,)),),
    4: (
        ((_SIX,), (_TWO,), (_V,), (_HOME,)),
        ((_DOMINANT[6],), (_TWO,), (_V,), (_HOME,)),
        ((_FOUR,), (_THREE, _DOMINANT[6]), (_TWO, _V), (_HOME,)),
        ((_ONE, _DOMINANT[6]), (_TWO,), (_V,), (_HOME,)),
        ((_DOMINANT[2],), (_TWO,), (_V,), (_HOME,)),
    ),
}
_BLUES: Round = (
    *((_DOMINANT[1],), (_DOMINANT[4],), (_DOMINANT[1],), (_FIVE, _DOMINANT[1])),
    *((_DOMINANT[4],), (_DOMINANT[4],), (_DOMINANT[1],), (_THREE, _DOMINANT[6])),
    *((_TWO,), (_V,), (_DOMINANT[1], _DOMINANT[6]), (_TWO, _V)),
)

_MINOR_FOUR_BARS: tuple[Round, ...] = (
    ((_MINOR_ONE,), (_FLAT_SIX,), (_MINOR_TWO,), (_V,)),
    ((_MINOR_TWO,), (_V,), (_MINOR_ONE,), (_MINOR_ONE,)),
    ((_MINOR_FOUR,), (_FLAT_SEVEN,), (_FLAT_THREE,), (_FLAT_SIX,)),
    ((_MINOR_ONE,), (_MINOR_FOUR,), (_MINOR_TWO,), (_V,)),
    ((_DOMINANT[1],), (_MINOR_FOUR,), (_FLAT_SEVEN,), (_FLAT_THREE,)),
    ((_FIVE, _DOMINANT[1]), (_MINOR_FOUR,), (_MINOR_TWO, _V), (_MINOR_ONE,)),
)
_MINOR_TWO_BARS: tuple[Round, ...] = (
    ((_MINOR_ONE,), (_MINOR_TWO, _V)),
    ((_MINOR_TWO, _V), (_MINOR_ONE,)),
    ((_MINOR_ONE, _FLAT_SIX_SEVEN), (_MINOR_TWO, _V)),
)
_MINOR_ENDINGS: dict[int, tuple[Round, ...]] = {
    2: (((_MINOR_TWO, _V), (_MINOR_HOME,)),),
    3: (((_MINOR_TWO,), (_V,), (_MINOR_HOME,)),),
    4: (
        ((_FLAT_SIX,), (_MINOR_TWO,), (_V,), (_MINOR_HOME,)),
        ((_MINOR_FOUR,), (_MINOR_TWO,), (_V,), (_MINOR_HOME,)),
        ((_MINOR_ONE, _MINOR_FOUR), (_MINOR_TWO,), (_V,), (_MINOR_HOME,)),
    ),
}
_MINOR_BLUES: Round = (
    *((_MINOR_ONE,), (_MINOR_FOUR,), (_MINOR_ONE,), (_DOMINANT[1],)),
    *((_MINOR_FOUR,), (_MINOR_FOUR,), (_MINOR_ONE,), (_MINOR_ONE,)),
    *((_FLAT_SIX_SEVEN,), (_V,), (_MINOR_ONE,), (_MINOR_TWO, _V)),
)
_BLUES_CLOSE: Round = ((_TWO,), (_V,), (_HOME,), (_HOME,))
_MINOR_BLUES_CLOSE: Round = ((_MINOR_TWO,), (_V,), (_MINOR_HOME,), (_MINOR_HOME,))
_BLUES_BARS = 12
_BLUES_SHARE = 0.4


def changes(scale: Scale, bars: int, rng: Random) -> tuple[tuple[Chord, ...], ...]:
    """One or two chords for each bar; the last are two, five and one. Twelve bars may be a blues.

    Raises `TuneError` for a key whose own cadence needs double accidentals.
    """
    minor = scale.key.minor
    fours, twos, endings = (
        (_MINOR_FOUR_BARS, _MINOR_TWO_BARS, _MINOR_ENDINGS) if minor else (_FOUR_BARS, _TWO_BARS, _ENDINGS)
    )
    blues, close = (_MINOR_BLUES, _MINOR_BLUES_CLOSE) if minor else (_BLUES, _BLUES_CLOSE)
    if bars == _BLUES_BARS and rng.random() < _BLUES_SHARE and (whole := _spelled(scale, (*blues[:8], *close))):
        return whole
    rows: list[tuple[Chord, ...]] = []
    while bars - len(rows) > max(endings):
        left = bars - len(rows)
        options = fours if left >= 6 else twos
        if left >= _BLUES_BARS + min(endings) and rng.random() < _BLUES_SHARE and _spelled(scale, blues):
            options = (blues,)
        rows += _chosen(scale, options, rng)
    return (*rows, *_chosen(scale, endings[bars - len(rows)], rng))


def _chosen(scale: Scale, options: Sequence[Round], rng: Random) -> tuple[tuple[Chord, ...], ...]:
    """One of the options, spelled; those that need no E sharp, B sharp, C flat or F flat come first, but for the sign
    that the signature would have next: C flat in D flat.
    """
    found = None
    for option in rng.sample(options, len(options)):
        rows = _spelled(scale, option)
        if rows and not any(
            is_rare_spelling(*tone, scale.key) and tone != _next_sign(scale.key) for tone in _tones(rows)
        ):
            return rows
        found = found or rows
    if found is None:
        raise TuneError("lines.changes_unwritable", key=scale.key.name)
    return found


def _spelled(scale: Scale, option: Round) -> tuple[tuple[Chord, ...], ...] | None:
    rows = []
    for row in option:
        chords = [chord for degree in row if (chord := chord_on_degree(scale.key, degree))]
        if len(chords) < len(row):
            return None
        rows.append(tuple(chords))
    return tuple(rows)


def _next_sign(key: Key) -> tuple[str, int] | None:
    """The letter and alteration of the next sharp or flat after those of a signature."""
    count = abs(key.fifths)
    if not 0 < count < len(ORDER_OF_SHARPS):
        return None
    return (ORDER_OF_SHARPS[count], 1) if key.fifths > 0 else (ORDER_OF_SHARPS[-1 - count], -1)


def _tones(rows: Sequence[Sequence[Chord]]) -> list[tuple[str, int]]:
    return [tone for row in rows for chord in row for tone in chord.spelling]
