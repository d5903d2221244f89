"""A plain guitar, heard: `python -m tests.bench.listening [--row WORDS] [--seed N] [--guitars] [--few]`.

Prints each figure beside its target. The guitars are rendered with fluidsynth from two sound fonts (Debian packages
fluidsynth, fluid-soundfont-gm and timgm6mb-soundfont) and with a string model; another `--seed` means other melodies,
hands and noises. Ten minutes of two cores. A right note is one whose onset is within 50 ms and whose pitch within half
a semitone (mir_eval).
"""

import argparse
import sys
from collections.abc import Callable, Iterator
from multiprocessing import get_context
from typing import Any

import numpy as np

from tests.bench.listening_measures import Accepted, Costs, Counts, accepted, costs, counted, fed, notes_of
from tests.bench.listening_rows import LESS_KIND, WANTED, Recording, Row, guitars, made, without_notes, wrong_line
from tests.instrument.listening.rendered_guitar import (
    FLUID,
    PROGRAMS,
    RATE,
    TIM,
    FontGuitar,
    NoSynthesizerError,
    check_installed,
)

WRONG_NOTES = 1_000
DIFFERENT = 0.9
"""The correlation under which two notes of two fonts are of two samples."""


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--row", default="", help="only rows with these words")
    parser.add_argument("--seed", type=int, default=17)
    parser.add_argument("--guitars", action="store_true", help="the figures of each guitar, too")
    parser.add_argument("--few", action="store_true", help="a third of the guitars a row, others in each")
    parser.add_argument("--processes", type=int, default=2)
    asked = parser.parse_args()
    try:
        check_installed()
    except NoSynthesizerError as error:
        print(error, file=sys.stderr)
        return 2
    for guitar in guitars(asked.seed):  # rendered once, before processes share the work
        guitar.pluck(60, 80, 0.1, np.zeros(RATE), np.random.default_rng(0))
    whole = not asked.row
    fallen = 0
    if whole:
        print_fonts()
        print_costs(costs(one_minute(asked.seed)))
    with get_context("fork").Pool(asked.processes) as pool:
        fallen += print_rows(pool.imap, [row for row in WANTED if asked.row in row.name], asked)
        if whole:
            fallen += print_without_notes(pool.imap, asked.seed)
            fallen += print_wrong(pool.imap, asked.seed)
        print("\nless kind (no targets)")
        print_rows(pool.imap, [row for row in LESS_KIND if asked.row in row.name], asked, heads=False)
    return 1 if fallen else 0


def print_fonts() -> None:
    """That the two fonts are not the same recordings: notes of equal program and pitch, at their likest shift."""
    alike = {
        PROGRAMS[program]: max(
            likeness(FontGuitar(FLUID, program), FontGuitar(TIM, program), pitch) for pitch in (45, 52, 59, 66, 73)
        )
        for program in list(PROGRAMS)[:4]
    }
    print("samples of the two fonts, greatest correlation over five pitches (the same would be 1): ", end="")
    print(", ".join(f"{name} {each:.2f}" for name, each in alike.items()))
    if max(alike.values()) > DIFFERENT:
        print("THE FONTS SHARE SAMPLES: rows count the same guitar twice")


def likeness(one: FontGuitar, other: FontGuitar, pitch: int) -> float:
    """The greatest normalised correlation of the first 60 ms of a note."""
    cuts = []
    for guitar, length in ((one, 2_646), (other, 3_528)):
        samples, begins = guitar.note(pitch, 80)
        cuts.append(samples[begins : begins + length])
    products = np.correlate(cuts[1], cuts[0])
    powers = np.convolve(cuts[1] ** 2, np.ones(len(cuts[0])), "valid")
    return float(np.max(np.abs(products) / np.sqrt(powers * float((cuts[0] ** 2).sum()))))


def one_minute(seed: int) -> Recording:
    """Music of several guitars, one after another."""
    samples = [recording.samples for number in (0, 3, 5, 8) for recording in made(WANTED[1], seed, number)]
    return Recording("several", np.concatenate(samples)[: 60 * RATE], ())


def print_costs(spent: Costs) -> None:
    print("\nprocessor, one minute of music in blocks of 256 at 44.1 kHz")
    print(f"  share of a core        {spent.share:7.1%}   (target 5 %)")
    print(f"  a block, median        {spent.median_ms:7.2f} ms")
    print(f"  a block, p99           {spent.p99_ms:7.2f} ms  (target 3 ms)")
    print(f"  a block, worst         {spent.worst_ms:7.2f} ms")
    print(f"  its processor time, p99{spent.own_p99_ms:7.2f} ms, worst {spent.own_worst_ms:.2f} ms")
    print(
        f"  reference, median, p99 {spent.reference_median_ms:7.3f} {spent.reference_p99_ms:.3f} ms"
        " (FFT of 4,096, there and back)"
    )


def _counts_of(asked: tuple[str, int, int]) -> Counts:
    name, seed, number = asked
    total = Counts()
    row = next(row for row in (*WANTED, *LESS_KIND) if row.name == name)
    for recording in made(row, seed, number):
        total.add(counted(recording))
    return total


