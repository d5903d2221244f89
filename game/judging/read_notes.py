"""What was read in a timed take: which played note decides which written note, segment by segment."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median

from game.judging.alignment_timed import NO_ANSWER, TimedRows, align_timed
from game.judging.answers import Answers
from game.judging.segments import FALSE_START_NOTES, Segment
from game.judging.verdicts import EventKind


@dataclass(slots=True, kw_only=True)
class ReadNotes:
    """What was read: the answers, how far behind the click each note was read, and the events so far (kind,
    index, time in s).
    """

    answers: Answers
    behind_click_s: list[float]
    events: list[tuple[EventKind, int, float]] = field(default_factory=list)


def read_straight(rows: TimedRows, pairs: list[int]) -> ReadNotes:
    """A take that went straight through."""
    due_s, times_s = rows.due_s, rows.times_s
    offsets_s = [0.0 if at == NO_ANSWER else times_s[at] - due_s[index] for index, at in enumerate(pairs)]
    used = set(pairs)
    answers = Answers(first=pairs, offsets_s=offsets_s, used=used)
    return ReadNotes(answers=answers, behind_click_s=[0.0] * len(pairs))


def read_segments(rows: TimedRows, segments: Sequence[Segment], bias_s: float, reach_s: float) -> ReadNotes:
    """A take of several segments: each aligned by itself, the first reading of a note first."""
    count = len(rows.due_s)
    answers = Answers(first=[NO_ANSWER] * count, offsets_s=[0.0] * count, used=set())
    reading = ReadNotes(answers=answers, behind_click_s=[0.0] * count)
    read_to = 0
    for segment, following in zip(segments, [*segments[1:], None], strict=True):
        if _false_start(segment, following):
            answers.used.update(range(segment.from_played, segment.to_played))
            reading.events.append((EventKind.RESTART, 0, rows.times_s[segment.to_played]))
            continue
        if segment.event is not None and not (reading.events and read_to == 0):
            reading.events.append(_event(rows, segment, reading, bias_s))
        pairs = _pairs_of_segment(rows, segment, bias_s, reach_s)
        behind_click_s = _behind_click_s(rows, segment, pairs, bias_s)
        for index, at in pairs:
            if index >= read_to:
                reading.behind_click_s[index] = behind_click_s
            if at == NO_ANSWER:
                continue
            answers.used.add(at)
            if index >= read_to:
                answers.first[index] = at
                answers.offsets_s[index] = rows.times_s[at] - rows.due_s[index] - behind_click_s
            elif answers.first[index] != NO_ANSWER:
                answers.later.setdefault(index, []).append(at)
        read_to = max(read_to, segment.to_written)
    return reading


def _false_start(segment: Segment, following: Segment | None) -> bool:
    """Whether a segment is a few first notes off the click, left at once to begin again."""
    return (
        following is not None
        and following.from_written == 0
        and segment.from_written == 0
        and segment.to_written <= FALSE_START_NOTES
        and segment.behind_click_s < following.behind_click_s
        and segment.beats_behind_s != 0
    )


def _behind_click_s(rows: TimedRows, segment: Segment, pairs: Sequence[tuple[int, int]], bias_s: float) -> float:
    """How far behind the click a segment was read: whole beats, or as its notes lie where it is not on a beat."""
    if segment.beats_behind_s is not None:
        return segment.beats_behind_s
    answered = [(index, at) for index, at in pairs if at != NO_ANSWER]
    return median(rows.times_s[at] - rows.due_s[index] - bias_s for index, at in answered)


def _event(rows: TimedRows, segment: Segment, reading: ReadNotes, bias_s: float) -> tuple[EventKind, int, float]:
    """The event at the start of a segment. Going back to the last note only, when that was wrong, repairs it."""
    kind, index, at_s = segment.event or EventKind.STOP, segment.event_at, rows.times_s[segment.from_played]
    if kind is EventKind.STOP:
        at_s = rows.due_s[index] + bias_s + (reading.behind_click_s[index - 1] if index else 0.0)
    first = reading.answers.first[index]
    if kind is EventKind.RESTART and first == segment.from_played - 1 and rows.sounding[first] != rows.asked[index]:
        kind = EventKind.REPAIR
    return kind, index, at_s


def _pairs_of_segment(rows: TimedRows, segment: Segment, bias_s: float, reach_s: float) -> list[tuple[int, int]]:
    """Written and played indices of a segment; `NO_ANSWER` for a written note without an answer."""
    part = TimedRows(
        due_s=[due_s + segment.behind_click_s for due_s in rows.due_s[segment.from_written : segment.to_written]],
        asked=rows.asked[segment.from_written : segment.to_written],
        times_s=rows.times_s[segment.from_played : segment.to_played],
        sounding=rows.sounding[segment.from_played : segment.to_played],
    )
    pairs = align_timed(part, bias_s=bias_s, reach_s=reach_s)
    return [
        (segment.from_written + index, at if at == NO_ANSWER else segment.from_played + at)
        for index, at in enumerate(pairs)
    ]
