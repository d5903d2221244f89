"""Chords found for a melody: for each bar, or half of one, the one that holds most of its notes, with a way home."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from game.lines.degree_chords import Chord
from game.lines.footing import tones_in

# What a note counts for by its place; one that the chord lacks counts against it.
_COUNTS = {"strong": 2.5, "beat": 2.2, "off": 0.8}
_AGAINST = 1.2
# What a chord after another counts for, by the degrees (trade); others count nothing.
_AFTER: Mapping[tuple[int, int], float] = {
    (1, 1): 1.0, (4, 5): 1.5, (5, 1): 2.0, (4, 1): 1.2, (1, 4): 1.2, (1, 5): 1.0, (2, 5): 2.0, (6, 2): 1.5, (6, 4): 1.2,
    (1, 6): 0.8, (5, 6): 0.3, (5, 4): -1.5, (5, 2): -2.0, (5, 5): 0.5, (2, 2): -0.5, (6, 6): -0.5, (4, 4): 0.3,
    (3, 3): -1.0, (7, 3): 1.0, (7, 1): 1.0, (7, 6): 0.8, (4, 7): 0.6,
}  # fmt: skip
_FIRST_HOME, _LAST_FIFTH = 6.0, 3.0
# What another chord inside a bar has to gain.
_CHANGE_INSIDE = 5.0
# What a bar counts for at most, however many notes it has.
_MOST = 7.0
# What every bar more costs that a chord stays after so many, the first degree's and the others.
_STAYS, _TIRES = (4, 2), 4.0


# A degree, and for how many bars it has stood.
_Stand = tuple[int, int]
# For each what it has come to, and from where.
_Row = dict[_Stand, tuple[float, _Stand | None]]


@dataclass(frozen=True, slots=True)
class Heard:
    """A note under which a chord is sought: its pitch class, and "strong", "beat" or "off"."""

    pitch_class: int
    place: str


def harmonized(
    spans: Sequence[Sequence[Heard]], inside: Sequence[bool], chords: Mapping[int, Chord]
) -> tuple[Chord, ...]:
    """A chord of `chords`, which are by degree, for each span; `inside` says which spans begin inside a bar. The last
    has the key's own.
    """
    rows: list[_Row] = []
    for at, span in enumerate(spans):
        fits = {degree: _fit(span, chord) + _wanted(at, len(spans), degree) for degree, chord in chords.items()}
        rows.append(
            _onward(rows[-1], fits, inside=inside[at]) if rows else {(d, 1): (f, None) for d, f in fits.items()}
        )
    here: _Stand | None = max((score, stand) for stand, (score, _) in rows[-1].items() if stand[0] == 1)[1]
    found: list[Chord] = []
    for row in reversed(rows):
        assert here is not None
        found.append(chords[here[0]])
        here = row[here][1]
    return tuple(reversed(found))


def _onward(row: _Row, fits: Mapping[int, float], *, inside: bool) -> _Row:
    """The best way to each degree, and to each number of bars it has stood, from those of the span before."""
    last: dict[int, tuple[float, _Stand]] = {}
    found: _Row = {}
    for stand, (score, _) in row.items():
        degree, bars = stand
        last[degree] = max(last.get(degree, (score, stand)), (score, stand))
        after = degree, min(bars + (not inside), max(_STAYS) + 1)
        total = score + fits[degree] + _after(degree, degree, inside=inside) - _tired(after)
        if after not in found or found[after][0] < total:
            found[after] = (total, stand)
    for degree, fit in fits.items():
        came = [
            (score + _after(before, degree, inside=inside), stand)
            for before, (score, stand) in last.items()
            if before != degree
        ]
        if came:
            score, stand = max(came)
            if (degree, 1) not in found or found[degree, 1][0] < score + fit:
                found[degree, 1] = (score + fit, stand)
    return found


def _tired(stand: _Stand) -> float:
    degree, bars = stand
    return _TIRES if bars > _STAYS[degree != 1] else 0.0


def _fit(span: Sequence[Heard], chord: Chord) -> float:
    tones = tones_in(chord)
    found = sum(_COUNTS[note.place] * (1.0 if note.pitch_class in tones else -_AGAINST) for note in span)
    return found * min(1.0, _MOST / max(_MOST, sum(_COUNTS[note.place] for note in span)))


def _wanted(at: int, count: int, degree: int) -> float:
    if at == 0:
        return _FIRST_HOME if degree == 1 else 0.0
    return _LAST_FIFTH if at == count - 2 and degree == 5 else 0.0


def _after(before: int, degree: int, *, inside: bool) -> float:
    if inside:
        return 0.0 if before == degree else _AFTER.get((before, degree), 0.0) - _CHANGE_INSIDE
    return _AFTER.get((before, degree), 0.0)
