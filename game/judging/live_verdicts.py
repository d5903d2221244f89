"""The verdicts of what was read live, since all was clear last."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median
from typing import Protocol

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.extra_notes import REPAIR_S, leads_to, offset_on_arrival_s
from game.judging.following.followed import NOBODY, FollowedStep, TimeJump
from game.judging.following.search import Trail
from game.judging.live_reading import LiveReading
from game.judging.segments import NEW_BEAT_NOTES, leaves_the_beat, reference_after_s
from game.judging.timed_verdict import TimedRules, timed_verdict
from game.judging.tolerance import TimedGrid, in_time
from game.judging.verdicts import NoteVerdict, Verdict

_MS = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBeat:
    """The player's beat since a jump, which the first notes after it tell (`offsets_s`, behind the click). The rest is
    how things stood before: see `reference_after_s`.
    """

    jump: TimeJump
    before_s: float | None
    reference_s: float
    offsets_s: tuple[float, ...] = ()

    def with_note(self, off_s: float) -> "NewBeat":
        """After a right note; only so many tell."""
        known = len(self.offsets_s) == NEW_BEAT_NOTES
        return self if known else replace(self, offsets_s=(*self.offsets_s, off_s))

    def behind_click_s(self, beat_s: float) -> float:
        """From how far behind the click notes are counted."""
        return reference_after_s(self.jump, median(self.offsets_s), self.before_s, self.reference_s, beat_s)


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingSoFar:
    """How things stand after a step: how far behind the click notes are counted from, the written note answered last
    (-1 before the first) with its verdict, the time it was answered at and that of the answer before, the player's lean
    then, and the beat they have kept since their last jump.
    """

    behind_click_s: float = 0.0
    last_at: int = -1
    last: NoteVerdict | None = None
    last_s: float | None = None
    asked_s: float | None = None
    lean_s: float | None = None
    new_beat: NewBeat | None = None


NOTHING_SO_FAR = StandingSoFar()


class ReadSoFar(Protocol):
    """What is asked of a take under way."""

    @property
    def expected(self) -> tuple[ExpectedNote, ...]: ...
    @property
    def grid(self) -> TimedGrid: ...
    @property
    def rules(self) -> TimedRules: ...
    @property
    def reading(self) -> LiveReading: ...
    @property
    def heard(self) -> tuple[PlayedNote, ...]: ...
    @property
    def settled(self) -> Trail | None: ...
    @property
    def answered(self) -> StandingSoFar: ...
    @property
    def read_to(self) -> int: ...


def verdicts_on(take: ReadSoFar) -> tuple[StandingSoFar, dict[int, NoteVerdict]]:
    """How things stand by the likeliest account, and the verdicts it gives, by index of the written note."""
    answered, verdicts = take.answered, {}
    for step in _steps_since(take.settled, take.reading.top.trail):
        if step.written == NOBODY:
            answered, amended = _amended(take, answered, take.heard[step.played])
        else:
            answered, amended = _answer(take, answered, step)
            if step.written < take.read_to or step.written in verdicts:
                continue
        if amended and answered.last is not None:
            verdicts[answered.last_at] = answered.last
    return answered, verdicts


def _steps_since(settled: Trail | None, trail: Trail | None) -> Sequence[FollowedStep]:
    steps = []
    while trail is not None and trail is not settled:
        steps.append(trail.step)
        trail = trail.before
    return steps[::-1]


def _answer(take: ReadSoFar, answered: StandingSoFar, step: FollowedStep) -> tuple[StandingSoFar, bool]:
    """After a played note that answers a written one."""
    index, played, jump = step.written, take.heard[step.played], step.jump
    due_s, beat_s, behind_click_s = take.grid.onsets_s[index], take.grid.beats_s[index], answered.behind_click_s
    new_beat = answered.new_beat
    if jump is not None and leaves_the_beat(jump, beat_s):
        new_beat = NewBeat(jump=jump, before_s=answered.lean_s, reference_s=behind_click_s)
    if new_beat is not None and (not new_beat.offsets_s or played.sounding == take.expected[index].sounding):
        new_beat = new_beat.with_note(played.started_s - due_s)
        behind_click_s = new_beat.behind_click_s(beat_s)
    offset_s = played.started_s - due_s - behind_click_s
    pluck = take.heard[step.played - 1] if step.played else None
    if pluck is not None and pluck.started_s != answered.last_s and leads_to(pluck, played):
        pluck_s = offset_s - (played.started_s - pluck.started_s)
        offset_s = (
            pluck_s if in_time(take.grid, index, pluck_s) and not in_time(take.grid, index, offset_s) else offset_s
        )
    offset_s = offset_on_arrival_s(take.grid, index, offset_s, played)
    verdict = timed_verdict(
        take.expected[index], (played,), offset_s, in_time(take.grid, index, offset_s), answered.last_s, take.rules
    )
    after = StandingSoFar(
        behind_click_s=behind_click_s,
        last_at=index,
        last=verdict,
        last_s=played.started_s,
        asked_s=answered.last_s,
        lean_s=step.clock.lean_s,
        new_beat=new_beat,
    )
    return after, True


def _amended(take: ReadSoFar, answered: StandingSoFar, played: PlayedNote) -> tuple[StandingSoFar, bool]:
    """After a note too many: the right one soon after a wrong one is the arrival of a slide, which makes it right, or a
    repair, which does not.
    """
    last = answered.last
    if last is None or last.verdict is not Verdict.WRONG_PITCH:
        return answered, False
    expected, first = take.expected[answered.last_at], last.answers[0]
    apart_s = played.started_s - first.started_s
    if played.sounding != expected.sounding or apart_s > REPAIR_S or last.answers[-1].sounding == played.sounding:
        return answered, False
    answers, offset_s = (*last.answers, played), (last.offset_ms or 0.0) / _MS
    if leads_to(first, played):
        answers = (played,)
        offset_s = offset_s if in_time(take.grid, answered.last_at, offset_s) else offset_s + apart_s
    timely = in_time(take.grid, answered.last_at, offset_s)
    verdict = timed_verdict(expected, answers, offset_s, timely, answered.asked_s, take.rules)
    return replace(answered, last=verdict), True
