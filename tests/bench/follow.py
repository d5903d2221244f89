"""The judge and players of many kinds: `python -m tests.bench.follow [--seeds N] [--quick] [--row NAME] [--worst N]`.

Prints each row of what the judge is to reach, with its target and, where one is named, its reference from the same run.
Players are those of `tests/judging/players`, which ask the judge nothing; what counts as an equivalent answer where
nobody could know better is said in `scoring.py` there. `--show CELL SEED` prints one take note by note.
"""

import argparse
from collections.abc import Callable
from random import Random
from time import perf_counter

from game.coach.stages import Stage
from game.judging.summary import summary_of
from game.judging.tolerance import bar_spans
from game.judging.verdicts import Cause
from game.music.passage import Passage
from game.practice.timed_take import TimedTake, TimedTerms
from tests.bench import follow_takes as takes
from tests.bench.cause_readers import LINES, causes_missed
from tests.bench.follow_counts import Counted, Options, over, told
from tests.bench.follow_measures import (
    FRAME_S,
    all_lost,
    free_lost,
    reversed_live,
    rhythm_lost,
    right_lost,
    time_lost,
)
from tests.bench.follow_shown import show
from tests.bench.judge_times import best_times_s, live_times_s
from tests.judging.by_mir_eval import compared
from tests.judging.made_takes import MAP
from tests.judging.players.cells import ALONE, Cell
from tests.judging.players.hands import SURE, Hands
from tests.judging.players.material import made_line, material_of
from tests.judging.players.performed import Performance, perform
from tests.judging.players.pulses import PulseKind, drift, steady
from tests.judging.players.scripts import plain, two_seconds, with_faults
from tests.made import passage

_LONG = 3000


def drift_row(options: Options) -> None:
    found = over(takes.drifting(), right_lost, options.seeds)
    told("right notes lost: drift to 3 %, rubato 8 %", found, options, mean=0.001, worst=0.005)


def curves_row(options: Options) -> None:
    found = over(takes.curves(), right_lost, options.seeds)
    told("right notes lost: tempo curves of performances", found, options, mean=0.001, worst=0.005)


