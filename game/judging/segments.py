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
NEW_BEAT_NOTES = 12
"""So many notes after a jump tell where the player's new beat is, though half of the first few were early or late."""

_CAME_BACK_S = 0.080
_USUAL_NOTES = 5
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
    if not steps:
        return []
    cuts = _cuts(steps, beats_s)
    segments: list[Segment] = []
    reference_s = 0.0
    for start, end in zip(cuts, [*cuts[1:], len(steps)], strict=True):
        jump = steps[start].jump
        if jump is None:
            segments.append(Segment(start=start, end=end))
            continue
        before_s, there_s = _lean_before_s(steps, start), _there_s(rows, steps[start:end])
        usual_s = before_s if before_s is None else _usual_s(rows, steps[segments[-1].start : start], before_s)
        reference_s = reference_after_s(jump, there_s, usual_s, reference_s, beats_s[jump.to])
        least_s = _left_s(beats_s[jump.to], begun=before_s is not None)
        event, at = _event(jump, there_s - (before_s or 0.0), least_s)
        beats = (there_s - (before_s or 0.0)) / beats_s[jump.to]
        lost = event is EventKind.STOP and _LEAST_LOST_BEATS <= beats <= 2 * _LEAST_LOST_BEATS
        segments.append(
            Segment(start=start, end=end, reference_s=reference_s, event=event, event_at=at, lost_a_beat=lost)
        )
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
    left_beat = abs(there_s - (before_s or 0.0)) > _left_s(beat_s, begun=before_s is not None)
    beats_behind_s = _whole_beats_s(there_s, own_s, beat_s)
    if beats_behind_s == 0.0 or (beats_behind_s is not None and left_beat):
        return beats_behind_s
    return there_s - own_s if left_beat or jump.to <= jump.left else reference_s


def _cuts(steps: Sequence[FollowedStep], beats_s: Sequence[float]) -> list[int]:
    """Where segments start: at the first note, and after each jump but for those around a single note off its time."""
    jumps: list[int] = []
    for at, step in enumerate(steps):
        if step.jump is None or not leaves_the_beat(step.jump, beats_s[step.jump.to]):
            continue
        if jumps and _came_back(steps, jumps[-1], at):
            jumps.pop()
        else:
            jumps.append(at)
    begun = not jumps or any(step.written != NOBODY for step in steps[: jumps[0]])
    return [0, *jumps] if begun else jumps


def _came_back(steps: Sequence[FollowedStep], left: int, at: int) -> bool:
    """Whether a player who left the beat at step `left` for one note is back at `at`."""
    away, back = steps[left].jump, steps[at].jump
    if away is None or back is None or away.left < 0 or away.to != away.left + 1 or back.to != back.left + 1:
        return False
    return back.left == away.to and abs(away.by_s + back.by_s) < _CAME_BACK_S


def _left_s(beat_s: float, *, begun: bool = True) -> float:
    """So far off is another beat; for one who has not `begun` only what is no mere lateness."""
    return max((_LEFT_BEATS if begun else _LEAST_LOST_BEATS) * beat_s, _LEAST_LEFT_S)


def _lean_before_s(steps: Sequence[FollowedStep], start: int) -> float | None:
    return next((step.clock.lean_s for step in reversed(steps[:start]) if step.written != NOBODY), None)


def _usual_s(rows: TakeRows, steps: Sequence[FollowedStep], lean_s: float) -> float:
    """How far behind the click the last notes of a segment were: the clock itself leans to a last note out of time."""
    last = [step for step in steps if step.written != NOBODY][-_USUAL_NOTES:]
    offsets_s = [rows.times_s[step.played] - rows.due_s[step.written] for step in last]
    return median(offsets_s) if len(last) == _USUAL_NOTES else lean_s


def _there_s(rows: TakeRows, steps: Sequence[FollowedStep]) -> float:
    """How far behind the click the first notes after a jump are."""
    offsets_s = []
    for step in steps:
        if step.written != NOBODY and rows.asked[step.written] == rows.sounding[step.played]:
            offsets_s.append(rows.times_s[step.played] - rows.due_s[step.written])
            if len(offsets_s) == NEW_BEAT_NOTES:
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


def _event(jump: TimeJump, moved_s: float, least_s: float) -> tuple[EventKind | None, int]:
    """What a jump means, and at which written note; `moved_s` is how much farther behind the click the player is."""
    if jump.to <= jump.left:
        return EventKind.RESTART, jump.to
    if moved_s > least_s:
        return EventKind.STOP, jump.left + 1
    return (EventKind.SKIP, jump.left + 1) if moved_s < -least_s else (None, jump.to)
