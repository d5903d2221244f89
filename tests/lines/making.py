"""Lines by the dozen for the tests, made once."""

from functools import cache
from random import Random

from game.lines.levels import LEVELS, Making
from game.lines.line import fresh_line
from game.lines.rhythms import CHANGES_METERS, METERS
from game.lines.scale import key_named
from game.music.keys import Key
from game.music.written import written_notes
from game.neck.map import standard_map

MAP = standard_map()
# All major keys; of the minor ones those whose dominant needs no double sharp.
ALL_KEYS = tuple(Key(fifths, minor) for minor in (False, True) for fifths in range(-7, 5 if minor else 8))
STRANGE = {("E", 1), ("B", 1), ("C", -1), ("F", -1)}


def line(level, key="F", seed=1, bars=8, **more):
    return fresh_line(level, MAP, key=key_named(key), bars=bars, rng=Random(seed), **more)


def notes_of(score):
    return written_notes(score.bars, score.reading)


def meters_of(level):
    return METERS if level.making is Making.SCALE else CHANGES_METERS


@cache
def sample(number):
    """Lines of a level with (key, metre): every allowed key and metre, lengths from 2 bars on."""
    level = LEVELS[number - 1]
    made = []
    for place, key in enumerate(ALL_KEYS):
        for other, meter in enumerate(meters_of(level)):
            bars, rng = 2 + (place + other) % 15, Random(100 * place + other)
            made.append((key, meter, fresh_line(level, MAP, key=key, bars=bars, rng=rng, meter=meter)))
    return tuple(made)


@cache
def hundred(number, key="F"):
    """A hundred lines of eight bars of a level."""
    return tuple(line(LEVELS[number - 1], key, seed) for seed in range(100))
