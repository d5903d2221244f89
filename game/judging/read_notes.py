"""What was read in a timed take: which played note decides which written note, segment by segment."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from game.judging.answers import NO_ANSWER, Answers
from game.judging.following.followed import NOBODY, FollowedStep, TakeRows
from game.judging.segments import Segment, segments_of
from game.judging.verdicts import EventKind

FALSE_START_NOTES = 4
_FALSE_START_BEATS = 0.75


@dataclass(slots=True, kw_only=True)
class ReadNotes:
    """What was read: the answers, the events so far (kind, index, time in s), and for each written note how far behind
    the click it was counted from (`behind_click_s`), and how far behind that the player's own clock was (`leans_s`).
    """

    answers: Answers
    behind_click_s: list[float]
    leans_s: list[float]
    events: list[tuple[EventKind, int, float]] = field(default_factory=list)


def nothing_read(notes: int) -> ReadNotes:
    """Of so many written notes none."""
    answers = Answers(first=[NO_ANSWER] * notes, offsets_s=[0.0] * notes, used=set())
    return ReadNotes(answers=answers, behind_click_s=[0.0] * notes, leans_s=[0.0] * notes)


def read_followed(rows: TakeRows, steps: Sequence[FollowedStep], beats_s: Sequence[float]) -> ReadNotes:
    """What was read in a take that was followed; the first reading of a note counts."""
    reading = nothing_read(len(rows.due_s))
    segments = segments_of(rows, steps, beats_s)
    read_to = 0
    for segment, following in zip(segments, [*segments[1:], None], strict=False):
        if following is not None and _false_start(steps, segment, following, beats_s):
            _leave_out(reading, rows, steps, segment, following)
            continue
        if segment.event is not None and not (reading.events and read_to == 0):
            reading.events.extend(_events(rows, steps, segment, segment.event, reading, read_to))
        read_to = _read(rows, steps[segment.start : segment.end], segment.reference_s, reading, read_to)
    _carry_on(reading, read_to)
    return reading


def _read(rows: TakeRows, steps: Sequence[FollowedStep], reference_s: float, reading: ReadNotes, read_to: int) -> int:
    """Put the steps of a segment down; up to where has been read then."""
    answers, due_s, times_s = reading.answers, rows.due_s, rows.times_s
    for played, index, _, clock, _, _ in steps:
        if index == NOBODY:
            continue
        answers.used.add(played)
        if index >= read_to:
            answers.first[index] = played
            answers.offsets_s[index] = times_s[played] - due_s[index] - reference_s
            reading.behind_click_s[index] = reference_s
            reading.leans_s[index] = clock[0] - reference_s
            if index > read_to:
                _pass_over(reading, read_to, index)
            read_to = index + 1
        elif answers.first[index] != NO_ANSWER:
            answers.later.setdefault(index, []).append(played)
    return read_to


def _pass_over(reading: ReadNotes, start: int, index: int) -> None:
    """Notes that were passed over lie where the next one does."""
    for passed in range(start, index):
        reading.behind_click_s[passed] = reading.behind_click_s[index]
        reading.leans_s[passed] = reading.leans_s[index]


def _carry_on(reading: ReadNotes, read_to: int) -> None:
    """Notes that were not come to lie where the last one was."""
    if read_to:
        for index in range(read_to, len(reading.leans_s)):
            reading.behind_click_s[index] = reading.behind_click_s[read_to - 1]
            reading.leans_s[index] = reading.leans_s[read_to - 1]


def _false_start(steps: Sequence[FollowedStep], segment: Segment, following: Segment, beats_s: Sequence[float]) -> bool:
    """Whether a segment is a few first notes before the click, left at once to begin again."""
    if following.event is not EventKind.RESTART or steps[following.start].written != 0:
        return False
    read = [step for step in steps[segment.start : segment.end] if step.written != NOBODY]
    ahead = read[0].clock.lean_s < -_FALSE_START_BEATS * beats_s[0]
    return read[0].written == 0 and read[-1].written < FALSE_START_NOTES and ahead


def _leave_out(
    reading: ReadNotes, rows: TakeRows, steps: Sequence[FollowedStep], segment: Segment, following: Segment
) -> None:
    reading.answers.used.update(step.played for step in steps[segment.start : segment.end])
    reading.events.append((EventKind.RESTART, 0, rows.times_s[steps[following.start].played]))


def _events(
    rows: TakeRows,
    steps: Sequence[FollowedStep],
    segment: Segment,
    kind: EventKind,
    reading: ReadNotes,
    read_to: int,
) -> list[tuple[EventKind, int, float]]:
    """The events at the start of a segment, which `kind` began. Going back to the last note only, when that was wrong,
    repairs it.
    """
    index = segment.event_at
    landed = steps[segment.start]
    at_s = rows.times_s[landed.played]
    if kind is EventKind.STOP:
        lean_s = reading.behind_click_s[index - 1] + reading.leans_s[index - 1] if 0 < index <= read_to else 0.0
        at_s = rows.due_s[index] + lean_s
    first = reading.answers.first[index]
    if kind is EventKind.RESTART and first == landed.played - 1 and rows.sounding[first] != rows.asked[index]:
        kind = EventKind.REPAIR
    found = [(kind, index, at_s)]
    if segment.lost_a_beat:
        found.append((EventKind.FELL_BEHIND, index, at_s))
    return found
