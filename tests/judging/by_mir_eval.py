"""An independent count of hits: `mir_eval.transcription.match_notes` (mir_eval 0.8) on the same notes, same window."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

import mir_eval
import numpy as np

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.timed import judge_timed
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.verdicts import NoteVerdict, Verdict
from game.music.pitch import frequency_hz
from tests.judging.made_takes import Errors, made_take, random_line

EDGE_S = 0.2e-3
"""mir_eval rounds distances to a tenth of a millisecond: so near the edge of a window the two may differ."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """How a judgement and mir_eval compare.

    `plain` is the number of written notes in whose window lies at most one played note, and that in no other; of these
    `differing` are judged otherwise. `nearest` of them have a partner of their pitch, `unpaired` of which the judgement
    gives another answer. `hits` are ours and theirs, over all notes.
    """

    plain: int
    differing: tuple[int, ...]
    nearest: int
    unpaired: tuple[int, ...]
    hits: tuple[int, int]


def intervals(starts_s: Sequence[float]):
    return np.array([(start_s, start_s + 0.1) for start_s in starts_s])


def frequencies(notes: Sequence[ExpectedNote] | Sequence[PlayedNote]):
    return np.array([frequency_hz(note.sounding) for note in notes])


def matched(
    line: Sequence[ExpectedNote], grid: TimedGrid, played: Sequence[PlayedNote], window_s: float
) -> dict[int, int]:
    """Written to played indices by mir_eval: onsets and pitches only."""
    pairs = mir_eval.transcription.match_notes(
        intervals(grid.onsets_s),
        frequencies(line),
        intervals([note.started_s for note in played]),
        frequencies(played),
        onset_tolerance=window_s,
        offset_ratio=None,
    )
    return {int(index): int(at) for index, at in pairs}


def counted(
    line: Sequence[ExpectedNote],
    grid: TimedGrid,
    played: Sequence[PlayedNote],
    verdicts: Sequence[NoteVerdict],
    window_s: float,
) -> Counted:
    """Compare. `grid` has the same window for every note; the played notes have no place."""
    theirs = matched(line, grid, played, window_s)
    ours = {
        index: played.index(verdict.first)
        for index, verdict in enumerate(verdicts)
        if verdict.verdict is Verdict.CLEAN and verdict.first is not None
    }
    alone = _alone(grid, played, window_s)
    pairs = {index: at for index, at in alone.items() if at is not None and played[at].sounding == line[index].sounding}
    return Counted(
        plain=len(alone),
        differing=tuple(index for index in alone if ours.get(index) != theirs.get(index)),
        nearest=len(pairs),
        unpaired=tuple(index for index, at in pairs.items() if verdicts[index].first != played[at]),
        hits=(len(ours), len(theirs)),
    )


def compared(seed: int, *, bias_s: float, window_s: float, count: int) -> tuple[Counted, tuple[ExpectedNote, ...]]:
    """A random line of `count` notes at 130, played with a bias and a spread of 40 ms, judged and compared."""
    rng = Random(seed)
    line = random_line(count, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=130, window_ms=window_s * 1000)
    made = made_take(line, grid, Errors(bias_s=bias_s, spread_s=0.04), rng).played
    played = [replace(note, place=None) for note in made]
    return counted(line, grid, played, judge_timed(line, played, grid).verdicts, window_s), line


def _alone(grid: TimedGrid, played: Sequence[PlayedNote], window_s: float) -> dict[int, int | None]:
    """The written notes with at most one played note in their window, that note in no other's, and none at an edge."""
    distances = np.abs(np.subtract.outer(np.array(grid.onsets_s), np.array([note.started_s for note in played])))
    inside = distances <= window_s
    at_edge = (np.abs(distances - window_s) < EDGE_S).any(axis=1)
    shared = inside.sum(axis=0) > 1
    found: dict[int, int | None] = {}
    for index, row in enumerate(inside):
        (at,) = np.nonzero(row)
        if len(at) <= 1 and not at_edge[index] and not shared[at].any():
            found[index] = int(at[0]) if len(at) else None
    return found
