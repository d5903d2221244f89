"""What a timed take asks and what was played in it, as the rows that the follower reads."""

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.following.followed import TakeRows
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid


def written_rows(expected: Sequence[ExpectedNote], grid: TimedGrid, rules: TimedRules) -> TakeRows:
    """A take in which nothing was played yet. All pitches are alike where only the rhythm counts."""
    bars = [note.note.heads[0].bar for note in expected]
    counts = rules.pitch_counts
    return TakeRows(
        due_s=grid.onsets_s,
        asked=[note.note.sounding for note in expected] if counts else [0] * len(expected),
        times_s=[],
        sounding=[],
        beat_s=median(grid.beats_s) if expected else 1.0,
        begins_bar=[bar != before for bar, before in zip(bars, [None, *bars], strict=False)],
        homes=[None if note.home is None else note.home.place for note in expected] if counts else None,
        places=[] if counts else None,
    )


def take_rows(
    expected: Sequence[ExpectedNote], played: Sequence[PlayedNote], grid: TimedGrid, rules: TimedRules
) -> TakeRows:
    """A whole take; `played` in order of time."""
    counts = rules.pitch_counts
    return replace(
        written_rows(expected, grid, rules),
        times_s=[note.started_s for note in played],
        sounding=[note.sounding for note in played] if counts else [0] * len(played),
        places=[note.place for note in played] if counts else None,
    )
