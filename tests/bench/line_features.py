"""What a classifier is told of an excerpt: numbers by family, from rhythm to chords, the figures among them."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from math import log2, nan
from statistics import mean, pstdev

from tests.bench.line_figures import BAR, BARS, BEAT, FIGURES, HALF, Excerpt, bars, ends_off_beat, gaps, moves, steps

_GAPS = {"sixteenth": (1, 3), "triplet": (4, 5), "eighth": (6, 6), "uneven": (7, 10), "quarter": (11, 13)} | {
    "dotted": (17, 19), "half": (23, 25), "long": (35, 37), "whole": (46, 999)
}  # fmt: skip
_LAGS = (1, 2, 4)
# What the vocabulary of a level settles for good, by the reason: one glance at the page tells it, no music.
_NO_OFF_BEATS = (
    "no notes off the beat before the level of off-beats",
    {"syncopations a bar", "gap uneven", "gap sixteenth", "gap triplet", "ends off the beat"},
)
_NO_LEAPS = (
    "no interval over a third before the level of leaps",
    {f"interval {size}" for size in range(5, 10)}
    | {"leaps", "leap answered by step", "bar range", "mean move", "widest"},
)
_NO_EIGHTHS = (
    "whole beats alone at the first level",
    {"gap eighth", "gap dotted", "off the beat", "fullest bar", "half bars", "half-bar bits", "longest run"}
    | {"bar density spread", "strike 1", "strike 3", "strike 5", "strike 7", "bar figures"},
)
_NO_DOTS = ("no dotted quarters before their level", {"gap dotted", "strike 3", "strike 7"})
_NO_ACCIDENTALS = ("no accidentals before their level", {"chromatic share", "classes"})
_FIVE_NOTES = ("five notes from the key note up at the first level", {"range", "spread", "degree 9", "degree 11"})
_AN_OCTAVE = ("an octave at the second level", {"range"})
_NO_SMALL_VALUES = ("no sixteenths nor triplets at this level", {"gap sixteenth", "gap triplet", "gap uneven"})
_NO_SIXTEENTHS = ("no sixteenths in lines", {"gap sixteenth"})
LEFT_OUT: dict[int, tuple[tuple[str, set[str]], ...]] = {
    1: (_NO_OFF_BEATS, _NO_LEAPS, _NO_EIGHTHS, _FIVE_NOTES, _NO_ACCIDENTALS),
    2: (_NO_OFF_BEATS, _NO_LEAPS, _AN_OCTAVE, _NO_ACCIDENTALS, _NO_DOTS),
    3: (_NO_OFF_BEATS, _NO_LEAPS, _NO_ACCIDENTALS),
    4: (_NO_OFF_BEATS, _NO_ACCIDENTALS),
    5: (_NO_SMALL_VALUES,),
    6: (_NO_SMALL_VALUES,),
    7: (_NO_SMALL_VALUES,),
    8: (_NO_SIXTEENTHS,),
}
SETTLED = {level: set[str]().union(*(names for _, names in reasons)) for level, reasons in LEFT_OUT.items()}
_MOTIF = ("bar rhythm returns", "the bar itself", "three intervals return")
_PHRASE = ("starts on the downbeat", "breath in bar 4")
_RHYTHM = ("notes a bar", "syncopations a bar")
_CHORDS = ("chord tone on 1, 3", "chord tone on 2, 4")


def features(excerpt: Excerpt) -> dict[str, dict[str, float]]:
    """The features of each family by name; nan where an excerpt has nothing of the kind."""
    figures = {name: nan if (value := figure(excerpt)) is None else value for name, figure in FIGURES.items()}
    families = {
        "rhythm": _rhythm(excerpt) | {name: figures.pop(name) for name in _RHYTHM},
        "motif": _motif(excerpt) | {name: figures.pop(name) for name in _MOTIF},
        "phrase": _phrase(excerpt) | {name: figures.pop(name) for name in _PHRASE},
        "chords": {name: figures.pop(name) for name in _CHORDS},
    }
    return families | {"pitch": _pitch(excerpt) | figures}


def _rhythm(excerpt: Excerpt) -> dict[str, float]:
    row, onsets = gaps(excerpt), [note.onset for note in excerpt.notes]
    counts = [len(bar) for bar in bars(excerpt)]
    halves = Counter(
        tuple(onset % HALF for onset in onsets if onset // HALF == half) for half in range(BARS * BAR // HALF)
    )
    total = sum(halves.values())
    found = {f"gap {name}": mean(low <= gap <= high for gap in row) for name, (low, high) in _GAPS.items()}
    found |= {f"strike {eighth}": sum(o % BAR == eighth * 6 for o in onsets) / BARS for eighth in range(8)}
    return found | {
        "off the beat": mean(onset % BEAT != 0 for onset in onsets),
        "fullest bar": max(counts),
        "emptiest bar": min(counts),
        "bar density spread": pstdev(counts),
        "half bars": len(halves) / total,
        "half-bar bits": -sum(count / total * log2(count / total) for count in halves.values()),
        "longest run": _longest_run(row) / len(row),
        "bar figures": len({tuple(n.onset % BAR for n in bar) for bar in bars(excerpt)}) / BARS,
    }


def _longest_run(row: Sequence[int]) -> int:
    best = here = 0
    for gap in row:
        here = here + 1 if gap == BEAT // 2 else 0
        best = max(best, here)
    return best


def _motif(excerpt: Excerpt) -> dict[str, float]:
    rows = bars(excerpt)
    onsets = [{note.onset % BAR for note in bar} for bar in rows]
    pitches = [{note.onset % BAR: note.midi for note in bar} for bar in rows]
    found: dict[str, float] = {}
    for lag in _LAGS:
        pairs = list(zip(range(BARS - lag), range(lag, BARS), strict=True))
        found[f"like {lag} before"] = mean(
            len(onsets[a] & onsets[b]) / max(1, len(onsets[a] | onsets[b])) for a, b in pairs
        )
        found[f"same notes {lag} before"] = mean(
            mean(pitches[a][o] == pitches[b][o] for o in shared) if (shared := onsets[a] & onsets[b]) else 0.0
            for a, b in pairs
        )
    row = moves(excerpt)
    fives = [tuple(row[at : at + 5]) for at in range(len(row) - 4)]
    figures = [(tuple(gaps(excerpt)[at : at + 3]), tuple(row[at : at + 3])) for at in range(len(row) - 2)]
    return found | {"five intervals return": _again(fives), "figures return": _again(figures)}


def _again(row: Sequence[object]) -> float:
    counts = Counter(row)
    return sum(count for count in counts.values() if count > 1) / max(1, len(row))


def _phrase(excerpt: Excerpt) -> dict[str, float]:
    pairs = [(a, b) for a, b in pairwise(excerpt.notes) if b.onset - a.onset >= HALF]
    last = excerpt.notes[-1]
    return {
        "breaths": len(pairs),
        "breaths in even bars": mean(a.onset // BAR % 2 for a, _ in pairs) if pairs else nan,
        "starts late in the bar": mean(b.onset % BAR >= HALF for _, b in pairs) if pairs else nan,
        "ends off the beat": nan if (value := ends_off_beat(excerpt)) is None else value,
        "ends on 1 or 3": mean(a.onset % HALF == 0 for a, _ in pairs) if pairs else nan,
        "begins at once": float(excerpt.notes[0].onset == 0),
        "first in the triad": float((excerpt.notes[0].midi - excerpt.tonic) % 12 in (0, 3, 4, 7)),
        "last in the triad": float((last.midi - excerpt.tonic) % 12 in (0, 3, 4, 7)),
        "last on the downbeat": float(last.onset % BAR == 0),
        "last note": BARS * BAR - last.onset,
        "notes in the last bar": len(bars(excerpt)[-1]),
        "notes in bar 4": len(bars(excerpt)[3]),
    }


def _pitch(excerpt: Excerpt) -> dict[str, float]:
    row, midis = moves(excerpt), [note.midi for note in excerpt.notes]
    sizes = [abs(move) for move in row]
    turns = [a * b < 0 for a, b in pairwise([move for move in row if move])]
    spans = [max(n.midi for n in bar) - min(n.midi for n in bar) for bar in bars(excerpt) if bar]
    degrees = Counter((midi - excerpt.tonic) % 12 for midi in midis)
    found = {f"degree {degree}": degrees[degree] / len(midis) for degree in range(12)}
    found |= {f"interval {size}": mean(each == size for each in sizes) for size in range(10)}
    return found | {
        "steps": steps(excerpt) or 0.0,
        "leaps": mean(size >= 5 for size in sizes),
        "widest": mean(size >= 10 for size in sizes),
        "mean move": mean(sizes),
        "rising": mean(move > 0 for move in row if move) if any(row) else nan,
        "turning": mean(turns) if turns else nan,
        "range": max(midis) - min(midis),
        "spread": pstdev(midis),
        "bar range": mean(spans),
        "classes": len(degrees),
        "to and fro": mean(a == c != b for a, b, c in zip(midis, midis[1:], midis[2:], strict=False)),
        "peak": excerpt.notes[midis.index(max(midis))].onset / (BARS * BAR),
        "whither": midis[-1] - midis[0],
    }
