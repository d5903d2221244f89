"""Which chord is in force when. Pure; times in quarter notes from the start of the bars."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from game.music.chord_tones import ChordTones, tones_of
from game.music.chords import ChordSymbol
from game.music.score import Bar


@dataclass(frozen=True, slots=True, kw_only=True)
class ChordSpan:
    """A chord from `start` to `stop` (not included)."""

    start: Fraction
    stop: Fraction
    tones: ChordTones


def chord_spans(bars: Sequence[Bar], *, before: ChordSymbol | None = None) -> tuple[ChordSpan, ...]:
    """The chords of written-out bars in order, each until the next symbol; `before` is in force where they begin.

    A symbol repeated goes on. Nothing stands before the first symbol, nor where none is to sound (N.C.).
    """
    changes, end = _changes(bars, before)
    spans: list[ChordSpan] = []
    stops = [*(start for start, _ in changes[1:]), end]
    for (start, symbol), stop in zip(changes, stops, strict=False):
        tones = tones_of(symbol)
        if tones is None or start >= stop:
            continue
        last = spans[-1] if spans else None
        if last is not None and (last.stop, last.tones) == (start, tones):
            spans[-1] = replace(last, stop=stop)
        else:
            spans.append(ChordSpan(start=start, stop=stop, tones=tones))
    return tuple(spans)


def chord_in_force(bars: Sequence[Bar]) -> ChordSymbol | None:
    """The last chord symbol of the bars before a passage, None where there is none."""
    return next((bar.chords[-1] for bar in reversed(bars) if bar.chords), None)


def _changes(bars: Sequence[Bar], before: ChordSymbol | None) -> tuple[list[tuple[Fraction, ChordSymbol]], Fraction]:
    """Every symbol with its moment, in order, and the end. One that stands behind its bar begins the next."""
    changes: list[tuple[Fraction, ChordSymbol]] = [(Fraction(0), before)] if before is not None else []
    start = Fraction(0)
    for bar in bars:
        changes += [(start + min(bar.length, max(Fraction(0), chord.onset)), chord) for chord in bar.chords]
        start += bar.length
    return sorted(changes, key=lambda change: change[0]), start
