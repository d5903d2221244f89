"""Timed takes, live: a provisional verdict for each note as soon as it starts.

    begin_timed -> (hear_timed | pass_time)*

A fold over what happens, by the times at which it happened: how often time passes (the frame rate) cannot
change a verdict, and a note that was stamped in time but delivered late still counts. Each played note is
taken for the written note it most likely answers, at the costs of the final alignment, without looking ahead.
When three notes running are right at another place the player has moved, and is followed. The final judgement
is `judge_timed`, which sees the whole take.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from game.instrument.decoding.played import PlayedNote
from game.judging.alignment_timed import EXTRA_COST, MISSED_COST, WRONG_COST, time_cost
from game.judging.expected import ExpectedNote
from game.judging.extra_notes import REPAIR_S, leads_to, offset_on_arrival_s
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules, timed_verdict
from game.judging.tolerance import TimedGrid, in_time
from game.judging.verdicts import NoteVerdict, Verdict

_OPEN_BEATS, _MOST_OPEN_S = 0.5, 0.4
_BIAS_FOLLOW, _MOST_BIAS_S = 0.1, 0.1
_MOVED_NOTES = 3
_FARTHEST_MOVE = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveTake:
    """A timed take under way.

    `at` is the index of the first written note that can still be answered, `reported_to` up to where missed notes
    have been reported. `last` is the verdict given last and `last_at` its index (-1 before the first).
    `behind_click_s` is how far behind the click the player has fallen, `bias_s` a running estimate of their
    own offset from the click, used to find notes only. `since_right` are the latest
    played notes since the last that was right. `last_heard_s` is the start of the latest played note, None before one.
    Notes before `read_to` have been read: their first verdict stands when the player goes back.
    """

    expected: tuple[ExpectedNote, ...]
    grid: TimedGrid
    rules: TimedRules
    at: int = 0
    reported_to: int = 0
    last: NoteVerdict | None = None
    last_at: int = -1
    behind_click_s: float = 0.0
    bias_s: float = 0.0
    since_right: tuple[PlayedNote, ...] = ()
    read_to: int = 0
    last_heard_s: float | None = None

    @property
    def lean_s(self) -> float:
        """How far behind the click the player is by their own clock now; negative ahead."""
        return self.behind_click_s + self.bias_s


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveUpdate:
    """What happened: new or changed verdicts (the latest for a note stands), and a played note that answers
    nothing.
    """

    verdicts: tuple[NoteVerdict, ...] = ()
    extra: PlayedNote | None = None


def begin_timed(expected: Sequence[ExpectedNote], grid: TimedGrid, rules: TimedRules = DEFAULT_RULES) -> LiveTake:
    """A take whose time 0 is that of `grid`."""
    return LiveTake(expected=tuple(expected), grid=grid, rules=rules)


def pass_time(take: LiveTake, now_s: float) -> tuple[LiveTake, LiveUpdate]:
    """Report the notes that can no longer be answered at `now_s` (on the grid's clock) as missed."""
    reported_to = take.reported_to
    while reported_to < len(take.expected) and _closes_s(take, reported_to) < now_s:
        reported_to += 1
    return replace(take, reported_to=reported_to), LiveUpdate(verdicts=_missed(take, take.reported_to, reported_to))


def hear_timed(take: LiveTake, played: PlayedNote) -> tuple[LiveTake, LiveUpdate]:
    """Take a played note into account; `started_s` is on the grid's clock."""
    closed = replace(_closed(take, played.started_s), last_heard_s=_later(take.last_heard_s, played.started_s))
    after, news = _taken(replace(closed, reported_to=max(take.reported_to, closed.at)), played)
    passed = _missed(take, take.reported_to, closed.at)
    fresh = tuple(verdict for verdict in news.verdicts if not _read_before(take, verdict.n))
    return after, replace(news, verdicts=(*passed, *fresh))


def _later(before_s: float | None, now_s: float) -> float:
    return now_s if before_s is None else max(before_s, now_s)


def _read_before(take: LiveTake, n: int) -> bool:
    """Whether note `n` has been read, and what is played for it now only goes over it again."""
    return take.read_to > 0 and n <= take.expected[take.read_to - 1].n


def _taken(take: LiveTake, played: PlayedNote) -> tuple[LiveTake, LiveUpdate]:
    """What a played note is, in a take whose closed notes have been passed by."""
    found = _answered(take, played)
    if found is None or not _right(take, found, played):
        amended = _amended(take, played)
        if amended is not None:
            return amended
        moved = _moved(take, played)
        if moved is not None:
            return moved
    since_right = (*take.since_right, played)[-_MOVED_NOTES + 1 :]
    if found is None:
        return replace(take, since_right=since_right), LiveUpdate(extra=played)
    return _answer(take, found, played, since_right)


def _answer(
    take: LiveTake, index: int, played: PlayedNote, since_right: tuple[PlayedNote, ...]
) -> tuple[LiveTake, LiveUpdate]:
    """Give the verdict on note `index`; the notes passed over are missed."""
    offset_s = played.started_s - take.grid.onsets_s[index] - take.behind_click_s
    offset_s = offset_on_arrival_s(take.grid, index, offset_s, played)
    verdict = _verdict(take, index, (played,), offset_s)
    passed = _missed(take, take.reported_to, index)
    bias_s, read_to = take.bias_s, take.read_to
    if _right(take, index, played):
        since_right = ()
        if take.last_at == index - 1 and not take.since_right:
            read_to = max(read_to, index + 1)
        bias_s += _BIAS_FOLLOW * (max(-_MOST_BIAS_S, min(_MOST_BIAS_S, offset_s)) - bias_s)
    after = replace(
        take,
        at=index + 1,
        last=verdict,
        last_at=index,
        bias_s=bias_s,
        since_right=since_right,
        read_to=read_to,
        reported_to=max(take.reported_to, index + 1),
    )
    return after, LiveUpdate(verdicts=(*passed, verdict))


def _closed(take: LiveTake, now_s: float) -> LiveTake:
    """The take with the notes passed by that can no longer be answered."""
    at = take.at
    while at < len(take.expected) and _closes_s(take, at) < now_s:
        at += 1
    return take if at == take.at else replace(take, at=at)


def _open_s(take: LiveTake, index: int, side_s: float) -> float:
    return max(side_s, min(_OPEN_BEATS * take.grid.beats_s[index], _MOST_OPEN_S))


def _closes_s(take: LiveTake, index: int) -> float:
    """The last moment at which note `index` is answered rather than missed."""
    return take.grid.onsets_s[index] + take.behind_click_s + _open_s(take, index, take.grid.late_s[index])


def _answered(take: LiveTake, played: PlayedNote) -> int | None:
    """The written note that a played note most likely answers; None when it is likelier to be one too
    many.
    """
    best, best_cost = None, EXTRA_COST
    for index in range(take.at, len(take.expected)):
        offset_s = played.started_s - take.grid.onsets_s[index] - take.behind_click_s
        if offset_s < -_open_s(take, index, take.grid.early_s[index]):
            break
        cost = MISSED_COST * (index - take.at) + time_cost(offset_s - take.bias_s)
        if not _right(take, index, played):
            cost += WRONG_COST
        if cost < best_cost:
            best, best_cost = index, cost
    return best


def _right(take: LiveTake, index: int, played: PlayedNote) -> bool:
    return not take.rules.pitch_counts or take.expected[index].sounding == played.sounding


def _amended(take: LiveTake, played: PlayedNote) -> tuple[LiveTake, LiveUpdate] | None:
    """The right note soon after a wrong one: the arrival of a slide, which makes it right, or a repair, which
    does not.
    """
    last = take.last
    if last is None or last.verdict is not Verdict.WRONG_PITCH or not _right(take, take.last_at, played):
        return None
    first = last.answers[0]
    apart_s = played.started_s - first.started_s
    if apart_s > REPAIR_S or last.answers[-1].sounding == played.sounding:
        return None
    pluck_s = (last.offset_ms or 0.0) / 1000
    if leads_to(first, played):
        arrival_s = pluck_s + apart_s
        offset_s = pluck_s if in_time(take.grid, take.last_at, pluck_s) else arrival_s
        verdict = _verdict(take, take.last_at, (played,), offset_s)
    else:
        verdict = _verdict(take, take.last_at, (*last.answers, played), pluck_s)
    return replace(take, last=verdict, since_right=()), LiveUpdate(verdicts=(verdict,))


def _moved(take: LiveTake, played: PlayedNote) -> tuple[LiveTake, LiveUpdate] | None:
    """Follow a player whose last notes are right one after another at some other place, the nearest such."""
    run = (*take.since_right, played)
    if len(run) < _MOVED_NOTES or not take.rules.pitch_counts:
        return None
    near = range(max(0, take.at - _FARTHEST_MOVE), min(len(take.expected) - len(run) + 1, take.at + _FARTHEST_MOVE))
    found = [start for start in near if _runs_on(take, run, start)]
    if not found:
        return None
    start = min(found, key=lambda index: abs(index - take.at))
    behind_click_s = run[-1].started_s - take.grid.onsets_s[start + len(run) - 1] - take.bias_s
    after = replace(take, behind_click_s=behind_click_s, since_right=())
    verdicts = tuple(
        _verdict(after, start + step, (note,), note.started_s - take.grid.onsets_s[start + step] - behind_click_s)
        for step, note in enumerate(run)
    )
    last_at = start + len(run) - 1
    after = replace(
        after,
        at=last_at + 1,
        reported_to=max(take.reported_to, last_at + 1),
        read_to=max(take.read_to, last_at + 1),
        last=verdicts[-1],
        last_at=last_at,
    )
    return after, LiveUpdate(verdicts=verdicts)


def _runs_on(take: LiveTake, run: Sequence[PlayedNote], start: int) -> bool:
    """Whether the notes of `run` are those written from `start`, in their rhythm."""
    onsets_s = take.grid.onsets_s
    if any(take.expected[start + step].sounding != note.sounding for step, note in enumerate(run)):
        return False
    return all(
        abs(note.started_s - run[0].started_s - onsets_s[start + step] + onsets_s[start])
        <= 2 * take.grid.late_s[start + step]
        for step, note in enumerate(run)
    )


def _verdict(take: LiveTake, index: int, notes: tuple[PlayedNote, ...], offset_s: float) -> NoteVerdict:
    before = take.last
    if before is not None and before.n == take.expected[index].n:
        asked_s = None if before.time_to_find_ms is None else notes[0].started_s - before.time_to_find_ms / 1000
    else:
        asked_s = before.answers[0].started_s if before is not None and before.answers else None
    timely = in_time(take.grid, index, offset_s)
    return timed_verdict(take.expected[index], notes, offset_s, timely, asked_s, take.rules)


def _missed(take: LiveTake, start: int, stop: int) -> tuple[NoteVerdict, ...]:
    return tuple(NoteVerdict(n=take.expected[index].n, verdict=Verdict.MISSED) for index in range(start, stop))
