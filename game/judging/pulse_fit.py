"""The player's own clock: when each written note was due in the pulse that was inferred from the playing.

Between waits and stops the pulse is taken to change slowly. At each note a straight line is fitted through
the notes near it (locally weighted regression with tricube weights, Cleveland 1979), the note itself left
out, so that it cannot vouch for itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from game.judging.pulse import FreeRows, PulseStep, PulseStepKind

_NEAREST = 8
_LEAST_POINTS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class DueTime:
    """When a written note was due, and how long a quarter note was there, both in seconds."""

    due_s: float
    quarter_s: float


def steady_stretches(steps: Sequence[PulseStep]) -> tuple[tuple[PulseStep, ...], ...]:
    """The steps cut where the player waited, stopped or jumped."""
    cut: list[list[PulseStep]] = []
    for step in steps:
        if not cut or step.kind is not PulseStepKind.IN_PULSE:
            cut.append([])
        cut[-1].append(step)
    return tuple(tuple(stretch) for stretch in cut)


def due_time(stretch: Sequence[PulseStep], rows: FreeRows, index: int) -> DueTime:
    """When written note `index` was due in the pulse of a stretch, told from the other notes of it."""
    points = [(rows.onsets[step.index], rows.times_s[step.at]) for step in stretch if step.index != index]
    here = rows.onsets[index]
    points.sort(key=lambda point: abs(point[0] - here))
    points = points[:_NEAREST]
    quarter_s = _nearest_step(stretch, index).quarter_s
    if len(points) < _LEAST_POINTS:
        return _from_one(stretch, rows, index, quarter_s)
    reach = max(abs(points[-1][0] - here), 1e-9) * 1.2
    weights = [(1 - (abs(onset - here) / reach) ** 3) ** 3 for onset, _ in points]
    return _weighted_line(points, weights, here, quarter_s)


def _nearest_step(stretch: Sequence[PulseStep], index: int) -> PulseStep:
    return min(stretch, key=lambda step: abs(step.index - index))


def _from_one(stretch: Sequence[PulseStep], rows: FreeRows, index: int, quarter_s: float) -> DueTime:
    """Too few notes for a line: from the mean of what there is, at the tempo of the search."""
    others = [step for step in stretch if step.index != index] or list(stretch)
    due_s = sum(
        rows.times_s[step.at] + (rows.onsets[index] - rows.onsets[step.index]) * quarter_s for step in others
    ) / len(others)
    return DueTime(due_s=due_s, quarter_s=quarter_s)


def _weighted_line(
    points: Sequence[tuple[float, float]], weights: Sequence[float], here: float, quarter_s: float
) -> DueTime:
    """The value and the slope at `here` of the weighted least-squares line."""
    total = sum(weights)
    mean_onset = sum(w * onset for w, (onset, _) in zip(weights, points, strict=True)) / total
    mean_s = sum(w * at_s for w, (_, at_s) in zip(weights, points, strict=True)) / total
    spread = sum(w * (onset - mean_onset) ** 2 for w, (onset, _) in zip(weights, points, strict=True))
    product = sum(w * (onset - mean_onset) * (at_s - mean_s) for w, (onset, at_s) in zip(weights, points, strict=True))
    slope_s = product / spread if spread > 1e-9 else quarter_s
    slope_s = min(max(slope_s, quarter_s / 2), quarter_s * 2)
    return DueTime(due_s=mean_s + slope_s * (here - mean_onset), quarter_s=slope_s)
