"""How much of a tune lies on a player's map, and what can be done about the rest. Pure.

It is proposed in the order in which a teacher would. What leaves fewest notes without a home comes first. Of equals one
or two outlying homes come before everything else: the tune stays as it is written, and so does the map, but for them.
Then the octave, which changes neither letters nor fingers of the lines; then the key; then another position, which is
another map. Three outlying homes or more come last, whatever they leave: so many exceptions are no map.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

from game.lines.transposing import in_other_keys
from game.music.at_reading import up_octaves
from game.music.score import Bar, Score
from game.neck.map_search import best_maps, outlying_homes
from game.neck.melody_counts import melody_counts
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

FEW_OUTLYING: Final = 2
"""So many outlying homes are proposed before another octave, key or position."""


class Remedy(Enum):
    """What can be done about notes without a home, in the order in which a teacher proposes it."""

    OUTLYING = "outlying"
    OCTAVE = "octave"
    KEY = "key"
    POSITION = "position"


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
    return _lacking(_soundings(score.bars, score), neck_map.places)


def ways_to_fit(score: Score, neck_map: NeckMap) -> tuple[FittingOption, ...]:
    """What helps, in the order in which a teacher would propose it, one of each remedy at most; none where every note
    has its home, and where nothing helps.
    """
    now = notes_off_map(score, neck_map)
    if not now:
        return ()
    ways = [
        *_outlying(score, neck_map),
        *_octaves(score, neck_map),
        *_keys(score, neck_map),
        *_position(score, neck_map),
    ]
    return tuple(sorted((way for way in ways if way.off_map < now), key=_in_turn))


def _in_turn(way: FittingOption) -> tuple[bool, int, int]:
    return len(way.places) > FEW_OUTLYING, way.off_map, list(Remedy).index(way.remedy)


def _soundings(bars: Sequence[Bar], score: Score) -> tuple[int, ...]:
    return soundings_of(bars, score.reading.octaves_down)


def _lacking(soundings: Sequence[int], homes: Mapping[int, Place]) -> int:
    return sum(sounding not in homes for sounding in soundings)


def _octaves(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    moved = [up_octaves(score, up) for up in (-1, 1)]
    found = [
        FittingOption(remedy=Remedy.OCTAVE, off_map=notes_off_map(other, neck_map), score=other) for other in moved
    ]
    yield min(found, key=lambda way: way.off_map)


def _keys(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    """The transposition that leaves fewest without a home; of equals fewest stretches, then fewest signs."""
    homes = {home.sounding: home for home in neck_map.homes}

    def burden(bars: tuple[Bar, ...]) -> tuple[int, int, int]:
        found = [homes.get(sounding) for sounding in _soundings(bars, score)]
        stretches = sum(home is not None and home.stretch for home in found)
        return sum(home is None for home in found), stretches, abs(bars[0].key.fifths)

    others = in_other_keys(score.bars)
    if others:
        best = min(others, key=burden)
        yield FittingOption(remedy=Remedy.KEY, off_map=burden(best)[0], score=replace(score, bars=best))


def _position(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    """The position in which these notes cost least, with the homes that everybody has there."""
    soundings = _soundings(score.bars, score)
    best = best_maps(
        melody_counts([soundings]),
        tuning=neck_map.tuning,
        frets=neck_map.frets,
        reading=neck_map.reading,
        hand=neck_map.hand,
        outlying=False,
    )[0].neck_map
    if best.position not in neck_map.positions:
        yield FittingOption(remedy=Remedy.POSITION, off_map=_lacking(soundings, best.places), position=best.position)


def _outlying(score: Score, neck_map: NeckMap) -> Iterator[FittingOption]:
    """For the pitches without a home the places that cost least where they stand in the tune."""
    soundings = _soundings(score.bars, score)
    places = outlying_homes(neck_map, melody_counts([soundings]))
    if places:
        left = _lacking(soundings, neck_map.places | places)
        in_order = tuple(place for _, place in sorted(places.items()))
        yield FittingOption(remedy=Remedy.OUTLYING, off_map=left, places=in_order)
