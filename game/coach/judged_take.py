"""From a judgement to what the coach hears of it."""

from collections.abc import Sequence
from itertools import pairwise

from game.coach.events import PassageFacts, TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Stage
from game.judging.expected import ExpectedNote
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, Verdict

_CLEAN = (Verdict.CLEAN, Verdict.EARLY, Verdict.LATE)
_WRONG = (Verdict.WRONG_PITCH, Verdict.MISSED)


def result_of(
    judgement: Judgement,
    expected: Sequence[ExpectedNote],
    *,
    passage: PassageFacts,
    day: int,
    stage: Stage,
    tempo_bpm: float | None = None,
    numbers: CoachNumbers = NUMBERS,
) -> TakeResult:
    """The judged take as the coach counts it: notes without a home left out, as in the clean share.

    `expected` are the notes it was judged against, in the same order; `tempo_bpm` is in the metre's own
    beat, None without a metronome. How often the bars were seen, whether they were heard, and the like are
    added with `dataclasses.replace`. Raises `ValueError` when judgement and notes are not of one length.
    """
    both = zip(judgement.verdicts, expected, strict=True)
    homed = [verdict for verdict, note in both if note.home is not None]
    counted = [verdict for verdict in homed if verdict.verdict is not Verdict.UNREAD]
    kinds = [event.kind for event in judgement.events]
    return TakeResult(
        passage=passage,
        day=day,
        stage=stage,
        tempo_bpm=tempo_bpm,
        homes=len(counted),
        clean=sum(verdict.verdict in _CLEAN for verdict in counted),
        off_time=sum(verdict.verdict in (Verdict.EARLY, Verdict.LATE) for verdict in counted),
        unread=len(homed) - len(counted),
        stops=kinds.count(EventKind.STOP),
        restarts=kinds.count(EventKind.RESTART),
        wrong_notes=frozenset(verdict.n for verdict in counted if verdict.verdict in _WRONG),
        other_place_notes=frozenset(verdict.n for verdict in counted if verdict.verdict is Verdict.OTHER_PLACE),
        find_times_s=find_times_s(judgement.verdicts, expected, numbers),
    )


def find_times_s(
    verdicts: Sequence[NoteVerdict], expected: Sequence[ExpectedNote], numbers: CoachNumbers = NUMBERS
) -> tuple[float, ...]:
    """Seconds to find each note, without those that tell nothing: repeated notes, pauses, notes found with
    help.
    """
    repeated = {note.n for before, note in pairwise(expected) if note.sounding == before.sounding}
    return tuple(
        verdict.time_to_find_ms / 1000
        for verdict in verdicts
        if verdict.time_to_find_ms is not None
        and verdict.n not in repeated
        and verdict.verdict is not Verdict.HINTED
        and verdict.time_to_find_ms / 1000 <= numbers.pause_s
    )
