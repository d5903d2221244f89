"""Prints what a thousand fresh lines of each level hold and cost, and how like real music they are:
python -m tests.bench.lines [LINES] [--real] [--leads FOLDER] [--solos FILE]

Eight bars each, in the keys of the shelf, on the map of position V; seeds are fixed. Times are of single lines, by the
wall and by the processor, beside a reference of the same run: a loop of arithmetic of about a millisecond. They are
taken with garbage left alone, then with Python collecting it as it likes while the lines pile up: the longest of those
times are whole collections, not lines.

The figures of `line_figures` stand beside the ranges they are to reach. With `--real` lines of the song levels are set
beside folk songs of music21's corpus (`line_classifier`), those of `--leads` mixed in by the share that the level has
of lead sheets, first those whose rhythm the level can hold, then any; lines over changes beside the solos of `--solos`
(`real_lines`), without triplets where the level has none. What is left out of the comparison is printed below it.
"""

import argparse
import gc
import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from random import Random
from statistics import mean, median
from time import perf_counter, process_time

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2])]

from game.lines.fingering import fingers_of
from game.lines.fresh_line import fresh_line
from game.lines.key_ladder import ladder_keys
from game.lines.levels import LEVELS, Level
from game.lines.manners import SONG_MANNERS
from game.lines.rhythms import HALF, RHYTHMS, level_of_cell
from game.lines.scale import key_named
from game.music.chords import ChordSymbol
from game.music.difficulty import difficulty
from game.music.score import Note, Rest, Score
from game.music.written import WrittenNote, written_notes
from game.neck.neck_map import standard_map
from tests.bench.line_classifier import spread_beside, told_apart
from tests.bench.line_features import LEFT_OUT
from tests.bench.line_figures import FIGURES, TARGETS, Excerpt, excerpt_of, mean_of
from tests.bench.real_lines import as_dense, folk_songs, lead_sheets, solos, without_last_bar
from tests.lines.making import tones_of

KEYS = ("F", "Bb", "C", "G", "Eb", "Dm", "Am", "Gm")
BARS = 8
MAP = standard_map()
FINGERS = fingers_of(MAP)
INTERVALS = ("unison", "step", "third", "fourth", "fifth", "sixth", "wider")


HEADS = (
    (
        "Milliseconds for a line: by the wall, by the processor; the longest with garbage collected; the reference",
        "".join(f"{name:>8s}" for name in ("wall", "p99", "max", "cpu", "p99", "max", "garbage", "refer.", "ratio")),
    ),
    (
        "Intervals between notes, accidentals printed, notes outside the signature",
        "".join(f"{name:>8s}" for name in INTERVALS) + f"{'printed':>9s}{'outside':>9s}",
    ),
    (
        "Notes a bar; the share of notes of two beats or more, of eighths, off the beat, tied, in triplets; of rests",
        "".join(f"{name:>8s}" for name in ("a bar", "half+", "eighths", "off-beat", "tied", "triplet", "rests")),
    ),
    (
        "Strong beats: chord tones, those led to by a semitone, enclosed; others that go on to one by step; difficulty",
        "".join(f"{name:>10s}" for name in ("tones", "semitone", "enclosed", "leaning", "hard", "p10", "p90")),
    ),
    (
        "Different lines, four bars, two bars, single bars; lines and spaces a line ranges over",
        "".join(f"{name:>17s}" for name in ("lines", "fours", "twos", "bars")) + f"{'range':>9s}",
    ),
)


def reference_ms() -> float:
    start = process_time()
    total = 0
    for number in range(20_000):
        total += number * number % 7
    return (process_time() - start) * 1000


def made(level: Level, count: int) -> tuple[list[Score], list[float], list[float]]:
    scores: list[Score] = []
    wall, processor = [], []
    for seed in range(count):
        key, rng = key_named(KEYS[seed % len(KEYS)]), Random(seed)
        at, used = perf_counter(), process_time()
        scores.append(fresh_line(level, MAP, key=key, bars=BARS, rng=rng))
        processor.append((process_time() - used) * 1000)
        wall.append((perf_counter() - at) * 1000)
    return scores, wall, processor


