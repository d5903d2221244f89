"""A take cut into segments: in each the player goes straight on, by one beat.

A segment begins where the player went elsewhere in the music, or left the beat by more than half of one at once. Its
`reference_s` is how far behind the click its notes are counted from. A place near a whole number of beats behind is
taken for that number: the player is with the click again, and their own offset stays in the verdicts. A player who
goes on off the beat has lost the click, which the event says once; their notes are then judged by their own new beat.
What the clock gained little by little is never taken out.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from game.judging.following.followed import NOBODY, FollowedStep, TakeRows, TimeJump
from game.judging.verdicts import EventKind

_LEAST_LOST_BEATS = 0.75
_LEFT_BEATS, _LEAST_LEFT_S = 0.5, 0.200
"""A player left the beat who is off it by half a beat at once; at fast tempos that is no more than a note off its time.
"""

_ON_THE_BEAT_S = 0.050
_NEW_BEAT_NOTES = 8
"""So many notes after a jump tell where the player's new beat is."""

_OWN_BIAS_S = 0.100
"""What is more is no habit of the player's but what they ran ahead or fell behind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """Steps `start` to `end` (not in). `event` is what the player did at its start, at written note `event_at` (index
    from 0), and `lost_a_beat` whether they have been a beat behind since; None for the first segment and where the
    music was left only to pass over notes in time.
    """

    start: int
    end: int
    reference_s: float = 0.0
    event: EventKind | None = None
    event_at: int = 0
    lost_a_beat: bool = False


def segments_of(rows: TakeRows, steps: Sequence[FollowedStep], beats_s: Sequence[float]) -> list[Segment]:
    """The segments of a take that was followed. `beats_s` is the felt beat at each written note."""
    cuts = _cuts(steps, beats_s)
    segments: list[Segment] = []
    reference_s = 0.0
    for start, end in zip(cuts, [*cuts[1:], len(steps)], strict=True):
        jump = steps[start].jump
        if jump is None:
            segments.append(Segment(start=start, end=end))
            continue
        before_s, there_s = _lean_before_s(steps, start), _there_s(rows, steps[start:end])
        reference_s = reference_after_s(jump, there_s, before_s, reference_s, beats_s[jump.to])
        segments.append(_segment(jump, start, end, reference_s, there_s - (before_s or 0.0), beats_s[jump.to]))
    return segments


def leaves_the_beat(jump: TimeJump, beat_s: float) -> bool:
    """Whether a jump begins a new segment: elsewhere in the music, or at another beat."""
    return jump.to != jump.left + 1 or abs(jump.by_s) > _left_s(beat_s)


def reference_after_s(
    jump: TimeJump, there_s: float, before_s: float | None, reference_s: float, beat_s: float
) -> float:
    """From how far behind the click notes are counted after a jump.

    `there_s` is how far behind it the player is now, `before_s` how far before the jump (None for one who had read
    nothing), `reference_s` from where notes were counted then.
    """
    own_s = 0.0 if before_s is None or abs(before_s - reference_s) > _OWN_BIAS_S else before_s - reference_s
    least_s = max(_LEAST_LOST_BEATS * beat_s, _LEAST_LEFT_S) if before_s is None else _left_s(beat_s)
    left_beat = abs(there_s - (before_s or 0.0)) > least_s
    beats_behind_s = _whole_beats_s(there_s, own_s, beat_s)
    if beats_behind_s == 0.0 or (beats_behind_s is not None and left_beat):
        return beats_behind_s
    return there_s - own_s if left_beat or jump.to <= jump.left else reference_s


def _cuts(steps: Sequence[FollowedStep], beats_s: Sequence[float]) -> list[int]:
    cuts = [0]
    for at, step in enumerate(steps):
        jump = step.jump
        if jump is None:
            continue
        if leaves_the_beat(jump, beats_s[jump.to]):
            cuts.append(at)
    return cuts[1:] if len(cuts) > 1 and not any(step.written != NOBODY for step in steps[: cuts[1]]) else cuts


def _left_s(beat_s: float) -> float:
    return max(_LEFT_BEATS * beat_s, _LEAST_LEFT_S)


def _lean_before_s(steps: Sequence[FollowedStep], start: int) -> float | None:
    return next((step.clock.lean_s for step in reversed(steps[:start]) if step.written != NOBODY), None)


def _there_s(rows: TakeRows, steps: Sequence[FollowedStep]) -> float:
    """How far behind the click the first notes after a jump are."""
    offsets_s = []
    for step in steps:
        if step.written != NOBODY and rows.asked[step.written] == rows.sounding[step.played]:
            offsets_s.append(rows.times_s[step.played] - rows.due_s[step.written])
            if len(offsets_s) == _NEW_BEAT_NOTES:
                break
    return median(offsets_s)


def _whole_beats_s(there_s: float, own_s: float, beat_s: float) -> float | None:
    """The whole beats, in seconds, that a place is behind the click, with the player's own bias or without; None where
    it is near none.
    """
    for off_s in (own_s, 0.0):
        beats_s = round((there_s - off_s) / beat_s) * beat_s
        if abs(there_s - off_s - beats_s) <= _ON_THE_BEAT_S:
            return beats_s
    return None


def _segment(jump: TimeJump, start: int, end: int, reference_s: float, moved_s: float, beat_s: float) -> Segment:
    event, at = None, jump.to
    if jump.to <= jump.left:
        event = EventKind.RESTART
    elif moved_s > _left_s(beat_s):
        event, at = EventKind.STOP, jump.left + 1
    elif moved_s < -_left_s(beat_s):
        event, at = EventKind.SKIP, jump.left + 1
    lost = (
        event is EventKind.STOP and moved_s <= 2 * _LEAST_LOST_BEATS * beat_s and moved_s >= _LEAST_LOST_BEATS * beat_s
    )
    return Segment(start=start, end=end, reference_s=reference_s, event=event, event_at=at, lost_a_beat=lost)
