"""What was read in a timed take: which played note decides which written note, leg by leg."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median

from game.judging.alignment_timed import NOBODY, Heard, paired
from game.judging.arrivals import Answers
from game.judging.segments import FALSE_START_NOTES, Segment
from game.judging.verdicts import EventKind


@dataclass(slots=True, kw_only=True)
class ReadNotes:
    """What was read: the answers, how far behind the click each note was read, and the events so far (kind,
    index, time in s).
    """

    answers: Answers
    behind_s: list[float]
    events: list[tuple[EventKind, int, float]] = field(default_factory=list)


def read_straight(heard: Heard, pairs: list[int]) -> ReadNotes:
    """A take that went straight through."""
    due_s, times_s = heard.due_s, heard.times_s
    offsets_s = [0.0 if at == NOBODY else times_s[at] - due_s[index] for index, at in enumerate(pairs)]
    used = set(pairs)
    answers = Answers(first=pairs, offsets_s=offsets_s, used=used)
    return ReadNotes(answers=answers, behind_s=[0.0] * len(pairs))


def read_legs(heard: Heard, legs: Sequence[Segment], lean_s: float, reach_s: float) -> ReadNotes:
    """A take of several legs: each aligned by itself, the first reading of a note first."""
    count = len(heard.due_s)
    answers = Answers(first=[NOBODY] * count, offsets_s=[0.0] * count, used=set())
    reading = ReadNotes(answers=answers, behind_s=[0.0] * count)
    read_to = 0
    for leg, following in zip(legs, [*legs[1:], None], strict=True):
        if _false_start(leg, following):
            answers.used.update(range(leg.from_played, leg.to_played))
            reading.events.append((EventKind.RESTART, 0, heard.times_s[leg.to_played]))
            continue
        if leg.event is not None and not (reading.events and read_to == 0):
            reading.events.append(_event(heard, leg, reading, lean_s))
        pairs = _pairs_of_leg(heard, leg, lean_s, reach_s)
        behind_s = _behind_s(heard, leg, pairs, lean_s)
        for index, at in pairs:
            if index >= read_to:
                reading.behind_s[index] = behind_s
            if at == NOBODY:
                continue
            answers.used.add(at)
            if index >= read_to:
                answers.first[index] = at
                answers.offsets_s[index] = heard.times_s[at] - heard.due_s[index] - behind_s
            elif answers.first[index] != NOBODY:
                answers.later.setdefault(index, []).append(at)
        read_to = max(read_to, leg.to_written)
    return reading


def _false_start(leg: Segment, following: Segment | None) -> bool:
    """Whether a leg is a few first notes off the click, left at once to begin again."""
    return (
        following is not None
        and following.from_written == 0
        and leg.from_written == 0
        and leg.to_written <= FALSE_START_NOTES
        and leg.behind_s < following.behind_s
        and leg.beats_behind_s != 0
    )


def _behind_s(heard: Heard, leg: Segment, pairs: Sequence[tuple[int, int]], lean_s: float) -> float:
    """How far behind the click a leg was read: whole beats, or as its notes lie where it is not on a beat."""
    if leg.beats_behind_s is not None:
        return leg.beats_behind_s
    answered = [(index, at) for index, at in pairs if at != NOBODY]
    return median(heard.times_s[at] - heard.due_s[index] - lean_s for index, at in answered)


def _event(heard: Heard, leg: Segment, reading: ReadNotes, lean_s: float) -> tuple[EventKind, int, float]:
    """The event at the start of a leg. Going back to the last note only, when that was wrong, repairs it."""
    kind, index, at_s = leg.event or EventKind.STOP, leg.event_at, heard.times_s[leg.from_played]
    if kind is EventKind.STOP:
        at_s = heard.due_s[index] + lean_s + (reading.behind_s[index - 1] if index else 0.0)
    first = reading.answers.first[index]
    if kind is EventKind.RESTART and first == leg.from_played - 1 and heard.sounding[first] != heard.asked[index]:
        kind = EventKind.REPAIR
    return kind, index, at_s


def _pairs_of_leg(heard: Heard, leg: Segment, lean_s: float, reach_s: float) -> list[tuple[int, int]]:
    """Written and played indices of a leg; `NOBODY` for a written note without an answer."""
    part = Heard(
        due_s=[due_s + leg.behind_s for due_s in heard.due_s[leg.from_written : leg.to_written]],
        asked=heard.asked[leg.from_written : leg.to_written],
        times_s=heard.times_s[leg.from_played : leg.to_played],
        sounding=heard.sounding[leg.from_played : leg.to_played],
    )
    pairs = paired(part, lean_s=lean_s, reach_s=reach_s)
    return [(leg.from_written + index, at if at == NOBODY else leg.from_played + at) for index, at in enumerate(pairs)]
