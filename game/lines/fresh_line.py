"""A fresh line: from a level, a key and chance to a Score on the player's map."""

from collections.abc import Container, Mapping
from random import Random

from game.errors import TuneError
from game.lines.fingering import fingers_of
from game.lines.fingerprint import fingerprints
from game.lines.key_ladder import stretches_of
from game.lines.levels import Level, LineMethod
from game.lines.line_request import LineRequest
from game.lines.rhythms import CHANGES_METERS, METERS, Rhythm, rhythm_of, usual_rhythm
from game.lines.scale import scale_of
from game.lines.solo import solo
from game.lines.titles import line_title
from game.lines.tune import tune
from game.message import message
from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Bar, Reading, Score
from game.neck.neck_map import NeckMap

WRITER_VERSION = 2
"""The way lines are written. Within one a seed gives the same line; lines that are kept are kept as notes, and stay."""

FEWEST_BARS, MOST_BARS = 2, 64
COMMON_TIME = Meter()
COMPOSER = "A fresh line"
# How often another line is made where one was met before. At 64 tries only a kind that is used up finds none.
_TRIES = 64


def fresh_line(  # noqa: PLR0913 - what a line is asked to be, all by keyword
    level: Level,
    neck_map: NeckMap,
    *,
    key: Key,
    bars: int,
    rng: Random,
    meter: Meter = COMMON_TIME,
    rhythm: int | None = None,
    weights: Mapping[int, float] | None = None,
    seen: Container[str] | None = None,
) -> Score:
    """A line of so many bars, 2 to 64, all of it on the map; a pickup may come before them.

    `rhythm` is the number of a rhythm level, None for the one that usually goes with `level`. `weights` by sounding
    MIDI number (1 is usual) bring notes up more often. `seen` holds the `fingerprints` of lines met before: none of
    them, nor any of their passages of four bars, comes again. Raises `TuneError` for a length, metre or rhythm that
    cannot be, for a map with too few notes of the key or without its key note, and where no line of this kind is left.
    """
    if not FEWEST_BARS <= bars <= MOST_BARS:
        raise TuneError("lines.length_out_of_range", bars=bars, fewest=FEWEST_BARS, most=MOST_BARS)
    up = 12 * neck_map.reading.octaves_down
    request = LineRequest(
        level=level,
        rhythm=rhythm_for(level, meter, rhythm),
        scale=scale_of(key, neck_map),
        meter=meter,
        bars=bars,
        weights={sounding + up: weight for sounding, weight in (weights or {}).items()},
        fingers=fingers_of(neck_map),
        stretches=stretches_of(neck_map),
    )
    make = tune if level.method is LineMethod.SCALE else solo
    for _ in range(_TRIES):
        score = _score(request, neck_map.reading, make(request, rng))
        if seen is None or not any(mark in seen for mark in fingerprints(score)):
            return score
    raise TuneError("lines.none_left", level=level.told, key=key.name, bars=bars)


def rhythm_for(level: Level, meter: Meter, number: int | None = None) -> Rhythm:
    """The rhythm level of a number, or the one that usually goes with `level`. Raises `TuneError` for a metre or rhythm
    that cannot be.
    """
    meters = METERS if level.method is LineMethod.SCALE else CHANGES_METERS
    if meter not in meters:
        choices = tuple(choice.text for choice in meters)
        raise TuneError("lines.unknown_metre_of_level", level=level.told, metre=meter.text, choices=choices)
    return usual_rhythm(level.rhythm, meter) if number is None else rhythm_of(number, meter)


def _score(request: LineRequest, reading: Reading, bars: tuple[Bar, ...]) -> Score:
    return Score(
        title=line_title(request.level, request.scale.key),
        composer=COMPOSER,
        reading=reading,
        bars=bars,
        swung=request.level.method is LineMethod.CHANGES or None,
        octave_reason=message("lines.line_on_your_map"),
    )
