"""The timed judge on takes with known errors. Run as a script: prints tables with their targets. Fixed seeds, one core.

    python tests/bench/judge.py [takes]

Takes are of random lines with 5 % each of dropped, added and wrong notes; `takes` of 100 notes for each row of the
first table, 40 by default, in proportion for the others.
"""

import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from random import Random
from time import perf_counter

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2])]


from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.free import judge_free
from game.judging.live_timed import begin_timed, hear_timed, pass_time
from game.judging.timed import judge_timed
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.verdicts import EventKind, NoteVerdict
from tests.bench.judge_times import best_times_s, live_times_s
from tests.judging.by_mir_eval import counted
from tests.judging.made_takes import (
    Errors,
    MadeTake,
    made_take,
    moved,
    perfect_take,
    random_line,
    verdict_as_made,
)

_LONG = 3000
_FRAME_RATES = (10, 30, 60, 240)
_BIASES_S = (-0.06, -0.03, 0.0, 0.03, 0.06)
_SPREADS_S = (0.01, 0.02, 0.04)


def prepared(
    seed: int, tempo_bpm: float, errors: Errors, *, count: int = 100, window_ms: float | None = None
) -> tuple[tuple[ExpectedNote, ...], TimedGrid, MadeTake]:
    """A random line, its grid, and a take of it."""
    rng = Random(seed)
    line = random_line(count, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=tempo_bpm, window_ms=window_ms)
    return line, grid, made_take(line, grid, errors, rng)


def differences(
    line: Sequence[ExpectedNote], grid: TimedGrid, take: MadeTake, verdicts: Sequence[NoteVerdict]
) -> Counter[str]:
    """What was made and what was judged, where they differ."""
    found: Counter[str] = Counter()
    for index, (note, answer) in enumerate(zip(line, take.answers, strict=True)):
        made = verdict_as_made(note, answer, index, grid)
        if verdicts[index].verdict is not made:
            found[f"{made.value} > {verdicts[index].verdict.value}"] += 1
    return found


def as_made_table(takes: int) -> None:
    """Eighths at 60 to 238 are 500 to 126 ms apart; at 300 and 400 nearer than anyone can tell apart."""
    print(
        f"Verdicts as made, {takes} takes of 100 notes a row and bias; target 99 % where notes are 125 ms apart or more"
    )
    print(
        "  tempo  least gap  spread   "
        + "".join(f"{bias_s * 1000:+7.0f}" for bias_s in _BIASES_S)
        + " ms bias; commonest"
    )
    whole, wrong_whole = 0, 0
    for tempo_bpm in (60, 120, 160, 200, 238, 300, 400):
        for spread_s in _SPREADS_S:
            shares, all_found = [], Counter[str]()
            for bias_s in _BIASES_S:
                found = Counter[str]()
                for seed in range(takes):
                    line, grid, take = prepared(seed, tempo_bpm, Errors(bias_s=bias_s, spread_s=spread_s))
                    found += differences(line, grid, take, judge_timed(line, take.played, grid).verdicts)
                shares.append(1 - found.total() / takes / 100)
                all_found += found
            if tempo_bpm <= 240:
                whole += takes * 100 * len(_BIASES_S)
                wrong_whole += all_found.total()
            row = "".join(f"{share:7.2%}" for share in shares)
            commonest = ", ".join(f"{words} {count}" for words, count in all_found.most_common(2))
            print(f"  {tempo_bpm:5}  {30000 / tempo_bpm:6.0f} ms  {spread_s * 1000:3.0f} ms   {row}   {commonest}")
    print(f"  at 125 ms and more: {1 - wrong_whole / whole:.3%} of {whole}")


def mir_eval_table(takes: int) -> None:
    print("\nHits, misses and pairs against mir_eval.transcription.match_notes; target: none differ where no second")
    print("candidate lies in a window")
    print("  window    notes    plain   differ   nearest pairs   not so align_timed   hits ours  theirs")
    for window_s in (0.05, 0.06, 0.1):
        plain = nearest = ours = theirs = notes = 0
        differing: list[str] = []
        unpaired = 0
        for bias_s in (-0.06, 0.0, 0.06):
            for seed in range(takes):
                errors = Errors(bias_s=bias_s, spread_s=0.04)
                line, grid, take = prepared(seed, 130, errors, window_ms=window_s * 1000)
                played = [replace(note, place=None) for note in take.played]
                found = counted(line, grid, played, judge_timed(line, played, grid).verdicts, window_s)
                notes += len(line)
                plain += found.plain
                nearest += found.nearest
                unpaired += len(found.unpaired)
                ours += found.hits[0]
                theirs += found.hits[1]
                differing += [f"bias {bias_s * 1000:+.0f} take {seed} note {index + 1}" for index in found.differing]
        print(
            f"  {window_s * 1000:4.0f} ms {notes:8} {plain:8} {len(differing):8} {nearest:15} {unpaired:15}"
            f" {ours:11} {theirs:7}"
        )
        for one in differing[:5]:
            print(f"      {one}")


def speed_table() -> None:
    print(f"\nFinal judging of {_LONG} notes, best of 7, turn about; target: at least 5 times as fast as match_notes")
    for tempo_bpm, errors in (
        (120, Errors()),
        (120, Errors(bias_s=-0.06, spread_s=0.04)),
        (238, Errors(spread_s=0.04)),
    ):
        line, grid, take = prepared(0, tempo_bpm, errors, count=_LONG)
        ours_s, theirs_s = best_times_s(line, grid, take.played)
        print(
            f"  {tempo_bpm} bpm, bias {errors.bias_s * 1000:+.0f}, spread {errors.spread_s * 1000:.0f} ms:"
            f" ours {ours_s * 1000:.1f} ms, match_notes {theirs_s * 1000:.0f} ms, {theirs_s / ours_s:.1f} times as fast"
        )
    start_s = perf_counter()
    timed_grid([note.note for note in line], tempo_bpm=120)
    print(f"  the grid, laid out before the take: {(perf_counter() - start_s) * 1000:.1f} ms")


