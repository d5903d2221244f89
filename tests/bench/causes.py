"""Why a pitch was wrong, told of readers whose faults are known: python tests/bench/causes.py [seeds] [--no-strings]

Prints the share of each cause named right beside its target, of takes with habits and of takes with one single fault.
Fresh lines of all levels in many keys and the tunes that come with the program, on maps of several positions.
"""

import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random
from time import perf_counter

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2])]

from game.errors import HomefretError
from game.judging.cause import cause_of, with_causes
from game.judging.verdicts import Cause, NoteVerdict, Verdict
from game.lines.fresh_line import fresh_line
from game.lines.levels import LEVELS
from game.lines.scale import key_named
from game.music.passage import passages_of, whole_tune
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.tunes.library.library import open_entry, shipped_entries
from tests.judging.causes.readers import FAULTS, Page, ReadTake, habit_of, page_of, take_with, verdicts_of, wrong_note

KEYS = ("C", "G", "D", "A", "E", "F", "Bb", "Eb", "Ab", "Am", "Em", "Dm", "Gm", "F#m", "Cm")
TARGETS = {Cause.SLIP: 0.80, Cause.NEIGHBOUR: 0.90, Cause.LEDGER: 0.90, Cause.THIRD: 0.80}
POSITIONS = (1, 2, 5, 5, 7, 9)


def pages(seed: int) -> Iterator[Page]:
    """Fresh lines, then passages of tunes."""
    rng = Random(seed)
    for key in KEYS:
        neck_map = standard_map(position=rng.choice(POSITIONS))
        try:
            score = fresh_line(rng.choice(LEVELS), neck_map, key=key_named(key), bars=rng.choice((4, 8, 16)), rng=rng)
        except HomefretError:
            continue
        yield page_of(whole_tune(written_out(score)), neck_map)
    for entry in rng.sample(shipped_entries(), 15):
        score = written_out(open_entry(entry))
        yield page_of(
            rng.choice((whole_tune(score), *passages_of(score))), standard_map(position=rng.choice(POSITIONS))
        )


def habit_takes(seed: int) -> Iterator[ReadTake]:
    """Readers with one or two habits beside single faults."""
    rng = Random(seed * 31 + 7)
    for page in pages(seed):
        for cause in FAULTS[:5]:
            habits = [habit_of(cause, rng)]
            if rng.random() < 0.4:
                habits.append(habit_of(rng.choice(FAULTS[:5]), rng))
            yield take_with(page, habits, rng)


def single_takes(seed: int) -> Iterator[ReadTake]:
    """One fault a take."""
    rng = Random(seed * 17 + 3)
    for page in pages(seed):
        for cause in FAULTS:
            for _ in range(30):
                index = rng.randrange(len(page.expected))
                note = wrong_note(page, index, cause, rng)
                if note is not None:
                    yield ReadTake(
                        expected=page.expected,
                        verdicts=verdicts_of(page.expected, {index: note}),
                        faults={index: cause},
                    )
                    break


def without_strings(take: ReadTake) -> ReadTake:
    """The same take on a keyboard."""
    told = [
        replace(verdict, answers=tuple(replace(note, place=None) for note in verdict.answers))
        for verdict in take.verdicts
    ]
    return replace(take, verdicts=tuple(told))


def alone(take: ReadTake) -> tuple[NoteVerdict, ...]:
    """Each note told by itself, as while a take runs."""
    return tuple(
        replace(verdict, cause=cause_of(asked, verdict.answers[0]))
        if verdict.verdict is Verdict.WRONG_PITCH
        else verdict
        for asked, verdict in zip(take.expected, take.verdicts, strict=True)
    )


def table(title: str, takes: list[ReadTake]) -> None:
    print(f"\n{title}")
    print(f"  {'':12s}{'faults':>8s}{'target':>8s}{'take':>8s}{'alone':>8s}   taken for")
    right: Counter[Cause] = Counter()
    by_note: Counter[Cause] = Counter()
    made: Counter[Cause] = Counter()
    taken: defaultdict[Cause, Counter[str]] = defaultdict(Counter)
    for take in takes:
        over_take, single = with_causes(take.expected, take.verdicts), alone(take)
        for index, cause in take.faults.items():
            told = over_take[index].cause
            made[cause] += 1
            right[cause] += told is cause
            by_note[cause] += single[index].cause is cause
            if told is not cause and told is not None:
                taken[cause][told.value] += 1
    for cause in FAULTS:
        count = max(made[cause], 1)
        target = f"{TARGETS[cause]:8.2f}" if cause in TARGETS else f"{'as now':>8s}"
        others = ", ".join(f"{word} {times / count:.1%}" for word, times in taken[cause].most_common(3))
        row = f"{made[cause]:8}{target}{right[cause] / count:8.3f}{by_note[cause] / count:8.3f}"
        print(f"  {cause.value:12s}{row}   {others}")


def speed() -> None:
    """3,000 notes, 5 % wrong."""
    rng = Random(1)
    neck_map = standard_map()
    best = []
    page = page_of(
        whole_tune(written_out(fresh_line(LEVELS[5], neck_map, key=key_named("D"), bars=64, rng=rng))), neck_map
    )
    take = take_with(page, (), rng, single=0.09)
    copies = -(-3000 // len(page.expected))
    expected, verdicts = take.expected * copies, take.verdicts * copies
    for _ in range(9):
        start_s = perf_counter()
        with_causes(expected, verdicts)
        best.append(perf_counter() - start_s)
    wrong = sum(verdict.verdict is Verdict.WRONG_PITCH for verdict in verdicts)
    print(f"\n{len(expected)} notes, {wrong} wrong: {min(best) * 1000:.1f} ms, best of 9; target 3 ms")


def main() -> None:
    words = sys.argv[1:]
    seeds = int(next((word for word in words if word.isdigit()), "4"))
    change = without_strings if "--no-strings" in words else lambda take: take
    table(
        f"Readers with habits, {seeds} seeds; share named right, over the take and of the note alone",
        [change(take) for seed in range(seeds) for take in habit_takes(seed)],
    )
    table("One fault a take", [change(take) for seed in range(seeds) for take in single_takes(seed)])
    speed()


if __name__ == "__main__":
    main()
