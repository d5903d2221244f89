"""Taps with the click to written onsets, quantised as played MIDI files are. Pure.

A run of taps begins at a bar line with the click and ends where the player stops. A tap is a note that begins, or says
that the note before ends and a rest begins. All taps of a run are looked at together: whether eighths are swung, and
how early or late the player leans, shows over many of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from game.music.meter import Meter
from game.tunes.midi.quantised import SPREAD, Hand, Quantised, quantise

DOUBLED_S = 0.07
"""Taps nearer to each other than this are one: a string that was caught twice, or a chord. Ours; sixteenths at 200
are farther apart.
"""
DIVIDED_S = 0.6
"""Cells as long as this are divided in triplets and sixteenths as often as not (ours)."""
HAND_S = 0.025
"""How far off the click a hand usually is, whatever the tempo: by 20 to 30 ms (trade)."""
# How far people lean from the click (trade: tapping runs 20 to 80 ms early); looked for in steps of 8 ms, up to 96.
_USUAL_LEAN_S, _LEAN_STEP, _LEAN_STEPS = 0.04, 0.008, 12
# A bar in which nothing is tapped is held, or silent; after so many the player has stopped.
SILENT_BARS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """A tap at a time of the clock. `rest` says that the note before ends here."""

    at_s: float
    rest: bool = False
    sounding: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TapRun:
    """Taps with the click: `start` is the bar line (or the pickup) at which the click's music began, at `zero_s`.

    `only_bar` where one bar is tapped again and the rest stays as it is.
    """

    start: Fraction
    zero_s: float
    quarter_s: float
    only_bar: bool = False
    taps: tuple[Tap, ...] = ()

    def quarters(self, at_s: float) -> float:
        """A time of the clock in quarter notes from the first bar line of the tune."""
        return float(self.start) + (at_s - self.zero_s) / self.quarter_s


@dataclass(frozen=True, slots=True, kw_only=True)
class TappedOnset:
    """Where a tap is written. `rest` as of the tap."""

    at: Fraction
    rest: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TappedLine:
    """What the taps of a run are written as; `swing` is long:short where eighths are swung."""

    onsets: tuple[TappedOnset, ...]
    swing: float | None = None


def tapped(run: TapRun, tap: Tap) -> TapRun:
    """The run with one tap more; taps may be told late, out of their order."""
    return replace(run, taps=tuple(sorted((*run.taps, tap), key=lambda one: one.at_s)))


def without_tap(run: TapRun, tap: Tap) -> TapRun:
    """The run without a tap that nobody made."""
    return replace(run, taps=tuple(one for one in run.taps if one != tap))


def single_taps(run: TapRun) -> tuple[Tap, ...]:
    """The taps that count: not those of the count-in, and of taps too close together the first."""
    single: list[Tap] = []
    earliest_s = run.zero_s - run.quarter_s / 2
    for tap in run.taps:
        doubled = bool(single) and tap.at_s - single[-1].at_s < DOUBLED_S
        if tap.at_s >= earliest_s and not doubled:
            single.append(tap)
    return tuple(single)


def written_line(run: TapRun, meter: Meter, *, swung: bool | None = None) -> TappedLine:
    """What the taps are written as. `swung` is what the player said of the eighths, None for nothing."""
    taps = single_taps(run)
    cell = cell_of(meter)
    places = [run.quarters(tap.at_s) / float(cell) for tap in taps]
    may_swing = cell == 1 and swung is not False
    cell_s = float(cell) * run.quarter_s
    terms = {"may_swing": may_swing, "said_swung": bool(swung) and may_swing}
    found = _without_lean(places, hand_at(cell_s), cell_s, **terms)
    onsets = [
        TappedOnset(at=max(run.start, onset * cell), rest=tap.rest)
        for onset, tap in zip(found.onsets, taps, strict=True)
    ]
    return TappedLine(onsets=_one_at_a_place(onsets), swing=found.swing)


def hand_at(cell_s: float) -> Hand:
    """A hand that taps cells of so many seconds: the shorter they are, the more it is off in them, and the less likely
    it divides them.
    """
    return Hand(spread=max(SPREAD, HAND_S / cell_s), fine_cost=max(1.0, DIVIDED_S / cell_s) ** 2)


def _without_lean(
    places: Sequence[float], hand: Hand, cell_s: float, *, may_swing: bool, said_swung: bool
) -> Quantised:
    """What was meant by somebody who is late all the time, or early: the lean under which all of it is likeliest."""

    def leaning(lean: float) -> tuple[float, Quantised]:
        moved = [place - lean for place in places]
        found = quantise(moved, may_swing=may_swing, said_swung=said_swung, hand=hand)
        return found.misfit + (lean * cell_s / _USUAL_LEAN_S) ** 2 / 2, found

    leans = (step * _LEAN_STEP / cell_s for step in range(-_LEAN_STEPS, _LEAN_STEPS + 1))
    return min((leaning(lean) for lean in leans), key=lambda one: one[0])[1]


def cell_of(meter: Meter) -> Fraction:
    """What the grid divides: the quarter, or the eighth where the metre counts eighths or less."""
    return Fraction(1) if meter.unit <= 4 else Fraction(1, 2)


def _one_at_a_place(onsets: Sequence[TappedOnset]) -> tuple[TappedOnset, ...]:
    """Of what came to the same place a note stands before a rest, and the first before the others."""
    kept: list[TappedOnset] = []
    for onset in onsets:
        if not kept or onset.at > kept[-1].at:
            kept.append(onset)
        elif kept[-1].rest and not onset.rest:
            kept[-1] = onset
    return tuple(kept)
