"""Where the notes of a line over changes may lie: by chord and place, near the height of their bar, anywhere on the map
that is reached and left as the rules say.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import exp
from random import Random

from game.lines.contour import heights_of, range_of
from game.lines.degree_chords import Chord, ChordScale, scale_over
from game.lines.footing import (
    Footing,
    clashes_with,
    colours_of,
    degree_weights,
    nearness,
    place_of,
    tones_in,
)
from game.lines.form import phrases_of
from game.lines.line_request import LineRequest
from game.lines.line_weights import Idiom
from game.lines.manners import SOLO_MANNERS, SoloManner
from game.lines.move_rules import MoveRules
from game.lines.rhythms import EIGHTH, HALF, QUARTER, ticks_of
from game.lines.song_footings import tilted
from game.lines.spots import Spot
from game.music.pitch import STEPS, Pitch

# How far from its height a line may well lie, in semitones: lines differ. How much of its range the height moves over.
_WIDTHS, _ARCH = (4.0, 6.0, 8.0), 0.6
# Lines differ in how far outside they go, and in repeats, semitones, whole tones, thirds and wider intervals.
_OUTSIDE_SPREAD = 0.7
_SPREAD = (0.8, 0.0, 0.2, 0.4, 0.4, 0.5)
# Beside the weights: tritones, notes struck again, the key note.
_TRITONES, _REPEATS, _HOME = 0.5, 0.4, 1.3
# What a note counts for that passes against its chord; held it counts for nothing.
_PASSING_CLASH = 0.6
# How likely a line ends on the sixth, the seventh or the ninth of its last chord, beside root, third and fifth.
_COLOURED_END = 0.3

ChordRows = Sequence[Sequence[Chord]]


@dataclass(slots=True)
class _Ways:
    """What this one line is like: where each bar lies, as weights by MIDI number, and how far it goes outside; `known`
    are the footings that were found before, by bar, chord, place and whether a note is held.
    """

    request: LineRequest
    manner: SoloManner
    near: list[dict[int, float]]
    outside: float
    known: dict[tuple[int, str, str, bool], dict[int, float]] = field(default_factory=dict)


def solo_footings(request: LineRequest, rows: ChordRows, struck: Sequence[Spot], rng: Random) -> list[Footing]:
    """A footing for each note; `rows` are the chords of each bar."""
    ways = _ways(request, rng)
    length = ticks_of(request.meter)
    found: list[Footing] = []
    for at, spot in enumerate(struck):
        # What is held over a beat belongs to the chord of that beat.
        held = spot.onset % QUARTER > 0 and spot.ticks > EIGHTH
        chord = chord_at(rows, spot.onset + (EIGHTH if held else 0), length)
        over = scale_over(request.scale, chord)
        place = "strong" if held and (spot.onset + EIGHTH) % HALF == 0 else place_of(spot.onset, request.meter)
        bar = min(max(0, spot.onset) // length, request.bars - 1)
        long = spot.ticks > QUARTER or (place == "strong" and spot.ticks >= QUARTER)
        if at == len(struck) - 1:
            pitches = _ends(chord, over, ways.near[bar])
        else:
            pitches = _weighed(ways, chord, over, (bar, chord.root + chord.quality.text, place, long))
        since = spot.onset - struck[at - 1].onset if at else 0
        found.append(
            Footing(
                pitches,
                place,
                after_gap=since >= HALF,
                over=over,
                ticks=spot.ticks,
                quick=0 < since <= EIGHTH,
                colours=colours_of(request.scale, chord),
                tones=tones_in(chord),
            )
        )
    return found


def _ways(request: LineRequest, rng: Random) -> _Ways:
    manner = SOLO_MANNERS[request.level.number]
    width = rng.choice(_WIDTHS)
    outside = manner.outside * exp(rng.gauss(0.0, _OUTSIDE_SPREAD))
    near = [
        {midi: nearness(round(midi - aim), width) * request.wish(midi) for midi in request.scale.written}
        for aim in _aims(request, rng)
    ]
    return _Ways(request, manner, near, outside)


def chord_at(rows: ChordRows, onset: int, length: int) -> Chord:
    """The chord that sounds at an onset in ticks, in bars of a `length`: the first before the first bar, the last after
    the end.
    """
    row = rows[min(max(0, onset) // length, len(rows) - 1)]
    return row[min(len(row) - 1, max(0, onset) % length // HALF)]


def _aims(request: LineRequest, rng: Random) -> list[float]:
    """The MIDI number each bar should lie near."""
    pitches = request.scale.pitches
    weights = [request.weights.get(pitch.midi, 1.0) for pitch in pitches]
    low, high = range_of(request.level, request.scale, weights, rng)
    bottom, top = pitches[low].midi, pitches[high].midi
    heights = heights_of(phrases_of(request.bars), rng)
    return [bottom + (0.5 + _ARCH * (height - 0.5)) * (top - bottom) for height in heights]


def _weighed(ways: _Ways, chord: Chord, over: ChordScale, at: tuple[int, str, str, bool]) -> dict[int, float]:
    """The weights of the pitches that a note may have, by its bar, chord and place, and whether it is held."""
    if at in ways.known:
        return ways.known[at]
    bar, _, place, long = at
    degrees, tones, clashes = degree_weights(Idiom.SOLO, chord, place), tones_in(chord), clashes_with(chord)
    in_chord = ways.manner.strong if place == "strong" else ways.manner.weak
    home = ways.request.scale.tonic_class
    by_class = [
        degrees[pitch_class]
        * (in_chord if pitch_class in tones else 1.0)
        * ((0.0 if long else _PASSING_CLASH) if pitch_class in clashes and pitch_class not in tones else 1.0)
        * (_HOME if pitch_class == home else 1.0)
        for pitch_class in range(12)
    ]
    found = {
        midi: near * by_class[midi % 12] * (1.0 if midi in over.midis else ways.outside)
        for midi, near in ways.near[bar].items()
        if near * by_class[midi % 12] > 0
    }
    ways.known[at] = found
    return found


def _ends(chord: Chord, over: ChordScale, near: Mapping[int, float]) -> dict[int, float]:
    """What a line may end on: root, third and fifth, the sixth or seventh, the ninth."""
    ninth = STEPS[(STEPS.index(chord.root[0]) + 1) % len(STEPS)]
    odds = dict.fromkeys(chord.letters[:3], 1.0) | {chord.letters[-1]: _COLOURED_END, ninth: _COLOURED_END}
    ends: list[Pitch] = [pitch for pitch in over.by_step.values() if pitch.step in odds]
    return {pitch.midi: odds[pitch.step] * near[pitch.midi] for pitch in ends}


def solo_rules(request: LineRequest, rng: Random) -> MoveRules:
    """The moves of a line over changes: nothing wider than an octave, few tritones."""
    manner = SOLO_MANNERS[request.level.number]
    midis = tuple(pitch.midi for pitch in request.scale.pitches)
    usual = (_REPEATS, 1.0, 1.0, manner.thirds, manner.thirds, manner.leaps)
    return MoveRules(
        idiom=Idiom.SOLO,
        key=request.scale,
        scale=midis,
        steps={midi: index for index, midi in enumerate(midis)},
        widest=None,
        tritones=_TRITONES,
        fingers=request.fingers,
        tilt=tilted(usual, _SPREAD, rng),
    )
