"""A fresh line put on the desk: made for the player's map, in a key where it needs few stretches."""

from dataclasses import replace
from random import Random

from game.desk.surroundings import Surroundings
from game.lines.levels import level_of
from game.lines.line import fresh_line
from game.lines.scale import key_named
from game.lines.siblings import sibling
from game.music.keys import Key
from game.screens.destinations import OpenTune, open_tune

BARS = 8
# Keys that need the fewest stretches in position V (calculated from the map), and from the middle levels on more.
EASY_KEYS = ("F", "Bb", "C")
MORE_KEYS = ("F", "Bb", "C", "G", "Eb", "Dm", "Am", "Gm")
_EASY_LEVELS = 3


def open_fresh_line(around: Surroundings, chance: Random) -> OpenTune:
    """A line of the level that is set, with the notes in it that the player is slow to find.

    Raises `TuneError` where the map holds too little of the key.
    """
    level = level_of(around.settings.line_level)
    neck_map = around.settings.neck_map()
    weights = around.mastering.weights(neck_map) if around.mastering else None
    key = line_asked_for(level.number, chance)
    score = fresh_line(level, neck_map, key=key, bars=BARS, rng=chance, weights=weights)
    return replace(open_tune(score, neck_map), fresh=True)


def open_sibling(around: Surroundings, tune: OpenTune, chance: Random) -> OpenTune:
    """A sibling of the passage at hand. Raises `TuneError` where it has none on the player's map."""
    neck_map = around.settings.neck_map()
    score = sibling(tune.passage, neck_map, seed=chance.randrange(1_000_000))
    return replace(open_tune(replace(score, composer=""), neck_map), fresh=True, planned=tune.planned)


def line_asked_for(level: int, chance: Random) -> Key:
    """The key of a line that may be in any: an easy one at first."""
    return key_named(chance.choice(EASY_KEYS if level <= _EASY_LEVELS else MORE_KEYS))
