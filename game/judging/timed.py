"""Timed takes, judged as a whole: played notes paired with the written ones by following the player.

The final judgement of a take. It looks at all of it at once, so that one wrong, added or dropped note leaves
its neighbours alone, and a stop, a repair, a bar gone over again or skipped is one event. The first reading
of a note counts. Offsets are measured from when the note was due by the click, moved only where the player left the
beat at once (`segments`): what came little by little, and the player's own bias, stay in them. The player is followed
by what was heard surely; what was not is laid over it (`unsure`).
"""

from collections.abc import Mapping, Sequence
from operator import attrgetter

from game.instrument.decoding.played import PlayedNote
from game.judging.answers import NO_ANSWER, Answers, prefer_in_time
from game.judging.cause import with_causes
from game.judging.expected import ExpectedNote
from game.judging.extra_notes import assign_extra_notes, offset_on_arrival_s
from game.judging.following.bar_lines import move_jumps_to_bar_lines
from game.judging.following.follower import follow
from game.judging.pace import pace_events
from game.judging.read_notes import FALSE_START_NOTES, ReadNotes, read_followed
from game.judging.swing import played_swing
from game.judging.timed_rows import take_rows
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules, timed_unsure, timed_verdict
from game.judging.tolerance import TimedGrid, each_in_time, in_time
from game.judging.unsure import came_to, told_apart, unsure_by_time
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, TakeEvent, Verdict

_MS = 1000.0
_UNREAD_NOTES = 4
"""So many notes at the end without a sound mean that the player stopped; fewer were left out."""

_SILENT_NOTES, _SILENT_BEATS = 3, 2.5


def judge_timed(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    grid: TimedGrid,
    rules: TimedRules = DEFAULT_RULES,
) -> Judgement:
    """The verdicts, extra notes and events of a whole take.

    `grid` is `timed_grid` of the same notes; `started_s` of the played notes counts from its time 0. Times of
    events count from there too.
    """
    if not expected:
        return Judgement(verdicts=(), extra=tuple(note for note in played if note.sure))
    played, unsure = told_apart(sorted(played, key=attrgetter("started_s")))
    rows = take_rows(expected, played, grid, rules)
    steps = follow(rows)
    move_jumps_to_bar_lines(rows, steps)
    reading = read_followed(rows, steps, grid.beats_s)
    reading.events.extend(pace_events(rows.times_s, reading, grid))
    return judgement_of(expected, played, grid, rules, reading, unsure)


def swing_of(judgement: Judgement, grid: TimedGrid) -> float | None:
    """The player's own long:short over the swung beats, None where there were none."""
    answered_s = [
        None if verdict.first is None or verdict.offset_ms is None else onset_s + verdict.offset_ms / _MS
        for verdict, onset_s in zip(judgement.verdicts, grid.onsets_s, strict=True)
    ]
    return played_swing(grid.beat_positions, grid.off_beats, answered_s)


def judgement_of(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    grid: TimedGrid,
    rules: TimedRules,
    reading: ReadNotes,
    unsure: Sequence[PlayedNote],
) -> Judgement:
    """Put what was read into words: for this module and for takes in free time. `played` was heard surely, and `unsure`
    not; both are in order of time.
    """
    answers = reading.answers
    if rules.pitch_counts:
        prefer_in_time(expected, played, answers, grid, reading.behind_click_s, reading.leans_s)
        assign_extra_notes(expected, played, answers, grid, reading.behind_click_s, reading.leans_s, rules.graces)
    _begin_again(expected, played, reading, grid)
    heard = _heard(played, unsure, reading, grid)
    unread_from = came_to(_unread_from(played, reading, grid, rules), heard)
    heard = {index: notes for index, notes in heard.items() if index < unread_from}
    reading.events[:] = [event for event in reading.events if not _waited_to_repair(event, answers)]
    reading.events.extend((EventKind.REPAIR, index, played[at].started_s) for index, at in answers.repaired.items())
    sounding = [heard_at if index not in heard else 0 for index, heard_at in enumerate(answers.first[:unread_from])]
    reading.events.extend(_silences(sounding, reading, grid))
    if 0 < unread_from < len(expected):
        due_s = grid.onsets_s[unread_from] + reading.behind_click_s[unread_from - 1]
        reading.events.append((EventKind.STOP, unread_from, due_s))
    verdicts = _verdicts(expected, played, grid, rules, answers, heard, unread_from)
    extra = tuple(note for at, note in enumerate(played) if at not in answers.used)
    events = tuple(
        TakeEvent(kind=kind, n=expected[index].n, time_ms=at_s * _MS)
        for kind, index, at_s in sorted(reading.events, key=lambda event: event[2])
    )
    return Judgement(verdicts=with_causes(expected, verdicts), extra=extra, events=events)


