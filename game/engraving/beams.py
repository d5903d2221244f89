"""Which notes hang under one beam. Pure.

Common practice (trade): a beam shows the metre. Eighths alone may fill half a bar of 4/4, a whole bar of 2/4
and of 3/4; with anything shorter or a tuplet among them, beams keep to the beat. A beam never crosses the
middle of a 4/4 bar, a felt beat of a compound metre, or a rest, nor the end of a tuplet, but that sixteenths
in a tuplet hang together with what fills up their beat, by one beam.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from itertools import accumulate, pairwise

from game.music.meter import Meter
from game.music.score import Bar, Event, Note

# The beams of one note from the first (eighths) inwards, in the words of MusicXML's `beam`.
Beams = tuple[str, ...]


def beams_of(bar: Bar) -> tuple[Beams, ...]:
    """The beams of each event of the bar.

    Empty where nothing is beamed: rests, long notes, and short notes that stand alone and keep their flag.
    """
    beams: dict[int, Beams] = {}
    for run in beamed_runs(bar):
        events = [bar.events[index] for index in run]
        beams.update(zip(run, _beams_of_run(events), strict=True))
    return tuple(beams.get(index, ()) for index in range(len(bar.events)))


def beamed_runs(bar: Bar) -> tuple[tuple[int, ...], ...]:
    """Indices of the events under each beam of the bar, two at least; graces have beams of their own."""
    graces = [index for index, event in enumerate(bar.events) if event.length == 0]
    others = [index for index, event in enumerate(bar.events) if event.length > 0]
    runs = [*_runs(bar, others, _edges(bar)), *_runs(bar, graces, ())]
    return tuple(tuple(run) for run in sorted(runs) if len(run) > 1)


def _runs(bar: Bar, indices: Sequence[int], edges: Sequence[Fraction]) -> list[list[int]]:
    runs: list[list[int]] = []
    previous: Event | None = None
    for index in indices:
        event = bar.events[index]
        if not _beamable(event):
            previous = None
            continue
        if previous is None or event.onset != previous.onset + previous.length or _parted(previous, event, edges):
            runs.append([])
        runs[-1].append(index)
        previous = event
    return runs


def flag_count(event: Event) -> int:
    """Flags, or beams, of the printed value: 0 from a quarter up, 1 for an eighth, 2 for a 16th."""
    return _flags_of(event.value.base)


@cache
def _flags_of(base: Fraction) -> int:
    return 0 if base >= 1 else 1 + _flags_of(base * 2)


def _beamable(event: Event) -> bool:
    return isinstance(event, Note) and flag_count(event) > 0


def _parted(previous: Event, event: Event, edges: Sequence[Fraction]) -> bool:
    """Whether two neighbouring short notes belong under different beams."""
    if _tuplet_ends(previous, event) and not _fills_up_beat(previous, event):
        return True
    return any(previous.onset < edge <= event.onset for edge in edges)


def _tuplet_ends(previous: Event, event: Event) -> bool:
    """Whether a tuplet ends or begins between two neighbours."""
    before, after = previous.value.tuplet, event.value.tuplet
    return (before is None) != (after is None) or bool(before and before.stops) or bool(after and after.starts)


def _fills_up_beat(previous: Event, event: Event) -> bool:
    """Whether one of the two alone stands in a tuplet, of sixteenths or shorter, which leaves room in its beat."""
    before, after = previous.value.tuplet, event.value.tuplet
    in_tuplet = previous if before else event
    return (before is None) != (after is None) and flag_count(in_tuplet) > 1


def _edges(bar: Bar) -> tuple[Fraction, ...]:
    """Where beams break, in quarter notes from the start of the bar's music; a pickup bar ends with the
    metre.
    """
    missing = bar.meter.bar_length - bar.length if bar.pickup else Fraction(0)
    edges: list[Fraction] = []
    for start, end in pairwise(_wide_groups(bar.meter)):
        edges.append(start - missing)
        if not _eighths_alone(bar, start - missing, end - missing):
            edges += [edge - missing for edge in _beats(bar.meter) if start < edge < end]
    return tuple(edges)


@cache
def _wide_groups(meter: Meter) -> tuple[Fraction, ...]:
    """Edges of the widest groups that plain eighths may fill."""
    if meter.unit > 4:
        return _beats(meter)
    width = 3 if meter.unit == 4 and meter.beats % 3 == 0 else 2
    if meter.bar_length % width:
        return _beats(meter)
    return tuple(Fraction(edge) for edge in range(0, int(meter.bar_length) + 1, width))


@cache
def _beats(meter: Meter) -> tuple[Fraction, ...]:
    """Edges of the beats: quarters, felt beats where compound, twos with an odd three in 5/8, 7/8 and
    their like.
    """
    if meter.unit <= 4:
        return tuple(Fraction(edge) for edge in range(int(meter.bar_length) + 1))
    if meter.compound or meter.beats == 3:
        sizes = [3] * (meter.beats // 3)
    elif meter.beats == 5:
        sizes = [3, 2]
    else:
        sizes = [2] * (meter.beats // 2)
        sizes[-1:] = [sizes[-1] + meter.beats % 2] if sizes else [1]
    return tuple(edge * Fraction(4, meter.unit) for edge in accumulate(sizes, initial=0))


def _eighths_alone(bar: Bar, start: Fraction, end: Fraction) -> bool:
    """Whether the short notes from `start` to before `end` are all plain eighths, so that a long beam
    stays clear.

    In threes what stands between them must fill whole beats: three eighths after a dotted quarter would look
    like 6/8.
    """
    inside = [event for event in bar.events if start <= event.onset < end and event.length]
    odd = [event for event in inside if not _plain_eighth(event)]
    if any(_beamable(event) or event.value.tuplet for event in odd):
        return False
    return end - start != 3 or all(event.length % 1 == 0 for event in odd)


def _plain_eighth(event: Event) -> bool:
    return event.value.base == Fraction(1, 2) and not event.value.dots and not event.value.tuplet


def _beams_of_run(events: Sequence[Event]) -> Iterator[Beams]:
    counts = [flag_count(event) for event in events]
    for place, event in enumerate(events):
        before = _shared(counts[place - 1], events[place - 1], event) if place else 0
        after = _shared(counts[place + 1], event, events[place + 1]) if place + 1 < len(counts) else 0
        yield tuple(_beam(level, before, after, event) for level in range(1, counts[place] + 1))


def _shared(count: int, previous: Event, event: Event) -> int:
    """The beams of a neighbour that may go on to it: at the end of a tuplet the first alone."""
    return min(count, 1) if _tuplet_ends(previous, event) else count


def _beam(level: int, before: int, after: int, event: Event) -> str:
    """What the beam of one level does at a note whose neighbours have `before` and `after` beams."""
    if level <= before:
        return "continue" if level <= after else "end"
    if level <= after:
        return "begin"
    # A lone short note hooks towards the note it shares a subdivision with.
    starts_subdivision = event.length > 0 and event.onset % (2 * event.length) == 0
    forward = not before or (bool(after) and starts_subdivision)
    return "forward hook" if forward else "backward hook"
