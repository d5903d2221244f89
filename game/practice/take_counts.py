"""The three counts of a take, and its longest clean run: of one total each, and no figure without it."""

from collections.abc import Sequence
from dataclasses import dataclass

from game.judging.verdicts import COUNTS_AS_CLEAN, OF_PACE, NoteVerdict, TakeEvent, Verdict
from game.practice.finished_take import Finished, FinishedNaming, FinishedTake


@dataclass(frozen=True, slots=True, kw_only=True)
class CleanRun:
    """The longest stretch of notes read clean, one after the other: numbers of its first and last note, and how many
    notes it has, at least two. Those among them that could not be told (`unsure`) are none of it, and break nothing.
    """

    first: int
    last: int
    unsure: int = 0

    @property
    def notes(self) -> int:
        """How many notes it has."""
        return self.last - self.first + 1 - self.unsure


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeCounts:
    """What a take came to. `right` of the `asked` notes, those with a home that were read and heard surely; `in_time`
    of the same were right and in time, None without a rhythm asked for; `bars_kept` of the `bars` with a note were
    played without a break and to their end, None likewise. `run` is None where no two notes in a row were clean.
    """

    asked: int
    right: int
    in_time: int | None = None
    bars: int = 0
    bars_kept: int | None = None
    run: CleanRun | None = None


def counts_of(finished: Finished) -> TakeCounts:
    """The counts of a take, as all else that is told of it counts them."""
    if isinstance(finished, FinishedNaming):
        right = [note.verdict is Verdict.CLEAN for note in finished.named]
        run = _longest([(note.n, ok) for note, ok in zip(finished.named, right, strict=True)], frozenset())
        return TakeCounts(asked=finished.read_count, right=finished.clean_count, run=run)
    summary, breaks = finished.summary, _breaks(finished)
    bars = list(dict.fromkeys(note.note.heads[0].bar for note in finished.expected))
    lost = {_bar_at(finished, n) for n in breaks} | _unread_bars(finished)
    return TakeCounts(
        asked=summary.asked,
        right=summary.right_notes,
        in_time=(summary.in_time or 0) if finished.timed else None,
        bars=len(bars),
        bars_kept=sum(bar not in lost for bar in bars) if finished.timed else None,
        run=_longest([(verdict.n, _is_clean(finished, verdict)) for verdict in finished.judgement.verdicts], breaks),
    )


def _is_clean(finished: FinishedTake, verdict: NoteVerdict) -> bool | None:
    """Right, and in time where there is a time to be in; None where nobody knows."""
    if verdict.verdict is Verdict.UNSURE:
        return None
    return verdict.verdict is Verdict.CLEAN if finished.timed else verdict.verdict in COUNTS_AS_CLEAN


def _breaks(finished: FinishedTake) -> frozenset[int]:
    """The notes at which the flow broke: stopped, gone back, left out or put right. What came before the first note
    broke off at the first.
    """
    first = finished.expected[0].n
    return frozenset(_note_of(event, first) for event in finished.judgement.events if event.kind not in OF_PACE)


def _note_of(event: TakeEvent, first: int) -> int:
    return first if event.n is None else event.n


def _bar_at(finished: FinishedTake, n: int) -> int:
    return next((note.note.heads[0].bar for note in finished.expected if note.n == n), 0)


def _unread_bars(finished: FinishedTake) -> set[int]:
    unread = {verdict.n for verdict in finished.judgement.verdicts if verdict.verdict is Verdict.UNREAD}
    return {note.note.heads[0].bar for note in finished.expected if note.n in unread}


def _longest(notes: Sequence[tuple[int, bool | None]], breaks: frozenset[int]) -> CleanRun | None:
    """The longest run, the first of equals. A break stands before its note, which begins another run."""
    runs: list[list[int]] = [[]]
    for n, clean in notes:
        if clean is False or n in breaks:
            runs.append([])
        if clean:
            runs[-1].append(n)
    longest = max(runs, key=len)
    if len(longest) < 2:
        return None
    first, last = longest[0], longest[-1]
    return CleanRun(first=first, last=last, unsure=last - first + 1 - len(longest))