def live_table() -> None:
    line, grid, take = prepared(5, 160, Errors(bias_s=-0.04, spread_s=0.03), count=_LONG)
    taken, latest = live_times_s(line, grid, take.played)
    as_made = 1 - differences(line, grid, take, [latest[note.n] for note in line]).total() / _LONG
    print(f"\nA live verdict, {_LONG} notes; target under 0.2 ms at p99")
    print(f"  median {taken[len(taken) // 2] * 1000:.3f} ms, p99 {taken[int(0.99 * len(taken))] * 1000:.3f} ms")
    print(f"  provisional verdicts as made: {as_made:.2%}")


def frames_table(takes: int) -> None:
    same = 0
    for seed in range(takes):
        line, grid, take = prepared(seed, 120, Errors(spread_s=0.04), count=60)
        played = [*take.played[:30], *moved(take.played[25:], 2.0)]
        told = {repr(at_frame_rate(line, grid, played, rate)) for rate in _FRAME_RATES}
        same += len(told) == 1
    rates = ", ".join(map(str, _FRAME_RATES))
    print(f"\nThe same takes at {rates} frames a second: {same} of {takes} the same, byte for byte")


def at_frame_rate(
    line: Sequence[ExpectedNote], grid: TimedGrid, played: Sequence[PlayedNote], rate: int
) -> tuple[object, ...]:
    """All verdicts of a take, live and final, with notes handed over once a frame."""
    live = begin_timed(line, grid)
    latest: dict[int, NoteVerdict] = {}
    heard: list[PlayedNote] = []
    waiting = sorted(played, key=lambda note: note.started_s)
    for frame in range(int((grid.onsets_s[-1] + 6) * rate)):
        now_s = frame / rate - 2
        while waiting and waiting[0].started_s <= now_s:
            heard.append(waiting.pop(0))
            live, news = hear_timed(live, heard[-1])
            latest |= {verdict.n: verdict for verdict in news.verdicts}
        live, news = pass_time(live, now_s)
        latest |= {verdict.n: verdict for verdict in news.verdicts}
    return sorted(latest.items()), judge_timed(line, heard, grid)


def course_table(takes: int) -> None:
    """Stops, restarts and skips at random places among the usual errors."""
    print(f"\nStops, restarts, skips among errors (spread 20 ms), {takes} takes of 60 notes each, no target")
    print("  what                verdicts as made   one event, the right kind and place   takes with a false event")
    quarter_s = 0.6
    for name, kind, back, later_s in (
        ("a bar behind", EventKind.STOP, 0, 4 * quarter_s),
        ("3.1 s behind", EventKind.STOP, 0, 3.1),
        ("back 4 notes", EventKind.RESTART, 4, quarter_s),
        ("back 8 notes", EventKind.RESTART, 8, quarter_s),
        ("nothing", None, 0, 0.0),
    ):
        wrong = right_events = false_events = 0
        for seed in range(takes):
            line, grid, take = prepared(seed, 100, Errors(bias_s=-0.02), count=60)
            at = 20 + seed % 20
            played = with_jump(line, grid, take, at, back, later_s)
            judgement = judge_timed(line, played, grid)
            wrong += differences(line, grid, take, judgement.verdicts).total()
            places = [event.n for event in judgement.events if event.kind is kind]
            right_events += any(abs((n or 0) - (at - back + 1)) <= 1 for n in places)
            kinds = (EventKind.STOP, EventKind.RESTART, EventKind.SKIP)
            false_events += sum(event.kind in kinds for event in judgement.events) > (kind is not None)
        shown = f"{right_events / takes:37.1%}" if kind else " " * 36 + "-"
        print(f"  {name:18} {1 - wrong / takes / 60:17.2%} {shown} {false_events / takes:26.1%}")


def with_jump(
    line: Sequence[ExpectedNote], grid: TimedGrid, take: MadeTake, at: int, back: int, later_s: float
) -> list[PlayedNote]:
    """The take broken off before note `at` (index), resumed `back` notes earlier, `later_s` after it would have come.

    What is gone over again is played right.
    """
    break_s = grid.onsets_s[at] - 0.15
    before = [note for note in take.played if note.started_s < break_s]
    after = [note for note in take.played if note.started_s >= break_s]
    by_s = grid.onsets_s[at] - grid.onsets_s[at - back] + later_s
    again = perfect_take(line, grid)[at - back : at]
    return [*before, *moved(again, by_s), *moved(after, by_s)]


def free_table(takes: int) -> None:
    print(f"\nIn free time, the pulse inferred, {takes} takes of 40 notes a row, no target")
    print("  tempo  spread  verdicts as made  commonest")
    for tempo_bpm in (50, 80, 120):
        for spread_s in (0.01, 0.02, 0.03):
            found = Counter[str]()
            for seed in range(takes):
                line, grid, take = prepared(seed, tempo_bpm, Errors(spread_s=spread_s), count=40)
                found += differences(line, grid, take, judge_free(line, take.played).judgement.verdicts)
            commonest = ", ".join(f"{words} {count}" for words, count in found.most_common(3))
            print(f"  {tempo_bpm:5} {spread_s * 1000:4.0f} ms {1 - found.total() / takes / 40:17.2%}  {commonest}")


def main() -> None:
    takes = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    as_made_table(takes)
    mir_eval_table(takes)
    speed_table()
    live_table()
    frames_table(max(2, takes // 4))
    course_table(takes)
    free_table(max(2, takes // 2))


if __name__ == "__main__":
    main()
