"""How long the timed judge takes over a take, at its end and live. For the benches that print it."""

import gc
from collections.abc import Sequence
from time import perf_counter

import mir_eval

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.live_timed import begin_timed, hear_timed, pass_time
from game.judging.timed import judge_timed
from game.judging.tolerance import TimedGrid
from game.judging.verdicts import NoteVerdict
from tests.judging.by_mir_eval import frequencies, intervals

_AFTER_S = 5.0


def best_times_s(
    line: Sequence[ExpectedNote], grid: TimedGrid, played: Sequence[PlayedNote], runs: int = 7
) -> tuple[float, float]:
    """Best seconds of some runs, turn about: our judge, and match_notes without note ends, which is its quickest."""
    written = intervals(grid.onsets_s), frequencies(line)
    heard = intervals([note.started_s for note in played]), frequencies(played)
    ours, theirs = [], []
    gc.collect()
    gc.freeze()  # as the game does before a take
    for _ in range(runs):
        start_s = perf_counter()
        judge_timed(line, played, grid)
        middle_s = perf_counter()
        mir_eval.transcription.match_notes(*written, *heard, onset_tolerance=0.1, offset_ratio=None)
        ours.append(middle_s - start_s)
        theirs.append(perf_counter() - middle_s)
    gc.unfreeze()
    return min(ours), min(theirs)


def live_times_s(
    line: Sequence[ExpectedNote], grid: TimedGrid, played: Sequence[PlayedNote]
) -> tuple[list[float], dict[int, NoteVerdict]]:
    """Seconds of each note live, rising, and the verdict that stood at the end for each number of note."""
    live = begin_timed(line, grid)
    latest: dict[int, NoteVerdict] = {}
    taken = []
    gc.collect()
    gc.disable()  # as the game does while a take runs
    for note in played:
        start_s = perf_counter()
        live, news = hear_timed(live, note)
        taken.append(perf_counter() - start_s)
        latest |= {verdict.n: verdict for verdict in news.verdicts}
    gc.enable()
    live, news = pass_time(live, grid.onsets_s[-1] + _AFTER_S)
    latest |= {verdict.n: verdict for verdict in news.verdicts}
    return sorted(taken), latest
