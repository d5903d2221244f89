"""How much of a tune lies on a player's map, and what can be done about the rest. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from game.lines.transposing import in_other_keys
from game.music.at_reading import up_octaves
from game.music.score import Bar, Score
from game.neck.map_search import best_maps
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place


class Remedy(Enum):
    """What can be done about notes without a home."""

    OCTAVE = "octave"
    KEY = "key"
    POSITION = "position"
    OUTLYING = "outlying"


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingOption:
    """One remedy: how many notes it leaves without a home (`off_map`), and what it takes: another `score`, another
    `position`, or `places` as outlying homes.
    """

    remedy: Remedy
    off_map: int
    score: Score | None = None
    position: int = 0
    places: tuple[Place, ...] = ()


def soundings_of(bars: Sequence[Bar], octaves_down: int) -> tuple[int, ...]:
    """The sounding MIDI numbers of the page's notes, graces left out."""
    return tuple(note.pitch.midi - 12 * octaves_down for bar in bars for note in bar.notes if not note.grace)


def notes_off_map(score: Score, neck_map: NeckMap) -> int:
    """How many notes of the page have no home on the map."""
    return sum(neck_map.home_of(sounding) is None for sounding in _soundings(score))


def ways_to_fit(score: Score, neck_map: NeckMap) -> tuple[FittingOption, ...]:
    """What helps, the best first, one of each remedy at most; none where every note has its home."""
    now = notes_off_map(score, neck_map)
    if not now:
        return ()
    ways = [*_octaves(score, neck_map), *_keys(score, neck_map), *_position(score, neck_map)]
    ways += _outlying(score, neck_map)
    return tuple(sorted((way for way in ways if way.off_map < now), key=lambda way: way.off_map))


def _soundings(score: Score) -> tuple[int, ...]:
    return soundings_of(score.bars, score.reading.octaves_down)


def _octaves(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    moved = [up_octaves(score, up) for up in (-1, 1)]
    found = [
        FittingOption(remedy=Remedy.OCTAVE, off_map=notes_off_map(other, neck_map), score=other) for other in moved
    ]
    yield min(found, key=lambda way: way.off_map)


def _keys(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    """The transposition that leaves fewest without a home; of equals fewest stretches, then fewest signs."""

    def burden(bars: tuple[Bar, ...]) -> tuple[int, int, int]:
        homes = [neck_map.home_of(sounding) for sounding in soundings_of(bars, score.reading.octaves_down)]
        stretches = sum(home is not None and home.stretch for home in homes)
        return sum(home is None for home in homes), stretches, abs(bars[0].key.fifths)

    others = in_other_keys(score.bars)
    if others:
        best = min(others, key=burden)
        yield FittingOption(remedy=Remedy.KEY, off_map=burden(best)[0], score=replace(score, bars=best))


def _position(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    soundings = _soundings(score)
    best = best_maps(soundings, tuning=neck_map.tuning, frets=neck_map.frets, reading=neck_map.reading)[0]
    if best.neck_map.position != neck_map.position:
        without = sum(best.neck_map.home_of(sounding) is None for sounding in soundings)
        yield FittingOption(remedy=Remedy.POSITION, off_map=without, position=best.neck_map.position)


def _outlying(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    """For each pitch without a home the place nearest to the hand."""
    lacking = sorted({sounding for sounding in _soundings(score) if neck_map.home_of(sounding) is None})
    places, left = [], 0
    for sounding in lacking:
        there = neck_map.tuning.places_of(sounding, neck_map.frets)
        if there:
            places.append(min(there, key=lambda place: abs(place.fret - neck_map.position - 1)))
        else:
            left += sum(other == sounding for other in _soundings(score))
    if places:
        yield FittingOption(remedy=Remedy.OUTLYING, off_map=left, places=tuple(places))
