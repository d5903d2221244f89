"""A row of single notes: no melody, each note drawn by how much it is wanted. For notes a melody seldom comes by."""

from collections.abc import Mapping
from fractions import Fraction
from random import Random

from game.errors import TuneError
from game.lines.fresh_line import FEWEST_BARS, MOST_BARS
from game.lines.titles import single_notes_title
from game.message import message
from game.music.keys import Key, spelled
from game.music.meter import Meter
from game.music.score import Bar, Note, NoteValue, Score
from game.neck.neck_map import NeckMap

FEWEST_WANTED = 3
COMMON_TIME = Meter()
_QUARTER = NoteValue(base=Fraction(1))


def single_notes(
    neck_map: NeckMap, *, key: Key, bars: int, rng: Random, weights: Mapping[int, float] | None = None
) -> Score:
    """Quarter notes in so many bars of four, 2 to 64, spelled as `key` spells them; none is struck twice in a row.

    `weights` by sounding MIDI number are in proportion to how often a note comes; only pitches named there come, and
    none of weight 0. Without weights all come alike. Raises `TuneError` for a length that cannot be, and where fewer
    than three notes are left to draw from.
    """
    if not FEWEST_BARS <= bars <= MOST_BARS:
        raise TuneError("lines.row_out_of_range", bars=bars, fewest=FEWEST_BARS, most=MOST_BARS)
    odds = {sounding: 1.0 if weights is None else weights.get(sounding, 0.0) for sounding in sorted(neck_map.places)}
    wanted = {sounding: odd for sounding, odd in odds.items() if odd > 0}
    if len(wanted) < FEWEST_WANTED:
        raise TuneError("lines.row_of_too_few", fewest=FEWEST_WANTED, count=len(wanted))
    row: list[int] = []
    for _ in range(4 * bars):
        others = [sounding for sounding in wanted if not row or sounding != row[-1]]
        row += rng.choices(others, [wanted[sounding] for sounding in others])
    up = 12 * neck_map.reading.octaves_down
    return Score(
        title=single_notes_title(key),
        reading=neck_map.reading,
        bars=tuple(_bar([sounding + up for sounding in row[4 * at : 4 * at + 4]], at + 1, key) for at in range(bars)),
        octave_reason=message("lines.row_on_your_map"),
    )


def _bar(written: list[int], number: int, key: Key) -> Bar:
    notes = tuple(
        Note(onset=Fraction(at), length=_QUARTER.length, value=_QUARTER, pitch=spelled(midi, key))
        for at, midi in enumerate(written)
    )
    return Bar(number=str(number), meter=COMMON_TIME, key=key, length=COMMON_TIME.bar_length, events=notes)
