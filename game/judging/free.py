"""Takes in free time: no click, the pulse is inferred from the playing and the proportions are judged.

The notes are judged against the player's own pulse with the tolerance that its tempo gives. There is no bias
in such a take: nobody said when to begin. A wait that the player goes on from makes one note late, a longer
one is a stop.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from game.instrument.decoding.played import PlayedNote
from game.judging.answers import NO_ANSWER
from game.judging.expected import ExpectedNote
from game.judging.pulse import FreeRows, PulseStep, PulseStepKind, pulse_steps
from game.judging.pulse_fit import DueTime, due_time, steady_stretches
from game.judging.read_notes import ReadNotes, nothing_read
from game.judging.timed import judgement_of
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules, timed_unsure
from game.judging.tolerance import COMMON_TIME, BarSpan, TimedGrid, beats_at, tolerance_ms
from game.judging.unsure import told_apart
from game.judging.verdicts import EventKind, Judgement


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeJudgement:
    """A judgement and the pulse it rests on: for each written note how many quarter notes a minute the player
    was going at, None when nothing was played.
    """

    judgement: Judgement
    tempo_bpm: tuple[float, ...] | None

    @property
    def median_tempo_bpm(self) -> float | None:
        """The median over the notes."""
        return median(self.tempo_bpm) if self.tempo_bpm else None


def judge_free(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    rules: TimedRules = DEFAULT_RULES,
    *,
    spans: Sequence[BarSpan] = COMMON_TIME,
) -> FreeJudgement:
    """The verdicts, extra notes and events of a take without a click. `started_s` may count from anywhere."""
    played, unsure = told_apart(sorted(played, key=lambda note: note.started_s))
    rows = _rows(expected, played, rules)
    steps = pulse_steps(rows)
    if not steps:
        reading = nothing_read(len(expected))
        grid = _grid(expected, [DueTime(due_s=float(note.note.onset), quarter_s=1.0) for note in expected], spans)
        judgement = judgement_of(expected, played, grid, rules, reading, ())
        return FreeJudgement(judgement=_with_unsure(judgement, expected, unsure), tempo_bpm=None)
    dues = _dues(rows, steps)
    grid = _grid(expected, dues, spans)
    reading = _reading(rows, steps, dues)
    return FreeJudgement(
        judgement=judgement_of(expected, played, grid, rules, reading, unsure),
        tempo_bpm=tuple(60 / due.quarter_s for due in dues),
    )


def _with_unsure(judgement: Judgement, expected: Sequence[ExpectedNote], unsure: Sequence[PlayedNote]) -> Judgement:
    """The judgement of a take without a sure note, from which no pulse can be told: what came stands for the first
    written notes, in order.
    """
    heard = [timed_unsure(note, (one,)) for note, one in zip(expected, unsure, strict=False)]
    return replace(judgement, verdicts=(*heard, *judgement.verdicts[len(heard) :]))


def _rows(expected: Sequence[ExpectedNote], played: Sequence[PlayedNote], rules: TimedRules) -> FreeRows:
    return FreeRows(
        onsets=[float(note.note.onset) for note in expected],
        asked=[note.sounding for note in expected],
        times_s=[note.started_s for note in played],
        sounding=[note.sounding for note in played],
        pitch_counts=rules.pitch_counts,
    )


def _dues(rows: FreeRows, steps: Sequence[PulseStep]) -> list[DueTime]:
    """When each written note was due at its first reading; notes nobody played lie in the stretch before
    them.
    """
    cut = steady_stretches(steps)
    first_read: dict[int, tuple[PulseStep, ...]] = {}
    for stretch in cut:
        for step in stretch:
            first_read.setdefault(step.index, stretch)
    dues = []
    stretch = cut[0]
    for index in range(len(rows.onsets)):
        stretch = first_read.get(index, stretch)
        dues.append(due_time(stretch, rows, index))
    return dues


def _grid(expected: Sequence[ExpectedNote], dues: Sequence[DueTime], spans: Sequence[BarSpan]) -> TimedGrid:
    """The player's own pulse as a grid; tolerances as if a click had given that tempo."""
    beats_s = [
        beat * due.quarter_s
        for beat, due in zip(beats_at([note.note.onset for note in expected], spans), dues, strict=True)
    ]
    widths_s = []
    for index, due in enumerate(dues):
        gap_ms = None
        if index + 1 < len(expected):
            gap_ms = float(expected[index + 1].note.onset - expected[index].note.onset) * due.quarter_s * 1000
        widths_s.append(tolerance_ms(beats_s[index] * 1000, gap_ms) / 1000)
    return TimedGrid(
        onsets_s=tuple(due.due_s for due in dues),
        early_s=tuple(widths_s),
        late_s=tuple(widths_s),
        beats_s=tuple(beats_s),
        beat_positions=(None,) * len(expected),
        off_beats=(False,) * len(expected),
    )


def _reading(rows: FreeRows, steps: Sequence[PulseStep], dues: Sequence[DueTime]) -> ReadNotes:
    """The steps as answers and events. A note the player waited before is late by the wait, if it was read at
    all.
    """
    reading = nothing_read(len(rows.onsets))
    answers = reading.answers
    read_to = 0
    for before, step in zip([None, *steps], steps, strict=False):
        answers.used.add(step.at)
        at_s = rows.times_s[step.at]
        if step.index >= read_to:
            answers.first[step.index] = step.at
            waited = step.kind is PulseStepKind.SHIFTED
            answers.offsets_s[step.index] = step.offset_s if waited else at_s - dues[step.index].due_s
            read_to = step.index + 1
        elif answers.first[step.index] != NO_ANSWER:
            answers.later.setdefault(step.index, []).append(step.at)
        if step.kind is PulseStepKind.STOPPED:
            reading.events.append((EventKind.STOP, step.index, at_s - step.offset_s))
        elif step.kind is PulseStepKind.JUMPED and before is not None:
            reading.events.append((_back(rows, before, step), step.index, at_s))
    return reading


def _back(rows: FreeRows, before: PulseStep, step: PulseStep) -> EventKind:
    """Going back to the note just played, when that was wrong, repairs it; anything else begins again, or skips."""
    if step.index > before.index:
        return EventKind.SKIP
    wrong = rows.asked[before.index] != rows.sounding[before.at]
    return EventKind.REPAIR if before.index == step.index and wrong else EventKind.RESTART
