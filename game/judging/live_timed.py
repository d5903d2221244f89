"""Timed takes, live: a provisional verdict for each note as soon as it starts.

    begin_timed -> (hear_timed | pass_time)*

A fold over what happens, by the times at which it happened: how often time passes (the frame rate) cannot
change a verdict, and a note that was stamped in time but delivered late still counts. What is right is told at once.
What is wrong is told once no right note has come with it (a chord plucked by accident is one event) nor when it was
due, and what is in doubt once it is clear: a page that says wrong and then right teaches nothing. A note is missed when
the player has gone on without it, or after a long silence; whoever stops may still play it. Where something came that
could not be told the note is unsure instead, and of the note that is next this is told as soon as its time is over. The
final judgement is `judge_timed`, which sees the whole take.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.following.followed import NOBODY
from game.judging.following.search import Trail
from game.judging.live_reading import LiveReading, begin_reading, read_note
from game.judging.live_verdicts import NOTHING_SO_FAR, StandingSoFar, verdicts_on
from game.judging.timed_rows import written_rows
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules, timed_unsure
from game.judging.tolerance import TimedGrid
from game.judging.unsure import is_near
from game.judging.verdicts import COUNTS_AS_CLEAN, NoteVerdict, Verdict

CHORD_S = 0.040
_SURE_LEAD = 3.0
"""A verdict that is not right is told once the next likeliest account is so many nats behind."""

_SILENT_BEATS, _LEAST_SILENT_S = 8, 6.0
_OPEN_BEATS, _MOST_OPEN_S = 0.5, 0.4
_WITHOUT_ANSWER = (Verdict.MISSED, Verdict.UNSURE)


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveTake:
    """A timed take under way.

    Up to `settled` (a step of the reading, None before the first) all is clear: notes before `read_to` have been read,
    and their verdict stands when the player goes back; `answered` is how things stood there. `told` are verdicts that
    may still change, `waiting` those that are not told yet. `heard` came surely, `unsure` did not. `last_heard_s` is
    the start of the latest played note, `last_extra_s` that of the latest that answers nothing, None before one.
    `missed_to` is up to where notes have been told missed.
    """

    expected: tuple[ExpectedNote, ...]
    grid: TimedGrid
    rules: TimedRules
    reading: LiveReading
    heard: tuple[PlayedNote, ...] = ()
    unsure: tuple[PlayedNote, ...] = ()
    settled: Trail | None = None
    answered: StandingSoFar = NOTHING_SO_FAR
    read_to: int = 0
    told: Mapping[int, NoteVerdict] = field(default_factory=dict)
    waiting: Mapping[int, NoteVerdict] = field(default_factory=dict)
    last_heard_s: float | None = None
    last_extra_s: float | None = None
    missed_to: int = 0

    @property
    def at(self) -> int:
        """The index of the written note that is next."""
        return self.reading.top.written + 1

    @property
    def lean_s(self) -> float:
        """How far behind the click the player is by their own clock now; negative ahead."""
        return self.reading.top.clock.lean_s


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveUpdate:
    """What happened: new or changed verdicts (the latest for a note stands), a played note that answers nothing, and
    the numbers of notes that had been told right and are not, or the other way round.

    By `reversed` a live judge is measured. A page need not ask: it shows a bar once that was left, and tells at the end
    of what it had shown otherwise.
    """

    verdicts: tuple[NoteVerdict, ...] = ()
    extra: PlayedNote | None = None
    reversed: tuple[int, ...] = ()


def begin_timed(expected: Sequence[ExpectedNote], grid: TimedGrid, rules: TimedRules = DEFAULT_RULES) -> LiveTake:
    """A take whose time 0 is that of `grid`."""
    reading = begin_reading(written_rows(expected, grid, rules))
    return LiveTake(expected=tuple(expected), grid=grid, rules=rules, reading=reading)


def pass_time(take: LiveTake, now_s: float) -> tuple[LiveTake, LiveUpdate]:
    """Tell what `now_s` (on the grid's clock) makes clear: a note stands alone, or a silence is long."""
    news: dict[int, NoteVerdict] = {}
    if take.waiting and now_s > (take.last_heard_s or 0.0) + CHORD_S and take.reading.lead >= _SURE_LEAD:
        since_s = now_s - take.lean_s - CHORD_S
        news = {index: verdict for index, verdict in take.waiting.items() if since_s > take.grid.onsets_s[index]}
    missed_to = max(_silent_to(take, now_s), _unsure_to(take, now_s))
    news |= _missed(take, range(max(take.missed_to, take.at), missed_to))
    if not news:
        return take, LiveUpdate()
    return _told(replace(take, missed_to=max(take.missed_to, missed_to)), news)


def hear_timed(take: LiveTake, played: PlayedNote) -> tuple[LiveTake, LiveUpdate]:
    """Take a played note into account; `started_s` is on the grid's clock."""
    take, passed = pass_time(take, played.started_s)
    if not played.sure:
        return replace(take, unsure=(*take.unsure, played), last_heard_s=_latest(take, played)), passed
    take = replace(
        take,
        reading=read_note(take.reading, played, pitch_counts=take.rules.pitch_counts),
        heard=(*take.heard, played),
        last_heard_s=_latest(take, played),
    )
    answered, verdicts = verdicts_on(take)
    take = replace(
        take, waiting={index: verdict for index, verdict in verdicts.items() if take.told.get(index) != verdict}
    )
    news = {index: verdict for index, verdict in take.waiting.items() if verdict.verdict in COUNTS_AS_CLEAN}
    take, extra = _extra(take, played, verdicts)
    if take.reading.settled:
        take, missed = _settle(take, answered, verdicts)
        news |= missed
    after, told = _told(take, news)
    return after, LiveUpdate(
        verdicts=(*passed.verdicts, *told.verdicts), extra=extra, reversed=(*passed.reversed, *told.reversed)
    )


def _latest(take: LiveTake, played: PlayedNote) -> float:
    return played.started_s if take.last_heard_s is None else max(take.last_heard_s, played.started_s)


def _told(take: LiveTake, news: Mapping[int, NoteVerdict]) -> tuple[LiveTake, LiveUpdate]:
    """The take when these verdicts have been told, and what was told."""
    turned = tuple(
        verdict.n
        for index, verdict in news.items()
        if index in take.told
        and take.told[index].verdict is not Verdict.UNSURE
        and _is_right(take.told[index]) != _is_right(verdict)
    )
    told = {index: verdict for index, verdict in take.told.items() if index >= take.answered.last_at}
    told |= {index: verdict for index, verdict in news.items() if index >= take.answered.last_at}
    waiting = {index: verdict for index, verdict in take.waiting.items() if index not in news}
    return replace(take, told=told, waiting=waiting), LiveUpdate(verdicts=tuple(news.values()), reversed=turned)


def _is_right(verdict: NoteVerdict) -> bool:
    return verdict.verdict in COUNTS_AS_CLEAN


def _extra(
    take: LiveTake, played: PlayedNote, verdicts: Mapping[int, NoteVerdict]
) -> tuple[LiveTake, PlayedNote | None]:
    """The note, where it answers nothing and stands alone; and the take."""
    trail = take.reading.top.trail
    if trail is None or trail.step.written != NOBODY or any(played in one.answers for one in verdicts.values()):
        return take, None
    before_s = take.last_extra_s
    alone = before_s is None or played.started_s - before_s > CHORD_S
    return replace(take, last_extra_s=played.started_s), played if alone else None


def _settle(
    take: LiveTake, answered: StandingSoFar, verdicts: Mapping[int, NoteVerdict]
) -> tuple[LiveTake, Mapping[int, NoteVerdict]]:
    """The take when all so far is clear, and the notes that the player has gone on without."""
    top = take.reading.top
    passed = [index for index in range(take.read_to, top.written) if index not in verdicts]
    known = {index for index in passed if index in take.told and take.told[index].verdict in _WITHOUT_ANSWER}
    missed = _missed(take, [index for index in passed if index not in known and index >= 0])
    read_to = max(take.read_to, top.written + 1)
    after = replace(take, settled=top.trail, answered=answered, read_to=read_to, missed_to=max(take.missed_to, read_to))
    return after, missed


def _missed(take: LiveTake, indices: Iterable[int]) -> dict[int, NoteVerdict]:
    """The verdicts of notes that nothing sure answers."""
    news = {}
    for index in indices:
        near = _unsure_at(take, index)
        missed = NoteVerdict(n=take.expected[index].n, verdict=Verdict.MISSED)
        news[index] = timed_unsure(take.expected[index], near) if near else missed
    return news


def _unsure_at(take: LiveTake, index: int) -> tuple[PlayedNote, ...]:
    """What came unsurely where a note was due by the player's own clock."""
    due_s = take.grid.onsets_s[index] + take.lean_s
    return tuple(note for note in take.unsure if is_near(take.grid, index, note.started_s - due_s))


def _unsure_to(take: LiveTake, now_s: float) -> int:
    """Up to where notes are unsure and over: from the one that is next, one after another."""
    index, grid = max(take.missed_to, take.at), take.grid
    while take.unsure and index < len(take.expected):
        closes_s = grid.onsets_s[index] + take.lean_s + min(_OPEN_BEATS * grid.beats_s[index], _MOST_OPEN_S)
        if now_s <= closes_s or not _unsure_at(take, index):
            break
        index += 1
    return index


def _silent_to(take: LiveTake, now_s: float) -> int:
    """Up to where notes are missed because nothing has come for long."""
    index, grid = max(take.missed_to, take.at), take.grid
    heard_s = 0.0 if take.last_heard_s is None else take.last_heard_s
    while index < len(take.expected):
        silent_s = max(_SILENT_BEATS * grid.beats_s[index], _LEAST_SILENT_S)
        closes_s = grid.onsets_s[index] + take.lean_s + min(_OPEN_BEATS * grid.beats_s[index], _MOST_OPEN_S)
        if now_s <= max(closes_s, heard_s + silent_s):
            break
        index += 1
    return index