def _verdicts(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    grid: TimedGrid,
    rules: TimedRules,
    answers: Answers,
    heard: Mapping[int, tuple[PlayedNote, ...]],
    unread_from: int,
) -> list[NoteVerdict]:
    """`heard` is what was heard unsurely for notes by their index. After such a note nobody knows how long the next one
    was looked for.
    """
    verdicts = []
    asked_s: float | None = None
    timely = each_in_time(grid, answers.offsets_s)
    for index, note in enumerate(expected):
        at = answers.first[index]
        if index in heard:
            verdicts.append(timed_unsure(note, heard[index]))
            asked_s = None
            continue
        if at == NO_ANSWER:
            word = Verdict.UNREAD if index >= unread_from else Verdict.MISSED
            verdicts.append(NoteVerdict(n=note.note.n, verdict=word))
            continue
        first, offset_s, is_timely = played[at], answers.offsets_s[index], timely[index]
        if index in answers.via or first.arrived_s is not None:
            offset_s = _arrived_offset_s(index, at, played, grid, answers) if index in answers.via else offset_s
            offset_s = offset_on_arrival_s(grid, index, offset_s, first)
            is_timely = in_time(grid, index, offset_s)
        notes: tuple[PlayedNote, ...] = (first,)
        if index in answers.later:
            notes = (*notes, *(played[again] for again in answers.later[index]))
        verdicts.append(timed_verdict(note, notes, offset_s, is_timely, asked_s, rules))
        asked_s = first.started_s
    return verdicts


def _heard(
    played: Sequence[PlayedNote], unsure: Sequence[PlayedNote], reading: ReadNotes, grid: TimedGrid
) -> dict[int, tuple[PlayedNote, ...]]:
    """What was heard unsurely for notes that nothing sure answers, by their index."""
    if not unsure:
        return {}
    behind_s = zip(grid.onsets_s, reading.behind_click_s, reading.leans_s, strict=True)
    dues_s = [onset_s + behind_click_s + lean_s for onset_s, behind_click_s, lean_s in behind_s]
    return unsure_by_time(reading.answers.first, [note.started_s for note in played], unsure, grid, dues_s)


def _arrived_offset_s(index: int, at: int, played: Sequence[PlayedNote], grid: TimedGrid, answers: Answers) -> float:
    """The offset of the arrival, or of its pluck where only that is in time."""
    offset_s = answers.offsets_s[index]
    if in_time(grid, index, offset_s):
        return offset_s
    plucks_s = [offset_s - (played[at].started_s - played[via].started_s) for via in answers.via[index]]
    return next((pluck_s for pluck_s in plucks_s if in_time(grid, index, pluck_s)), offset_s)


def _waited_to_repair(event: tuple[EventKind, int, float], answers: Answers) -> bool:
    """Whether a stop is the time that a repair took, of its note or of the note before it: one thing, and not two."""
    kind, index, _ = event
    return kind in (EventKind.STOP, EventKind.FELL_BEHIND) and bool({index - 1, index} & answers.repaired.keys())


def _begin_again(
    expected: Sequence[ExpectedNote], played: Sequence[PlayedNote], reading: ReadNotes, grid: TimedGrid
) -> None:
    """A false start: the first notes played before time, then again when they were due."""
    answers = reading.answers
    first = next((at for at in answers.first if at != NO_ANSWER), NO_ANSWER)
    early = [at for at in range(max(first, 0)) if at not in answers.used]
    if not early or played[early[-1]].started_s > grid.onsets_s[0] - grid.early_s[0]:
        return
    count = min(len(early), FALSE_START_NOTES, len(expected))
    tried = [played[at].sounding for at in early[-count:]]
    while tried and tried != [note.sounding for note in expected[: len(tried)]]:
        tried = tried[1:]
    if tried:
        answers.used.update(early[-len(tried) :])
        reading.events.append((EventKind.RESTART, 0, played[first].started_s))


def _unread_from(played: Sequence[PlayedNote], reading: ReadNotes, grid: TimedGrid, rules: TimedRules) -> int:
    """The first written note that the take did not come to, or their number."""
    first = reading.answers.first
    read = len(first)
    while read and first[read - 1] == NO_ANSWER:
        read -= 1
    behind_click_s = reading.behind_click_s[read - 1] if read else 0.0
    if rules.ended_s is not None:
        while read < len(first) and grid.onsets_s[read] + behind_click_s <= rules.ended_s:
            read += 1
        return read
    last_s = played[-1].started_s if played else -1e9
    while read < len(first) and grid.onsets_s[read] + behind_click_s - grid.early_s[read] <= last_s:
        read += 1
    left = len(first) - read
    return read if left >= _UNREAD_NOTES or not played else len(first)


def _silences(first: Sequence[int], reading: ReadNotes, grid: TimedGrid) -> list[tuple[EventKind, int, float]]:
    """A stop for each stretch of several notes in which nothing was played, unless the player skipped
    them.
    """
    known = {index for kind, index, _ in reading.events if kind is not EventKind.REPAIR}
    found = []
    start = 0
    for index, at in enumerate([*first, 0]):
        if at == NO_ANSWER:
            continue
        silent = index - start >= _SILENT_NOTES and start not in known and index < len(first)
        if silent and grid.onsets_s[index] - grid.onsets_s[start] >= _SILENT_BEATS * grid.beats_s[start]:
            found.append((EventKind.STOP, start, grid.onsets_s[start] + reading.behind_click_s[start]))
        start = index + 1
    return found