def summed(imap: Callable[..., Iterator[Any]], row: Row, seed: int, *, few: bool) -> Counts:
    """All guitars, or, of rows without a target, every second."""
    total = Counts()
    every = (3 if few else 1) * (1 if row in WANTED else 2)
    first = (*WANTED, *LESS_KIND).index(row) % every
    numbers = range(first, len(guitars(seed)), every)
    for counts in imap(_counts_of, [(row.name, seed, number) for number in numbers]):
        total.add(counts)
    return total


def quantile(values: list[float], share: float) -> float:
    return float(np.quantile(values, share)) if values else float("nan")


def print_rows(
    imap: Callable[..., Iterator[Any]], rows: list[Row], asked: argparse.Namespace, *, heads: bool = True
) -> int:
    """Print the rows, then what is counted over those of a kind; the number that missed their targets."""
    print(
        f"\n{'':34s} {'F':>5s} {'target':>6s} {'recall':>6s} {'prec.':>5s} {'octave':>6s} {'repeats':>13s}"
        f" {'onset p95':>9s} {'told p50':>8s} {'p95':>4s} {'unsure: wrong':>13s} {'right':>6s} {'notes':>6s}"
    )
    totals = Counts()
    missed = 0
    for row in rows:
        counts = summed(imap, row, asked.seed, few=asked.few)
        target = "" if row.wanted is None else f"{row.wanted:.3f}"
        fell = row.wanted is not None and counts.f_measure < row.wanted
        missed += fell
        wrong = counts.heard - counts.right
        print(
            f"{row.name:34s} {counts.f_measure:5.3f} {target:>6s} {counts.recall:6.3f} {counts.precision:5.3f}"
            f" {counts.octaves / counts.true:6.2%} {_share(counts.repeats_found, counts.repeats):>13s}"
            f" {quantile([abs(each) for each in counts.onsets_ms], 0.95):9.1f} {quantile(counts.told_ms, 0.5):8.1f}"
            f" {quantile(counts.told_ms, 0.95):4.0f} {_share(counts.unsure_wrong, wrong):>13s}"
            f" {counts.unsure_right / max(counts.right, 1):6.1%} {counts.true:6d}{'   under' if fell else ''}",
            flush=True,
        )
        if asked.guitars:
            for guitar, (true, heard, right) in sorted(counts.by_guitar.items()):
                print(f"      {guitar:30s} F {2 * right / max(true + heard, 1):.3f}  {right} of {true}, {heard} heard")
        if row in WANTED[:5]:
            totals.add(counts)
    if heads and totals.true:
        missed += print_totals(totals)
    return missed


def print_totals(counts: Counts) -> int:
    """What is wanted of all plain lines together."""
    figures = (
        ("octave errors", counts.octaves / counts.true * 100, 0.3, "%", "most"),
        ("repeated notes found", counts.repeats_found / max(counts.repeats, 1) * 100, 96.0, "%", "least"),
        ("onset, p95", quantile([abs(each) for each in counts.onsets_ms], 0.95), 10.0, "ms", "most"),
        ("told right for good, p50", quantile(counts.told_ms, 0.5), 35.0, "ms", "most"),
        ("told right for good, p95", quantile(counts.told_ms, 0.95), 55.0, "ms", "most"),
    )
    print(f"\nthe first five rows together, {counts.true} notes")
    missed = 0
    for name, value, target, unit, way in figures:
        fell = value > target if way == "most" else value < target
        missed += fell
        print(f"  {name:28s} {value:7.2f} {unit:3s} (target {target:g} {unit} at {way}){'   under' if fell else ''}")
    return missed


def _share(part: int, whole: int) -> str:
    return f"{part}/{whole} {part / whole:4.0%}" if whole else "-"


def _told_in(asked: tuple[str, Any, int | None]) -> tuple[str, int, int, int | None]:
    name, samples, most = asked
    heard = notes_of(fed(Recording(name, samples, ())))
    return name, len(heard), sum(each.sure for each in heard), most


def print_without_notes(imap: Callable[..., Iterator[Any]], seed: int) -> int:
    print("\nnotes told in a minute in which nobody plays, of them sure (target)")
    missed = 0
    for name, heard, sure, most in imap(_told_in, without_notes(seed)):
        over = most is not None and heard > most
        missed += over
        target = "" if most is None else f"({most})"
        print(f"  {name:28s} {heard:4d} {sure:4d}   {target}{'   over' if over else ''}", flush=True)
    return missed


def _accepted_in(asked: tuple[int, int, int]) -> Accepted:
    return accepted(*wrong_line(*asked))


def print_wrong(imap: Callable[..., Iterator[Any]], seed: int) -> int:
    total = Accepted()
    count = len(guitars(seed))
    for each in imap(_accepted_in, [(seed, number, WRONG_NOTES // count + 8) for number in range(count)]):
        for name in ("notes", "sure", "finally_", "ever", "found", "flagged"):
            setattr(total, name, getattr(total, name) + getattr(each, name))
    print(f"\n{total.notes} wrong notes, a semitone beside the written one, which is expected")
    print(
        f"  taken for the written one in the end {total.finally_}, of them sure {total.sure} (target 0);"
        f" for a while {total.ever}"
    )
    print(
        f"  heard as what they were {total.found / total.notes:.1%},"
        f" of them flagged {total.flagged / max(total.found, 1):.1%}"
    )
    return int(total.finally_ > 0)


if __name__ == "__main__":
    sys.exit(main())