def taps_row(options: Options) -> None:
    found = over(takes.tapping(), right_lost, max(2, options.seeds // 2))
    told("right notes lost: hands as in the literature on tapping", found, options, mean=0.001, worst=0.005)


def faults_row(options: Options) -> None:
    seeds = options.seeds
    told("drift and 5 % of faults, walking", over(takes.at_fault(("walking",)), all_lost, seeds), options, mean=0.002)
    told(
        "drift and 5 % of faults, ostinatos", over(takes.at_fault(("ostinato",)), all_lost, seeds), options, mean=0.004
    )
    other = takes.at_fault(("scales", "tunes", "fresh lines"))
    told("drift and 5 % of faults, scales, tunes, fresh lines", over(other, all_lost, seeds), options, mean=0.002)
    told("drift and 5 % of faults, repeated", over(takes.at_fault(("repeated",)), all_lost, seeds), options, mean=None)
    for name in ("walking", "ostinato", "tunes"):
        told(
            f"5 % each of three faults, {name}", over(takes.at_much_fault((name,)), all_lost, seeds), options, mean=None
        )


def single_row(options: Options) -> None:
    for pulse in ("steady", "drift 1-3 %"):
        found = over(takes.single_faults(pulse), all_lost, options.seeds)
        told(f"single faults, {pulse}", found, options, mean=0.9995)


def mir_eval_row(options: Options) -> None:
    """Pairs and hits where no second candidate lies in a window, against match_notes."""
    plain_notes = differ = notes = 0
    for window_s in (0.05, 0.06, 0.1):
        for bias_s in (-0.06, 0.0, 0.06):
            for seed in range(2 * options.seeds):
                found, line = compared(seed, bias_s=bias_s, window_s=window_s, count=100)
                notes += len(line)
                plain_notes += found.plain
                differ += len(set(found.differing) | set(found.unpaired))
    met = "met" if differ <= plain_notes * 23 / 30_470 else "MISSED"
    print(
        f"{'pairs unlike match_notes where nobody drifts':66s} {differ:8d}  (target: no worse than 23 of 30470) {met}"
        f" of {plain_notes} plain among {notes}"
    )


def jumps_row(options: Options) -> None:
    for jump in ("skipped bar", "one beat behind", "back a bar"):
        for pulse in ("steady", "drift 1-3 %"):
            found = over(takes.jumping(jump, pulse), all_lost, 2 * options.seeds)
            told(f"{jump}, {pulse}", found, options, mean=0.998)
        found = over(takes.jumping(jump, "steady", ("ostinato",)), all_lost, 2 * options.seeds)
        told(f"{jump}, ostinatos", found, options, mean=0.998)
        found = over(takes.jumping(jump, "steady", faults=0.05 / 3), all_lost, options.seeds)
        told(f"{jump}, with faults", found, options, mean=None)


def courses_row(options: Options) -> None:
    """All other jumps and stops."""
    told_already = ("skipped bar", "one beat behind", "back a bar")
    for jump in takes.JUMPS:
        if jump not in told_already:
            cells = takes.jumping(jump, "steady", (*takes.PLAIN, "ostinato")) + takes.jumping(jump, "drift 1-3 %")
            told(f"{jump}, steady and drifting", over(cells, all_lost, options.seeds), options, mean=None)


def beginners_row(options: Options) -> None:
    """Each kind by itself, for they differ in how much anyone could know."""
    kinds: dict[str, list[Cell]] = {}
    for cell in takes.beginning():
        kinds.setdefault(cell.name.split(",")[0], []).append(cell)
    for kind, cells in kinds.items():
        told(kind, over(cells, all_lost, options.seeds), options, mean=None)


def time_row(options: Options) -> None:
    stops = [cell for course in ("stop off the beat", "stop on the beat") for cell in takes.out_of_time(course)]
    told("early and late as made, after a stop", over(stops, time_lost, options.seeds), options, mean=0.97)
    again = [cell for course in ("from the top", "back a bar") for cell in takes.out_of_time(course)]
    told("early and late as made, after a restart", over(again, time_lost, options.seeds), options, mean=0.97)


def rhythm_row(options: Options) -> None:
    found = over(takes.rhythms_alone(), rhythm_lost, options.seeds)
    told("rhythm alone, paired as made", found, options, mean=0.995)


def stop_row(options: Options) -> None:
    """A stop of 2 s in four bars, played at a take that ends by itself: what comes after its end is lost."""
    clean, late_notes, notes = [], 0, 0
    for seed in range(10 * options.seeds):
        rng = Random(f"stop {seed}")
        music, tempo_bpm = four_bars(rng), round(rng.uniform(60, 110))
        material = material_of("", music.notes, bar_spans(music.bars), tempo_bpm)
        performance = perform(material, two_seconds(material, rng), steady, SURE, rng)
        take = TimedTake(music, MAP, TimedTerms(stage=Stage.TIME, tempo_bpm=tempo_bpm))
        take.start(0.0)
        clock_s, waiting = -1.0, list(performance.played)
        while not take.is_over(clock_s):
            while waiting and waiting[0].started_s <= clock_s:
                take.hear(waiting.pop(0))
            take.tick(clock_s)
            clock_s += FRAME_S
        late_notes += len(waiting)
        notes += len(performance.played)
        clean.append(summary_of(take.end(clock_s).judgement, take.expected).clean_share or 0.0)
    share = sum(clean) / len(clean)
    met = "met" if share >= 0.99 else "MISSED"
    print(
        f"{'2 s stop in 4 bars, live: clean share':66s} {share:8.5f}  (target 0.99) {met:6s}"
        f" of {len(clean)} takes; {late_notes} of {notes} notes came after the end"
    )


def four_bars(rng: Random) -> Passage:
    """Four bars of even eighths up and down the scale, so that nothing long stands at the end."""
    names = "C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5".split()
    at, row = rng.randrange(len(names)), []
    for _ in range(32):
        at = min(max(at + rng.choice((-2, -1, -1, 1, 1, 2)), 0), len(names) - 1)
        row.append(f"{names[at]} e")
    return passage(*(", ".join(row[start : start + 8]) for start in range(0, 32, 8)))


def free_row(options: Options) -> None:
    told("free time, pitch level", over(takes.in_free_time(), free_lost, options.seeds), options, mean=0.995)


def live_row(options: Options) -> None:
    for kind, most in (("faults", 0.002), ("repeated pitches", 0.01), ("jumps", 0.02)):
        found = over(takes.played_live(kind), reversed_live, options.seeds)
        told(f"live right-or-not reversed, {kind}", found, options, mean=most)
    for name, pulse in (("steady", steady), ("drift 3 %", drift(0.03))):
        performance = long_take(pulse)
        taken, _ = live_times_s(performance.material.line, performance.material.grid, performance.played)
        print(
            f"{f'live, one note, {name}: p50 and p99, ms':66s} {taken[len(taken) // 2] * 1000:.4f}"
            f" {taken[int(0.99 * len(taken))] * 1000:.4f}  (target p99 0.2), worst {taken[-1] * 1000:.2f}"
        )


def long_take(pulse: PulseKind, share: float = 0.05 / 3, hands: Hands = ALONE) -> Performance:
    """Some three thousand notes of a walking line with 5 % of faults."""
    rng = Random(7)
    material = made_line("walking", "mixed", 1, 110, rng)
    bars = 4
    while len(material.line) < _LONG:
        material = made_line("walking", "mixed", bars, 110, Random(7))
        bars = bars * 2 if len(material.line) < _LONG // 2 else bars + max(1, (_LONG - len(material.line)) // 5)
    return perform(material, with_faults(plain(material), share, rng), pulse, hands, rng)


def speed_row(options: Options) -> None:
    """Best of some, turn about, against match_notes without note ends, which is its quickest."""
    for name, pulse in (("steady", steady), ("drift 3 %", drift(0.03))):
        performance = long_take(pulse, hands=SURE if pulse is steady else ALONE)
        line, grid = performance.material.line, performance.material.grid
        ours_s, theirs_s = best_times_s(line, grid, performance.played, 3 if options.quick else 7)
        met = "met" if theirs_s >= 4 * ours_s else "MISSED"
        print(
            f"{f'final judging of {len(performance.material.line)} notes, 5 % faults, {name}':66s}"
            f" {theirs_s / ours_s:8.2f}  (target 4 times match_notes) {met:6s}"
            f" ours {ours_s * 1000:.1f} ms, match_notes {theirs_s * 1000:.1f} ms"
        )


# What the judge of single notes named right, on the same takes, is what the last three keep.
CAUSES_RIGHT = {
    Cause.SLIP: 0.80,
    Cause.NEIGHBOUR: 0.90,
    Cause.LEDGER: 0.90,
    Cause.THIRD: 0.80,
    Cause.SIGNATURE: 1.0,
    Cause.ACCIDENTAL: 1.0,
    Cause.OCTAVE: 1.0,
}


def causes_row(options: Options) -> None:
    """Causes named right, of readers with one habit and of single faults. One fault alone is often unknowable: a slip
    of a fret is the next line of the staff in two places of an octave, and with its sign forgotten in others.
    """
    for cause, least in CAUSES_RIGHT.items():
        cells = [
            causes_missed(cause, kind, options.seeds, strings=strings) for kind in LINES for strings in (True, False)
        ]
        habits, single = zip(*cells, strict=True)
        counted = [Counted(cell=name, lost=lost, whole=whole, strict=lost) for name, lost, whole in (*habits, *single)]
        told(f"cause named right, {cause.value}", counted, options, mean=least)
        told(f"   of single faults, {cause.value}", counted[len(habits) :], options, mean=None)


ROWS: dict[str, Callable[[Options], None]] = {
    "drift": drift_row,
    "curves": curves_row,
    "taps": taps_row,
    "faults": faults_row,
    "single": single_row,
    "mir_eval": mir_eval_row,
    "jumps": jumps_row,
    "courses": courses_row,
    "beginners": beginners_row,
    "time": time_row,
    "rhythm": rhythm_row,
    "stop": stop_row,
    "free": free_row,
    "speed": speed_row,
    "live": live_row,
    "causes": causes_row,
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", type=int, default=12)
    parser.add_argument("--quick", action="store_true", help="three seeds a cell")
    parser.add_argument("--row", action="append", choices=sorted(ROWS))
    parser.add_argument("--worst", type=int, default=3, help="so many of the worst cells are named")
    parser.add_argument("--show", nargs=2, metavar=("CELL", "SEED"))
    asked = parser.parse_args()
    if asked.show:
        show(asked.show[0], int(asked.show[1]))
        return
    options = Options(seeds=3 if asked.quick else asked.seeds, quick=asked.quick, worst=asked.worst)
    for name in asked.row or ROWS:
        start_s = perf_counter()
        ROWS[name](options)
        print(f"      [{name}: {perf_counter() - start_s:.0f} s]")


if __name__ == "__main__":
    main()
