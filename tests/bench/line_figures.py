"""Figures of eight bars of 4/4, each a function of an excerpt: what makes them like songs and solos, or unlike.

An excerpt is a row of notes in 48 ticks a bar, 12 a quarter note, from its first full bar on; what lies in a pickup bar
is no part of it. Intervals are between notes that follow one another, whatever lies between. A gap is from onset to
onset: 24 ticks and more are a breath. Shares of nothing are None, and left out of means.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import mean

from game.music.pitch import SEMITONES_OF_STEP
from game.music.score import Score
from game.music.written import written_notes

BARS, BAR, BEAT, HALF = 8, 48, 12, 24
TONES = {
    "major": (0, 4, 7), "minor": (0, 3, 7), "dominant": (0, 4, 7, 10), "major-seventh": (0, 4, 7, 11),
    "minor-seventh": (0, 3, 7, 10), "major-sixth": (0, 4, 7, 9), "minor-sixth": (0, 3, 7, 9),
    "half-diminished": (0, 3, 6, 10), "diminished": (0, 3, 6), "diminished-seventh": (0, 3, 6, 9),
}  # fmt: skip
# The scale that chromatic notes leave, in semitones above the key note: major; minor with its raised sixth and seventh.
_SCALES = {False: (0, 2, 4, 5, 7, 9, 11), True: (0, 2, 3, 5, 7, 8, 9, 10, 11)}


@dataclass(frozen=True, slots=True)
class Sounded:
    """A note of an excerpt: onset and length in ticks, MIDI number, root (pitch class) and MusicXML kind of the chord
    it stands over, both None without one.
    """

    onset: int
    ticks: int
    midi: int
    root: int | None = None
    kind: str | None = None


@dataclass(frozen=True, slots=True)
class Excerpt:
    """Notes of eight bars in a key: its tonic as a pitch class, and whether it is minor. `name` says of which tune."""

    notes: tuple[Sounded, ...]
    tonic: int
    minor: bool = False
    name: str = ""


def excerpt_of(score: Score, name: str = "", first_bar: int = 0) -> Excerpt:
    """Eight full bars of a score in 4/4, from the full bar of that index on."""
    starts, at = [], 0.0
    for bar in score.bars:
        starts.append(at)
        at += float(bar.length)
    full = [start for bar, start in zip(score.bars, starts, strict=True) if not bar.pickup]
    begin = full[first_bar]
    chords = [
        (start + float(chord.onset), chord)
        for bar, start in zip(score.bars, starts, strict=True) for chord in bar.chords
    ]  # fmt: skip
    notes = []
    for note in written_notes(score.bars, score.reading):
        onset = round((float(note.onset) - begin) * BEAT)
        if 0 <= onset < BARS * BAR:
            under = [chord for start, chord in chords if start <= note.onset]
            known = under and under[-1].root and under[-1].kind in TONES
            root, kind = (pitch_class(under[-1].root), under[-1].kind) if known else (None, None)
            notes.append(Sounded(onset, round(float(note.length) * BEAT), note.pitch.midi, root, kind))
    key = score.bars[0].key
    return Excerpt(tuple(notes), pitch_class(key.name.removesuffix("m")), key.minor, name)


def pitch_class(name: str) -> int:
    """The pitch class of a root or key: "Bb" is 10."""
    return (SEMITONES_OF_STEP[name[0]] + name.count("#") - name[1:].count("b")) % 12


def moves(excerpt: Excerpt) -> list[int]:
    """Semitones from note to note."""
    return [after.midi - before.midi for before, after in pairwise(excerpt.notes)]


def gaps(excerpt: Excerpt) -> list[int]:
    """Ticks from onset to onset, for the last note to the end of the eight bars."""
    onsets = [note.onset for note in excerpt.notes]
    return [after - before for before, after in pairwise((*onsets, BARS * BAR))]


def bars(excerpt: Excerpt) -> list[list[Sounded]]:
    """The notes of each bar."""
    return [[note for note in excerpt.notes if note.onset // BAR == bar] for bar in range(BARS)]


def notes_a_bar(excerpt: Excerpt) -> float:
    """Notes over bars; tied noteheads are one."""
    return len(excerpt.notes) / BARS


def repeats(excerpt: Excerpt) -> float | None:
    """The share of intervals that are none."""
    return _share(move == 0 for move in moves(excerpt))


def steps(excerpt: Excerpt) -> float | None:
    """The share of intervals of one or two semitones."""
    return _share(abs(move) in (1, 2) for move in moves(excerpt))


def thirds(excerpt: Excerpt) -> float | None:
    """The share of intervals of three or four semitones."""
    return _share(abs(move) in (3, 4) for move in moves(excerpt))


def leaps_answered(excerpt: Excerpt) -> float | None:
    """Of intervals of five semitones and more, the share followed by a step (at most two) the other way."""
    return _share(0 < abs(b) <= 2 and a * b < 0 for a, b in pairwise(moves(excerpt)) if abs(a) >= 5)


def rhythm_returns(excerpt: Excerpt) -> float | None:
    """The share of bars from the second on whose onsets are those of an earlier bar, with two onsets and more."""
    return _returns([tuple(note.onset % BAR for note in bar) for bar in bars(excerpt)])


def bars_return(excerpt: Excerpt) -> float | None:
    """The share of bars from the second on whose onsets and pitches are those of an earlier bar, likewise."""
    return _returns([tuple((note.onset % BAR, note.midi) for note in bar) for bar in bars(excerpt)])


def _returns(rows: Sequence[tuple[object, ...]]) -> float | None:
    return _share(len(row) > 1 and row in rows[:at] for at, row in enumerate(rows) if at)


def three_intervals_return(excerpt: Excerpt) -> float | None:
    """The share of threes of neighbouring intervals that occur twice and more among all threes."""
    row = moves(excerpt)
    threes = list(zip(row, row[1:], row[2:], strict=False))
    counts = Counter(threes)
    return _share(counts[three] > 1 for three in threes)


def chord_tones_on(beats: Sequence[int]) -> Callable[[Excerpt], float | None]:
    """The figure of the share of chord tones among the notes struck on these beats, 0 the first of a bar."""

    def chord_tones(excerpt: Excerpt) -> float | None:
        struck = [note for note in excerpt.notes if note.root is not None and note.onset % BAR in
                  [beat * BEAT for beat in beats]]  # fmt: skip
        return _share((note.midi - note.root) % 12 in TONES[note.kind] for note in struck if note.kind and
                      note.root is not None)  # fmt: skip

    return chord_tones


def starts_on_downbeat(excerpt: Excerpt) -> float | None:
    """Of the notes after a breath, the share on the first beat of a bar."""
    return _share(after.onset % BAR == 0 for before, after in _breaths(excerpt))


def ends_off_beat(excerpt: Excerpt) -> float | None:
    """Of the notes before a breath, the share off the beat."""
    return _share(before.onset % BEAT != 0 for before, after in _breaths(excerpt))


def breath_in_bar_four(excerpt: Excerpt) -> float:
    """1 where a breath begins with a note of the fourth bar, else 0."""
    return float(any(3 * BAR <= before.onset < 4 * BAR for before, _ in _breaths(excerpt)))


def _breaths(excerpt: Excerpt) -> list[tuple[Sounded, Sounded]]:
    return [(before, after) for before, after in pairwise(excerpt.notes) if after.onset - before.onset >= HALF]


def syncopations(excerpt: Excerpt) -> float:
    """Notes half a beat and more after a beat with no note on the next beat, a bar."""
    onsets = {note.onset for note in excerpt.notes}
    late = [onset for onset in onsets if onset % BEAT in (6, 8, 9)]
    return sum((onset // BEAT + 1) * BEAT not in onsets for onset in late) / BARS


def chromatic(excerpt: Excerpt) -> float | None:
    """The share of notes outside the key; in the minor the raised sixth and seventh are inside."""
    inside = _SCALES[excerpt.minor]
    return _share((note.midi - excerpt.tonic) % 12 not in inside for note in excerpt.notes)


def tritones(excerpt: Excerpt) -> float:
    """Intervals of six semitones."""
    return float(sum(abs(move) == 6 for move in moves(excerpt)))


def rest_share(excerpt: Excerpt) -> float:
    """The share of time between the first and last onset that is silent, in silences of five ticks and more."""
    silent = [after.onset - before.onset - before.ticks for before, after in pairwise(excerpt.notes)]
    return sum(ticks for ticks in silent if ticks >= 5) / (BARS * BAR)


def _share(found: Iterable[bool]) -> float | None:
    row = list(found)
    return mean(row) if row else None


FIGURES: dict[str, Callable[[Excerpt], float | None]] = {
    "notes a bar": notes_a_bar,
    "repeats": repeats,
    "thirds": thirds,
    "leap answered by step": leaps_answered,
    "bar rhythm returns": rhythm_returns,
    "the bar itself": bars_return,
    "three intervals return": three_intervals_return,
    "chord tone on 1, 3": chord_tones_on((0, 2)),
    "chord tone on 2, 4": chord_tones_on((1, 3)),
    "starts on the downbeat": starts_on_downbeat,
    "breath in bar 4": breath_in_bar_four,
    "syncopations a bar": syncopations,
    "chromatic share": chromatic,
    "tritones in 8 bars": tritones,
}

_ANY = (0.0, 99.0)
Range = tuple[float, float]


def _row(*ranges: Range) -> tuple[Range, ...]:
    """Ranges for levels 1, 2 and 3, 4, 5, 6, 7, 8 as one for each level."""
    return (ranges[0], ranges[1], *ranges[1:])


# What lines of each level are to reach in the mean (ours, from measures of folk songs, lead sheets and solos).
TARGETS: dict[str, tuple[Range, ...]] = {
    "notes a bar": _row((2.6, 3.8), (3.3, 4.9), (3.5, 5.2), (3.4, 5), (4.5, 6), (5, 6.5), (5.6, 7.4)),
    "repeats": _row((0.20, 0.30), (0.15, 0.25), (0.15, 0.22), (0.12, 0.20), (0.03, 0.10), (0.01, 0.06), (0.01, 0.06)),
    "thirds": _row((0.12, 0.22), (0.15, 0.22), (0.15, 0.22), (0.17, 0.23), (0.23, 0.28), (0.24, 0.30), (0.25, 0.30)),
    "leap answered by step": _row(_ANY, _ANY, (0.3, 0.5), (0.3, 0.5), (0.3, 0.4), (0.3, 0.4), (0.3, 0.4)),
    "bar rhythm returns": _row(
        (0.45, 0.60), (0.40, 0.55), (0.38, 0.50), (0.33, 0.45), (0.15, 0.30), (0.08, 0.20), (0.04, 0.14)
    ),
    "the bar itself": _row((0.15, 0.30), (0.10, 0.20), (0.08, 0.15), (0.06, 0.12), (0, 0.03), (0, 0.02), (0, 0.02)),
    "three intervals return": _row(
        (0.35, 1), (0.30, 1), (0.26, 1), (0.22, 1), (0.17, 0.27), (0.17, 0.25), (0.17, 0.25)
    ),
    "chord tone on 1, 3": _row((0.76, 1), (0.77, 1), (0.77, 1), (0.75, 1), (0.80, 0.90), (0.70, 0.80), (0.60, 0.70)),
    "chord tone on 2, 4": _row((0.72, 1), (0.70, 1), (0.70, 1), (0.68, 1), (0.55, 0.65), (0.50, 0.60), (0.50, 0.58)),
    "starts on the downbeat": _row((0, 0.40), (0, 0.35), (0, 0.30), (0, 0.30), (0, 0.25), (0, 0.20), (0, 0.15)),
    "breath in bar 4": _row((0, 0.70), (0, 0.70), (0, 0.65), (0, 0.65), (0, 0.50), (0, 0.40), (0, 0.35)),
    "syncopations a bar": _row((0, 0.05), (0, 0.08), (0, 0.15), (0.15, 0.4), (0.3, 0.6), (0.4, 0.8), (0.4, 1.0)),
    "chromatic share": _row((0, 0), (0, 0), (0, 0), (0.04, 0.09), (0.08, 0.12), (0.14, 0.19), (0.18, 0.24)),
    "tritones in 8 bars": _row((0, 0), (0, 0), (0, 0.1), (0, 0.2), (0, 0.6), (0, 0.8), (0, 0.8)),
}


def mean_of(figure: Callable[[Excerpt], float | None], excerpts: Sequence[Excerpt]) -> float | None:
    """The mean of a figure over the excerpts that have it."""
    found = [value for excerpt in excerpts if (value := figure(excerpt)) is not None]
    return mean(found) if found else None
