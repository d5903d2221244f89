"""The pitch of a note that sounds, followed: where it jumps a new note was slurred, where it glides a string was bent.

A finger that comes down or off, or steps from fret to fret, changes the pitch within one window, a bend takes a tenth
of a second and more: what counts is how long the middle of the way took.
"""

from collections import deque
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from game.instrument.listening.difference_function import Estimate

_CLEAR = 0.9
"""The clarity of a reading that counts."""
_ELSEWHERE = 0.6
"""So many semitones off it is another pitch."""
_READINGS, _TOGETHER = 4, 0.2
"""So many readings in a row, so near each other in semitones, are a pitch that was arrived at."""
_KEPT = 60
"""Readings that are kept: a third of a second."""
_WANDERS_OVER = 9
_MIDDLE = 0.2
"""The middle of the way leaves out this share at either end."""
_BEND_S, _BEND_MORE_S = 0.034, 0.009
"""How long a bend of one semitone takes for its middle at least, and each further semitone."""
_UNCLEAR = 0.3
"""Where so large a share of the way was unclear, one note faded into another."""
_DRIFT = 0.1
"""The share by which the pitch follows a reading near it."""


@dataclass(frozen=True, slots=True)
class PitchChange:
    """A new pitch was arrived at: `at` is the sample it came at, or where the old one was left while both sounded."""

    pitch: float
    at: int
    is_bend: bool
    is_mixed: bool = False


@dataclass(frozen=True, slots=True)
class _Point:
    at: int
    pitch: float
    step: int


class PitchTrack:
    """Follows a note from its `pitch` on. Changed by `hear`."""

    def __init__(self, pitch: float, rate: float) -> None:
        self.pitch = pitch
        """Where the string is now: the note's own pitch, until it is bent."""
        self._rate = rate
        self._steps = 0
        self._points: deque[_Point] = deque(maxlen=_KEPT)

    def hear(self, at: int, estimate: Estimate) -> PitchChange | None:
        """The pitch of a window about sample `at`; the change it makes certain, if there is one."""
        self._steps += 1
        if estimate.clarity < _CLEAR:
            return None
        self._points.append(_Point(at, estimate.pitch, self._steps))
        if abs(estimate.pitch - self.pitch) < _ELSEWHERE / 2:
            self.pitch += _DRIFT * (estimate.pitch - self.pitch)
            return None
        pitch = self.steady()
        if pitch is None or abs(pitch - self.pitch) < _ELSEWHERE:
            return None
        return self._change_to(pitch)

    def steady(self) -> float | None:
        """The pitch of the newest readings, None where they do not agree."""
        newest = [point.pitch for point in list(self._points)[-_READINGS:]]
        if len(newest) < _READINGS or max(newest) - min(newest) > _TOGETHER:
            return None
        return median(newest)

    def wandered(self) -> float:
        """How many semitones lie between the lowest and the highest of the newest readings."""
        pitches = [point.pitch for point in list(self._points)[-_WANDERS_OVER:]]
        return max(pitches, default=0.0) - min(pitches, default=0.0)

    def _change_to(self, pitch: float) -> PitchChange:
        """The way from where it was, told by how long its middle took."""
        way = pitch - self.pitch
        left = arrived = came = self._points[0].at
        first = last = self._points[0].step
        for before, point in pairwise(self._points):
            share_before, share = (before.pitch - self.pitch) / way, (point.pitch - self.pitch) / way
            if share_before <= _MIDDLE < share:
                left, first = _crossing(before, point, share_before, share, _MIDDLE), before.step
            if share_before < 1 - _MIDDLE <= share:
                arrived, last = _crossing(before, point, share_before, share, 1 - _MIDDLE), point.step
                came = point.at
        unclear = last - first - sum(first < point.step <= last for point in self._points)
        is_slow = (arrived - left) / self._rate > _BEND_S + _BEND_MORE_S * (abs(way) - 1)
        is_mixed = is_slow and unclear >= _UNCLEAR * (last - first)
        self.pitch = pitch
        at = left if is_mixed else min(came, arrived)
        return PitchChange(pitch, at, is_bend=is_slow and not is_mixed, is_mixed=is_mixed)


def _crossing(before: _Point, after: _Point, share_before: float, share: float, at_share: float) -> int:
    """The sample at which a share of the way was passed, between two readings."""
    return before.at + round((at_share - share_before) / (share - share_before) * (after.at - before.at))
