"""The rhythm of a song: units that come back with theirs, phrases that end on a long note, pickups to the next."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from game.lines.cell_chain import CellChain, rung
from game.lines.form import Unit
from game.lines.line_weights import Idiom
from game.lines.rhythms import EIGHTH, HALF, QUARTER, Rhythm, cells_of_bar, ticks_of
from game.music.meter import Meter

# How much likelier half a bar of silence is than by the weights.
_SILENCE = 0.5
# How often songs begin with a pickup, by idiom, and their later phrases, where the first has one.
_BEGINS_EARLY = {Idiom.FOLK: 0.8, Idiom.LEAD: 0.65}
_GOES_ON_EARLY = 0.95
# Onsets of a pickup, in ticks before the bar, with the first rhythm level that has it (trade).
_PICKUPS = {(-12,): (1, 5.0), (-12, -6): (2, 2.5), (-24, -12): (1, 1.0), (-6,): (4, 1.0), (-18, -12, -6): (4, 0.6)}
_COMPOUND_PICKUPS = {(-6,): (1, 5.0), (-12, -6): (4, 1.0), (-18, -12, -6): (1, 0.6)}
# How often a unit inside a phrase ends on a long note, and one that ends it; first of songs without a pickup.
_RESTS_INSIDE, _RESTS_AT_END = (0.06, 0.2), (0.25, 0.45)
_IN_WHOLE_BEATS = 0.6
# How likely the long note begins on each beat of its bar, the first first.
_LONG_FROM, _LAST_FROM = (6.0, 1.0, 2.5, 0.3), (7.0, 0.3, 2.3, 0.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class SongHabits:
    """What a song's rhythm is made by. `bar_again` is how often a bar takes up the rhythm of the bar before."""

    rhythm: Rhythm
    idiom: Idiom
    meter: Meter
    bar_again: float
    dense: float = 0.0


def song_onsets(form: Sequence[Unit], habits: SongHabits, rng: Random) -> list[tuple[int, ...]]:
    """The onsets of each unit, its pickup among them, in ticks from the first full bar."""
    dense = habits.dense + rung(habits.idiom, habits.rhythm, habits.meter)
    chain = CellChain(habits.rhythm, habits.idiom, rng, dense, _SILENCE)
    pickup = _pickup(habits, rng)
    known: dict[str, list[tuple[int, ...]]] = {}
    made: list[tuple[int, ...]] = []
    for unit in form:
        bars = list(known.get(unit.letter) or _new_bars(unit, habits, chain, rng, early=bool(pickup)))
        if unit.ends_song or (unit.ends_phrase and unit.letter in known and rng.random() < 0.5):
            bars[-1] = _ending(habits, chain, rng, last=unit.ends_song)
        known.setdefault(unit.letter, bars)
        length = ticks_of(habits.meter)
        start = unit.start * length
        own = [start + place * length + onset for place, bar in enumerate(bars) for onset in bar]
        made.append(tuple(own))
    return _with_pickups(form, made, pickup, habits, rng)


def _new_bars(unit: Unit, habits: SongHabits, chain: CellChain, rng: Random, *, early: bool) -> list[tuple[int, ...]]:
    bars: list[tuple[int, ...]] = []
    for place in range(unit.bars):
        last = place == unit.bars - 1
        rests = (_RESTS_AT_END if unit.ends_phrase else _RESTS_INSIDE)[early]
        # Whole beats rest of themselves.
        if last and rng.random() < rests * (_IN_WHOLE_BEATS if habits.rhythm.number == 1 else 1.0):
            bars.append(_ending(habits, chain, rng))
        elif bars and rng.random() < habits.bar_again:
            bars.append(bars[-1])
        else:
            bars.append(_bar(habits.meter, chain, led=unit.start + place == 0))
    return bars


def _bar(meter: Meter, chain: CellChain, *, led: bool) -> tuple[int, ...]:
    """The onsets of a bar, one at least; `led` where something must sound on its first beat."""
    found: list[int] = []
    start = 0
    for place, ticks in enumerate(cells_of_bar(meter)):
        found += [start + onset for onset in chain.drawn(place, ticks, led=led and place == 0)]
        start += ticks
    return tuple(found) or (0,)


def _ending(habits: SongHabits, chain: CellChain, rng: Random, *, last: bool = False) -> tuple[int, ...]:
    """The onsets of a bar that ends on a long note, of two beats at least; at the very end it may be one."""
    beat = int(habits.meter.beat_length * QUARTER) if habits.meter.compound else QUARTER
    length = ticks_of(habits.meter)
    least = QUARTER if last else min(HALF, length)
    starts = [start for start in range(0, length, beat) if length - start >= least] or [0]
    odds = (_LAST_FROM if last else _LONG_FROM)[: len(starts)]
    start = rng.choices(starts[: len(odds)], odds)[0]
    bar = [onset for onset in _bar(habits.meter, chain, led=True) if onset < start]
    # An eighth that would stand alone before the long note has its beat.
    if bar and start - bar[-1] == EIGHTH and not habits.rhythm.has_rests and bar[-1] - EIGHTH not in bar:
        bar.pop()
    return (*bar, start)


def _pickup(habits: SongHabits, rng: Random) -> tuple[int, ...]:
    """The onsets of a song's pickup, empty for a song without one."""
    if rng.random() >= _BEGINS_EARLY[habits.idiom]:
        return ()
    kinds = _COMPOUND_PICKUPS if habits.meter.compound else _PICKUPS
    length = ticks_of(habits.meter)
    fits = {
        onsets: odd for onsets, (level, odd) in kinds.items()
        if level <= habits.rhythm.number and -onsets[0] <= length // 2
    }  # fmt: skip
    return rng.choices(list(fits), list(fits.values()))[0]


def _with_pickups(
    form: Sequence[Unit], made: Sequence[tuple[int, ...]], pickup: Sequence[int], habits: SongHabits, rng: Random
) -> list[tuple[int, ...]]:
    """The units with the pickup before each that has room for it: a long note to take its time from."""
    rows = list(made)
    for index, unit in enumerate(form):
        early = [unit.start * ticks_of(habits.meter) + onset for onset in pickup]
        if not early:
            break
        if index:
            room = early[0] - rows[index - 1][-1] >= QUARTER
            if not room or rng.random() >= _GOES_ON_EARLY:
                continue
        rows[index] = (*early, *rows[index])
    return rows