def at_share(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def times(level: Level, wall: list[float], processor: list[float], collected: float) -> str:
    reference = median(reference_ms() for _ in range(9))
    figures = "".join(f"{median(row):8.2f}{at_share(row, 0.99):8.2f}{max(row):8.2f}" for row in (wall, processor))
    beside = f"{collected:8.2f}{reference:8.2f}{median(processor) / reference:8.2f}"
    return f"{level.number} {level.name:32s}{figures}{beside}"


def shares(level: Level, lines: list[tuple[WrittenNote, ...]]) -> str:
    moves = [abs(b.pitch.staff_step - a.pitch.staff_step) for line in lines for a, b in pairwise(line)]
    counted = Counter(INTERVALS[min(move, len(INTERVALS) - 1)] for move in moves)
    notes = [note for line in lines for note in line]
    printed = mean(note.shown.sign is not None for note in notes)
    outside = mean(note.pitch.alter != note.signature for note in notes)
    row = "".join(f"{counted[name] / len(moves):8.1%}" for name in INTERVALS)
    return f"{level.number} {level.name:32s}{row}{printed:9.1%}{outside:9.1%}"


def rhythm(level: Level, scores: list[Score], lines: list[tuple[WrittenNote, ...]]) -> str:
    notes = [note for line in lines for note in line]
    events = [event for score in scores for bar in score.bars for event in bar.events]
    heads = [event for event in events if isinstance(event, Note)]
    figures = (
        len(notes) / (BARS * len(lines)),
        mean(note.length >= 2 for note in notes),
        mean(note.length == 0.5 for note in notes),
        mean(note.onset % 1 == 0.5 for note in notes),
        mean(len(note.heads) > 1 for note in notes),
        mean(head.value.tuplet is not None for head in heads),
        mean(isinstance(event, Rest) for event in events),
    )
    return f"{level.number} {level.name:32s}{figures[0]:8.2f}" + "".join(f"{figure:8.1%}" for figure in figures[1:])


def strong_beats(level: Level, scores: list[Score]) -> str:
    """Shares of the notes struck on beats 1 and 3 of bars in 4/4."""
    found: Counter[str] = Counter()
    for score in scores:
        notes = written_notes(score.bars, score.reading)
        for place, note in enumerate(notes):
            bar = score.bars[note.heads[0].bar]
            onset = bar.events[note.heads[0].event].onset
            if place < 2 or place + 1 == len(notes) or onset not in {0, 2}:
                continue
            chord = [chord for chord in bar.chords if chord.onset <= onset][-1]
            tone = is_tone(note, chord)
            moves = [before.sounding - note.sounding for before in notes[place - 2 : place]]
            found["all"] += 1
            found["tones"] += tone
            found["semitone"] += tone and abs(moves[1]) == 1
            found["enclosed"] += tone and moves[0] * moves[1] < 0 and max(map(abs, moves)) <= 2
            ahead = notes[place + 1]
            found["leaning"] += not tone and is_tone(ahead, chord) and abs(ahead.sounding - note.sounding) <= 2
    shares = "".join(f"{found[name] / found['all']:10.1%}" for name in ("tones", "semitone", "enclosed", "leaning"))
    hard = [difficulty(score.bars, score.reading).page_total for score in scores]
    ends = f"{mean(hard):10.2f}{at_share(hard, 0.1):10.2f}{at_share(hard, 0.9):10.2f}"
    return f"{level.number} {level.name:32s}{shares}{ends}"


def is_tone(note: WrittenNote, chord: ChordSymbol) -> bool:
    return (note.pitch.step, note.pitch.alter) in tones_of(chord)


def alike(level: Level, scores: list[Score]) -> str:
    scores = [replace(score, bars=tuple(bar for bar in score.bars if not bar.pickup)) for score in scores]
    bars = [(bar.key, bar.events) for score in scores for bar in score.bars]
    pairs = [
        (score.bars[0].key, tuple(bar.events for bar in score.bars[at : at + 2]))
        for score in scores
        for at in (0, 2, 4, 6)
    ]
    halves = [tuple(bar.events for bar in score.bars[at : at + 4]) for score in scores for at in (0, 4)]
    lines = [tuple(bar.events for bar in score.bars) for score in scores]
    sizes = "".join(f"{len(set(row)):8d} of {len(row):5d}" for row in (lines, halves, pairs, bars))
    span = mean(
        max(n.pitch.staff_step for bar in score.bars for n in bar.notes)
        - min(n.pitch.staff_step for bar in score.bars for n in bar.notes) + 1
        for score in scores
    )  # fmt: skip
    return f"{level.number} {level.name:32s}{sizes}{span:9.1f}"


def figures_beside_targets(excerpts: Sequence[Sequence[Excerpt]]) -> None:
    print("Figures, a * where they are out of their range" + "".join(f"{level.number:8d}" for level in LEVELS))
    for name, figure in FIGURES.items():
        cells = []
        for row, (low, high) in zip(excerpts, TARGETS[name], strict=True):
            value = mean_of(figure, row)
            cells.append(
                "       -" if value is None else f"{value:7.2f}{' ' if low - 0.005 <= value < high + 0.005 else '*'}"
            )
        print(f"{name:46s}{''.join(cells)}")
    print()


def same_finger(scores: Sequence[Score]) -> float:
    """The share of notes within an eighth of the one before with its finger on another string."""
    found = quick = 0
    for score in scores:
        for before, after in pairwise(written_notes(score.bars, score.reading)):
            if after.onset - before.onset <= 0.5:
                quick += 1
                here, there = FINGERS[before.pitch.midi], FINGERS[after.pitch.midi]
                found += here[0] == there[0] and here[1] != there[1]
    return found / quick if quick else 0.0


def beside_real_music(excerpts: Sequence[Sequence[Excerpt]], leads: Path | None, of_solos: Path | None) -> None:
    """Songs twice: beside those whose rhythm the level can hold, in major as nearly all of them are and in the keys of
    the level; then beside any, in the keys of the figures above. Lines over changes twice as well: as they are, and
    beside solos as dense as they, without the end that a part of a solo does not have.
    """
    print("Told from real music (0.5 by guessing); spread beside its own; tunes of either kind")
    count = len(excerpts[0])
    folk = folk_songs(5 * count)
    sheets = lead_sheets(leads, count) if leads else []
    improvised = solos(of_solos, 5 * count) if of_solos else []
    for level, ours in zip(LEVELS, excerpts, strict=True):
        if level.number in SONG_MANNERS:
            near = [[song for song in songs if is_within(song, level.rhythm)] for songs in (folk, sheets)]
            told(level, "of its rhythm", mixed(level, near[0], near[1], count), in_keys_of_level(level, count))
            told(level, "of any rhythm", mixed(level, folk, sheets, count), ours)
        elif improvised:
            # Triplets would tell a level that has none.
            near_level = [e for e in improvised if level.rhythm == len(RHYTHMS) or is_within(e, len(RHYTHMS) - 1)]
            told(level, "solos", near_level, ours)
            cut = ([without_last_bar(one) for one in row] for row in (near_level, ours))
            told(level, "as dense, but for the last bar", *as_dense(*cut))
    print("\nLeft out above, but for the last figure, since the vocabulary of the level settles it:")
    for level in LEVELS:
        for reason, names in LEFT_OUT[level.number]:
            print(f"{level.number} {reason}: {', '.join(sorted(names))}")


def is_within(excerpt: Excerpt, rhythm: int) -> bool:
    """Whether a rhythm level holds all half bars of an excerpt."""
    halves: dict[int, list[int]] = {}
    for note in excerpt.notes:
        halves.setdefault(note.onset // HALF, []).append(note.onset % HALF)
    return all(level_of_cell(tuple(cell), HALF) <= rhythm for cell in halves.values())


def mixed(level: Level, folk: Sequence[Excerpt], sheets: Sequence[Excerpt], count: int) -> list[Excerpt]:
    """Folk songs, and as many lead sheets among them as the level is like, in an order of chance."""
    share = int(count * SONG_MANNERS[level.number].lead) if sheets else 0
    found = [*sheets[:share], *folk[: count - min(share, len(sheets))]]
    Random(1).shuffle(found)
    return found


def in_keys_of_level(level: Level, count: int) -> list[Excerpt]:
    keys = [key for key in ladder_keys(level.number, MAP) if not key.minor]
    scores = (fresh_line(level, MAP, key=keys[at % len(keys)], bars=BARS, rng=Random(at)) for at in range(count))
    return [excerpt_of(score, f"{level.number}/{at}") for at, score in enumerate(scores)]


def told(level: Level, beside: str, real: Sequence[Excerpt], ours: Sequence[Excerpt]) -> None:
    row = "  ".join(f"{name} {value:.3f}" for name, value in told_apart(level.number, real, ours).items())
    tunes = min(len(real), len(ours))
    print(f"{level.number} {beside:14s} {row}  spread {spread_beside(real, ours):.2f}  of {tunes}", flush=True)


def main(count: int, *, real: bool, leads: Path | None, of_solos: Path | None) -> None:
    rows: list[tuple[str, ...]] = []
    excerpts: list[list[Excerpt]] = []
    for level in LEVELS:
        gc.collect()
        gc.disable()
        scores, wall, processor = made(level, count)
        gc.enable()
        collected = max(made(level, count)[1])
        lines = [written_notes(score.bars, score.reading) for score in scores]
        off = sum(MAP.home_of(note.sounding) is None for line in lines for note in line)
        wrong = sum([b.length == b.meter.bar_length for b in s.bars if not b.pickup] != [True] * BARS for s in scores)
        if off or wrong:
            print(f"level {level.number}: {off} notes without a home, {wrong} lines of a wrong length")
        excerpts.append([excerpt_of(score, f"{level.number}/{at}") for at, score in enumerate(scores)])
        print(f"{level.number} the same finger on another string within an eighth {same_finger(scores):.3f}")
        rows.append(
            (
                times(level, wall, processor, collected),
                shares(level, lines),
                rhythm(level, scores, lines),
                strong_beats(level, scores),
                alike(level, scores),
            )
        )
    for index, (title, columns) in enumerate(HEADS):
        print(f"{title}\n{'':34s}{columns}")
        print("\n".join(row[index] for row in rows) + "\n")

    figures_beside_targets(excerpts)
    if real:
        beside_real_music(excerpts, leads, of_solos)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("lines", nargs="?", type=int, default=1000)
    parser.add_argument("--real", action="store_true")
    parser.add_argument("--leads", type=Path)
    parser.add_argument("--solos", type=Path)
    asked = parser.parse_args()
    main(asked.lines, real=asked.real, leads=asked.leads, of_solos=asked.solos)
