"""The search for the map that serves given tunes best: which position holds most of their notes."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from game.music.score import Reading
from game.neck.neck_map import NeckMap, standard_map
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Tuning

HIGHEST_SEARCHED_POSITION = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class MapFit:
    """How a map serves some notes: shares from 0 to 1 of all their occurrences."""

    neck_map: NeckMap
    on_map_share: float
    stretch_share: float
    unreached: tuple[int, ...]


def fit_of(neck_map: NeckMap, soundings: Iterable[int]) -> MapFit:
    """How `neck_map` serves the sounding pitches given, each counted as often as it occurs. None at all fit wholly."""
    counts = Counter(soundings)
    total = sum(counts.values()) or 1
    stretched = sum(counts[home.sounding] for home in neck_map.homes if home.stretch)
    unreached = tuple(sorted(pitch for pitch in counts if neck_map.home_of(pitch) is None))
    missing = sum(counts[pitch] for pitch in unreached)
    return MapFit(
        neck_map=neck_map,
        on_map_share=1 - missing / total,
        stretch_share=stretched / total,
        unreached=unreached,
    )


def best_fits(
    soundings: Iterable[int],
    *,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    reading: Reading = Reading.GUITAR,
) -> tuple[MapFit, ...]:
    """Positions I to XII, best first: fewest unreached notes, then fewest stretches, then the lowest position."""
    notes = tuple(soundings)
    positions = range(1, min(HIGHEST_SEARCHED_POSITION, frets - 3) + 1)
    fits = [
        fit_of(standard_map(position=position, tuning=tuning, frets=frets, reading=reading), notes)
        for position in positions
    ]
    return tuple(sorted(fits, key=lambda fit: (-fit.on_map_share, fit.stretch_share, fit.neck_map.position)))
