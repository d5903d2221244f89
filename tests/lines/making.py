"""Lines by the dozen for the tests, made once."""

from functools import cache
from random import Random

from game.lines.fresh_line import fresh_line
from game.lines.levels import LEVELS, LineMethod
from game.lines.rhythms import CHANGES_METERS, METERS
from game.lines.scale import key_named
from game.music.keys import Key
from game.music.written import written_notes
from game.neck.neck_map import standard_map
from tests.sampling import how_many

MAP = standard_map()
# All major keys; of the minor ones those whose dominant needs no double sharp.
ALL_KEYS = tuple(Key(fifths, minor) for minor in (False, True) for fifths in range(-7, 5 if minor else 8))
STRANGE = {("E", 1), ("B", 1), ("C", -1), ("F", -1)}


def line(level, key="F", seed=1, bars=8, **more):
    return fresh_line(level, MAP, key=key_named(key), bars=bars, rng=Random(seed), **more)


def notes_of(score):
    return written_notes(score.bars, score.reading)


def meters_of(level):
    return METERS if level.method is LineMethod.SCALE else CHANGES_METERS


@cache
def sample(number):
    """Lines of a level with key and metre: every allowed key in every fifth metre, 2 to 10 bars long."""
    level = LEVELS[number - 1]
    made = []
    for place, key in enumerate(ALL_KEYS):
        for other, meter in enumerate(meters_of(level)):
            bars, rng = 2 + (place + other // 2) % 9, Random(100 * place + other)
            if (place + other) % 5 == 0:
                made.append((key, meter, fresh_line(level, MAP, key=key, bars=bars, rng=rng, meter=meter)))
    return tuple(made)


@cache
def many(number, key="F"):
    """Forty lines of eight bars of a level, a thousand where everything is asked for."""
    return tuple(line(LEVELS[number - 1], key, seed) for seed in range(how_many(1000, by_default=40)))


# Letters and semitones above the root, by MusicXML kind (harmony textbooks, trade; written down here by hand).
KINDS = {
    "major": (0, 4, 7),
    "minor": (0, 3, 7),
    "major-seventh": (0, 4, 7, 11),
    "minor-seventh": (0, 3, 7, 10),
    "dominant": (0, 4, 7, 10),
    "half-diminished": (0, 3, 6, 10),
    "major-sixth": (0, 4, 7, 9),
    "minor-sixth": (0, 3, 7, 9),
}


def tones_of(chord):
    """Letter and alteration of each chord tone, by counting letters and semitones from the root."""
    first = "CDEFGAB".index(chord.root[0])
    root = (0, 2, 4, 5, 7, 9, 11)[first] + {"": 0, "#": 1, "b": -1}[chord.root[1:]]
    letters = (0, 2, 4, 5) if chord.kind.endswith("sixth") else (0, 2, 4, 6)
    for up, semitones in zip(letters, KINDS[chord.kind], strict=False):
        step = (first + up) % 7
        plain = (0, 2, 4, 5, 7, 9, 11)[step]
        yield "CDEFGAB"[step], (root + semitones - plain + 6) % 12 - 6
