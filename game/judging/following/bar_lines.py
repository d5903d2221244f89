"""Jumps are made at bar lines where that might be as well: nobody goes back to the second note of a bar.

A player who goes over a bar again plays it as they did before; where the notes before a jump might as well be those
before its landing, sound cannot tell, and the bar line does.
"""

from game.judging.following.follow_numbers import MOST_TO_BAR_LINE, NEAR_BAR_LINE_S, RATE_START
from game.judging.following.followed import NOBODY, FollowedStep, TakeRows, TimeJump
from game.judging.following.player_clock import clock_at
from game.judging.following.search import begins_bar


def move_jumps_to_bar_lines(rows: TakeRows, steps: list[FollowedStep]) -> None:
    """Change those steps in place."""
    for at, step in enumerate(steps):
        if step.jump is not None and step.written != step.jump.left + 1:
            _move(rows, steps, at, step.jump)


def _move(rows: TakeRows, steps: list[FollowedStep], at: int, jump: TimeJump) -> None:
    landed, there_s, back = steps[at].written, rows.times_s[steps[at].played] - rows.due_s[steps[at].written], 0
    while back < min(MOST_TO_BAR_LINE, at, landed) and not begins_bar(rows, landed - back):
        before, to = steps[at - back - 1], landed - back - 1
        if before.jump is not None or before.written == NOBODY or rows.asked[to] != rows.sounding[before.played]:
            break
        if abs(rows.times_s[before.played] - rows.due_s[to] - there_s) > NEAR_BAR_LINE_S:
            break
        back += 1
    if not back or not begins_bar(rows, landed - back):
        return
    left = next((step.written for step in reversed(steps[: at - back]) if step.written != NOBODY), -1)
    for number in range(at - back, at + 1):
        step, to = steps[number], landed - at + number
        lean_s = rows.times_s[step.played] - rows.due_s[to]
        steps[number] = step._replace(
            written=to,
            jump=TimeJump(step.played, left, to, jump.by_s) if number == at - back else None,
            clock=step.clock if number == at else clock_at(lean_s, step.clock.rate, RATE_START),
        )
