"""Where the notes of a song may lie: in a window of the scale, near the height of their bar, by the chord in mind; and
by which moves the song goes from one to the next.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import exp
from random import Random

from game.lines.contour import heights_of, range_of
from game.lines.footing import Footing, clashes_with, degree_weights, nearness, place_of
from game.lines.form import phrases_of
from game.lines.line_weights import Idiom
from game.lines.move_rules import MoveRules
from game.lines.rhythms import EIGHTH, HALF, QUARTER, ticks_of
from game.lines.song_plan import SongPlan
from game.lines.spots import Spot

# How far from its height a line may well lie, in semitones, and how much of its range the height moves over.
_WIDTH, _ARCH = 5.0, 0.85
# Lines differ: how much so in repeats, semitones, whole tones, thirds and wider intervals.
_SPREAD = (0.55, 0.0, 0.0, 0.4, 0.4, 0.5)
# How much likelier a semitone is than by the weights, which know no scale.
_SEMITONES = 1.4
# How much more the chord counts in the notes that open the song, and in the rest of its first bar.
_OPENING, _FIRST_BAR = 2.5, 1.5
# How much likelier the last note but one is a step from the key note.
_LEADS_HOME = 2.5
# How likely each degree of the key is beside the weights of chord and move: songs stand on the triad of their key, and
# have few sevenths (counted in folk songs and lead sheets, see `content/lines`; rounded).
_DEGREES = (1.0, 1.05, 1.3, 1.0, 1.2, 0.65, 0.45)
# How many notes before the last the way home must be open.
_HOMEWARD = 6
# What a note counts for that passes against its chord; held it counts for nothing.
_PASSING_CLASH = 0.8


@dataclass(slots=True)
class _Window:
    """The indices of the scale from `low` to `high`, and those of the key note; `known` are the footings found
    before, by bar, place, whether a note is held or opens the song, and how many are left.
    """

    low: int
    high: int
    tonics: tuple[int, ...]
    known: dict[tuple[int, str, bool, bool, int], dict[int, float]] = field(default_factory=dict)


def song_footings(plan: SongPlan, rng: Random) -> list[Footing]:
    """A footing for each note of a song."""
    window = _window(plan, rng)
    heights = heights_of(phrases_of(plan.request.bars), rng)
    struck = plan.struck
    found: list[Footing] = []
    for at, spot in enumerate(struck):
        pitches = _weighed(plan, window, heights, spot, len(struck) - 1 - at)
        gap = at > 0 and spot.onset - struck[at - 1].onset >= HALF
        quick = at > 0 and spot.onset - struck[at - 1].onset <= EIGHTH
        place = place_of(spot.onset, plan.request.meter)
        found.append(Footing(pitches, place, after_gap=gap, ticks=spot.ticks, quick=quick))
    return found


def _window(plan: SongPlan, rng: Random) -> _Window:
    scale = plan.request.scale
    weights = tuple(plan.request.weights.get(pitch.midi, 1.0) for pitch in scale.pitches)
    low, high = range_of(plan.request.level, scale, weights, rng, plan.request.stretches)
    tonics = tuple(index for index in range(low, high + 1) if scale.pitches[index].step == scale.tonic_step)
    return _Window(low, high, tonics)


def _weighed(plan: SongPlan, window: _Window, heights: Sequence[float], spot: Spot, left: int) -> dict[int, float]:
    """The weights of the pitches that a note may have, `left` notes before the last."""
    request = plan.request
    pitches = request.scale.pitches
    bar = max(0, spot.onset) // ticks_of(request.meter)
    chord = plan.chords[bar]
    place = place_of(spot.onset, request.meter)
    held = spot.ticks >= HALF or (place == "strong" and spot.ticks > QUARTER)
    at = (bar, place, held, spot.onset <= 0, min(left, _HOMEWARD + 1))
    if at in window.known:
        return window.known[at]
    bottom, top = pitches[window.low].midi, pitches[window.high].midi
    degrees, clashes = degree_weights(Idiom.LEAD, chord, place), clashes_with(chord)
    power = plan.manner.in_chord * (_OPENING if spot.onset <= 0 else _FIRST_BAR if bar == 0 else 1.0)
    aim = bottom + (0.5 + _ARCH * (heights[bar] - 0.5)) * (top - bottom)
    tonic = pitches[window.tonics[0]].staff_step
    found: dict[int, float] = {}
    for index in range(window.low, window.high + 1):
        away = min(abs(index - tonic) for tonic in window.tonics)
        if left <= _HOMEWARD and away > 2 * left:
            continue
        midi = pitches[index].midi
        weight = degrees[midi % 12] ** power * nearness(round(midi - aim), _WIDTH) * request.wish(midi)
        weight *= _DEGREES[(pitches[index].staff_step - tonic) % len(_DEGREES)]
        if midi % 12 in clashes:
            weight *= 0.0 if held and left else _PASSING_CLASH
        if left == 1 and away == 1:
            weight *= _LEADS_HOME
        if weight > 0:
            found[midi] = weight
    window.known[at] = found or {pitches[index].midi: 1.0 for index in range(window.low, window.high + 1)}
    return window.known[at]


def song_rules(plan: SongPlan, rng: Random) -> MoveRules:
    """The moves of a song: none wider than its level has, no seventh, no tritone."""
    scale, manner = plan.request.scale, plan.manner
    usual = (manner.repeats, _SEMITONES, 1.0, manner.thirds, manner.thirds, 1.0)
    midis = tuple(pitch.midi for pitch in scale.pitches)
    return MoveRules(
        idiom=plan.idiom,
        key=scale,
        scale=midis,
        steps={midi: index for index, midi in enumerate(midis)},
        widest=plan.request.level.leap,
        tritones=0.0,
        fingers=plan.request.fingers,
        tilt=tilted(usual, _SPREAD, rng),
    )


def tilted(usual: Sequence[float], spread: Sequence[float], rng: Random) -> tuple[float, ...]:
    """How much likelier one line makes each interval: as is usual, but no line is like another."""
    return tuple(each * exp(rng.gauss(0.0, own)) if own else each for each, own in zip(usual, spread, strict=True))
