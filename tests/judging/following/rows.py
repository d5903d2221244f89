"""Takes for the follower, as rows: an even line, and what was played of it."""

from collections.abc import Iterable, Sequence
from random import Random

from game.judging.following.followed import NOBODY, FollowedStep, TakeRows, TimeJump
from game.judging.following.player_clock import AT_THE_START, clock_at
from tests.judging.players.material import walking

GAP_S = 0.4
BAR_NOTES = 8

Sound = tuple[float, int]
"""When a note was played, and its pitch."""


def line_of(bars: int, seed: int = 1) -> list[int]:
    """Pitches that never come twice running nor with one between: what was left out of them can be told."""
    pitches: list[int] = []
    for pitch in walking(100 * bars, Random(seed)):
        if pitch not in pitches[-2:] and len(pitches) < bars * BAR_NOTES:
            pitches.append(pitch)
    return pitches


def as_written(asked: Sequence[int], *, gap_s: float = GAP_S, drift: float = 0.0, bias_s: float = 0.0) -> list[Sound]:
    """Every note, `bias_s` behind the click at first and by the share `drift` slower than it."""
    return [(index * gap_s * (1 + drift) + bias_s, pitch) for index, pitch in enumerate(asked)]


def later(sounds: Iterable[Sound], by_s: float) -> list[Sound]:
    return [(at_s + by_s, pitch) for at_s, pitch in sounds]


def rows_of(asked: Sequence[int], sounds: Iterable[Sound], *, gap_s: float = GAP_S, beat_s: float = 0.8) -> TakeRows:
    """A line of even notes, `BAR_NOTES` to the bar, and what was played of it."""
    heard = sorted(sounds)
    return TakeRows(
        due_s=[index * gap_s for index in range(len(asked))],
        asked=asked,
        times_s=[at_s for at_s, _ in heard],
        sounding=[pitch for _, pitch in heard],
        beat_s=beat_s,
        begins_bar=[index % BAR_NOTES == 0 for index in range(len(asked))],
    )


def answered(steps: Sequence[FollowedStep]) -> list[int | None]:
    """The written note that each played note answers."""
    return [None if step.written == NOBODY else step.written for step in steps]


def jumps(steps: Sequence[FollowedStep]) -> list[tuple[int, int, int]]:
    """Of each jump: the first played note after it, the written note that was left, and the one gone to."""
    return [step.jump[:3] for step in steps if step.jump is not None]


def steps_by_hand(rows: TakeRows, written: Sequence[int | None], *jumped: int) -> list[FollowedStep]:
    """Steps as a follower might have found them: who answers what, with a jump at each played note of `jumped`. The
    clock stands where each note lies.
    """
    steps: list[FollowedStep] = []
    last, clock = -1, AT_THE_START
    for played, index in enumerate(written):
        if index is None:
            steps.append(FollowedStep(played, NOBODY, None, clock, 0.0, 0.0))
            continue
        lean_s = rows.times_s[played] - rows.due_s[index]
        jump = TimeJump(played, last, index, lean_s - clock.lean_s) if played in jumped else None
        last, clock = index, clock_at(lean_s, 0.0, 1e-5)
        steps.append(FollowedStep(played, index, jump, clock, 0.0, 0.0))
    return steps
