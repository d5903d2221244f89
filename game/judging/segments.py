"""A take cut into segments: in each the player goes straight on, at one distance behind the click.

A distance near a whole number of beats is taken for that number: the player is with the click again, and what
is left is their own offset, which stays in the verdicts. A player who goes on off the beat has lost the
click, which the event says once; their notes are then judged by their own pulse. Less than three quarters of
a beat is no lost beat but lateness.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from game.judging.jumps import TakeJump
from game.judging.verdicts import EventKind

_LEAST_LOST_BEATS = 0.75
_NEAR_BEAT_SHARE, _NEAR_BEAT_S = 0.25, 0.150
FALSE_START_NOTES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """Played notes `from_played` to `to_played` read written notes `from_written` to `to_written` (ends not
    in).

    `behind_click_s` is the distance behind the click as measured at its first note, `beats_behind_s` in whole
    beats, None where it is not near any. `event` is what the player did at its start, at written note
    `event_at` (index from 0); None for the first segment and for mere lateness.
    """

    from_played: int
    to_played: int
    from_written: int
    to_written: int
    behind_click_s: float = 0.0
    beats_behind_s: float | None = 0.0
    event: EventKind | None = None
    event_at: int = 0


def segments_of(jumps: Sequence[TakeJump], *, notes: int, count: int, beats_s: Sequence[float]) -> tuple[Segment, ...]:
    """The segments between jumps in a take of `notes` written and `count` played notes."""
    segments = []
    start = TakeJump(played=0, left=-1, to=0, behind_click_s=0.0)
    before_s = 0.0
    stops = [*jumps, TakeJump(played=count, left=notes - 1, to=notes, behind_click_s=0.0)]
    for jump, following in zip([start, *jumps], stops, strict=True):
        beats_behind_s = whole_beats_s(jump.behind_click_s, beats_s[jump.to])
        behind_click_s = jump.behind_click_s if beats_behind_s is None else beats_behind_s
        event = None if jump is start else _event(jump, behind_click_s - before_s, beats_s[jump.to])
        skipped = event is EventKind.SKIP or jump.to > jump.left + 1
        segment = Segment(
            from_played=jump.played,
            to_played=following.played,
            from_written=jump.to,
            to_written=max(jump.to, following.left + 1),
            behind_click_s=jump.behind_click_s,
            beats_behind_s=beats_behind_s,
            event=event,
            event_at=min(jump.left + 1, jump.to) if skipped else jump.to,
        )
        if segment.to_played > segment.from_played or segment.event is not None:
            segments.append(segment)
        before_s = behind_click_s
    return tuple(segments)


def whole_beats_s(behind_click_s: float, beat_s: float) -> float | None:
    """A distance behind the click in whole beats, as seconds: 0 for less than three quarters of a beat, None
    when it lies farther than a quarter of a beat or 150 ms from any.
    """
    if abs(behind_click_s) < _LEAST_LOST_BEATS * beat_s:
        return 0.0
    beats_s = max(1, round(abs(behind_click_s) / beat_s)) * beat_s * (1 if behind_click_s > 0 else -1)
    return beats_s if abs(behind_click_s - beats_s) <= min(_NEAR_BEAT_SHARE * beat_s, _NEAR_BEAT_S) else None


def _event(jump: TakeJump, later_s: float, beat_s: float) -> EventKind | None:
    """What a jump means, given by how much the player is farther behind the click than before."""
    if jump.to <= jump.left:
        return EventKind.RESTART
    if later_s > beat_s / 2:
        return EventKind.STOP
    return EventKind.SKIP if later_s < -beat_s / 2 else None
