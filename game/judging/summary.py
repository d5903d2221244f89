"""A take in figures: right notes and time are two results, and each is counted here once for all who tell of it."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from statistics import fmean, median, pstdev

from game.judging.expected import ExpectedNote
from game.judging.verdicts import COUNTS_AS_CLEAN, NOT_ASKED, OF_PACE, EventKind, Judgement, TakeEvent, Verdict
from game.neck.neck_map import NeckMap

_LEAST_FOR_A_PACE = 8
_MOST_AHEAD = 0.5
"""By so much of each beat somebody may run ahead: then they are twice as fast as the click. Ours."""

"""Below this a single late note would pass for a slower pulse."""

_LEFT_THE_BEAT = frozenset((EventKind.STOP, EventKind.RESTART, EventKind.SKIP))


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """A take in figures. All that is told of one, anywhere, comes from these.

    `asked` notes have a home (in free reading any place), were read and heard surely; `right_notes` of them are of the
    right pitch at its home, early and late ones too, and `clean_share` is their share (None where nothing was asked).
    `in_time` of the right ones lie within the tolerance of their beat. `ahead_percent` is by how much the player's own
    pulse was faster than the click, negative slower, None for too few notes. `bias_ms` is the median offset,
    `spread_ms` its standard deviation. All of time are None where there was no clock. `kept_going`: no stop, and
    nothing gone over, left out or unread.
    """

    counts: dict[Verdict, int]
    asked: int
    right_notes: int
    in_time: int | None
    ahead_percent: float | None
    bias_ms: float | None
    spread_ms: float | None
    kept_going: bool

    @property
    def clean_share(self) -> float | None:
        """Right notes over those asked."""
        return self.right_notes / self.asked if self.asked else None


def is_asked(note: ExpectedNote, free_on: NeckMap | None = None) -> bool:
    """Whether a note counts: it has a home, or in free reading `free_on` a map any place on its neck."""
    if free_on is None:
        return note.home is not None
    return bool(free_on.tuning.places_of(note.sounding, free_on.frets))


def summary_of(judgement: Judgement, expected: tuple[ExpectedNote, ...], *, free_on: NeckMap | None = None) -> Summary:
    """The figures of a take. `expected` are the notes it was judged against, in the same order; `free_on` is the map of
    a take in free reading, None where homes were asked.
    """
    counts = Counter(verdict.verdict for verdict in judgement.verdicts)
    asked = [
        verdict.verdict
        for verdict, note in zip(judgement.verdicts, expected, strict=True)
        if is_asked(note, free_on) and verdict.verdict not in NOT_ASKED
    ]
    offsets = [verdict.offset_ms for verdict in judgement.verdicts if verdict.offset_ms is not None]
    return Summary(
        counts={verdict: counts[verdict] for verdict in Verdict},
        asked=len(asked),
        right_notes=sum(verdict in COUNTS_AS_CLEAN for verdict in asked),
        in_time=asked.count(Verdict.CLEAN) if offsets else None,
        ahead_percent=ahead_percent(judgement),
        bias_ms=median(offsets) if offsets else None,
        spread_ms=pstdev(offsets) if offsets else None,
        kept_going=not counts[Verdict.UNREAD] and all(event.kind in OF_PACE for event in judgement.events),
    )


def ahead_percent(judgement: Judgement) -> float | None:
    """By how much the player's own pulse was faster than the click, in percent, negative slower.

    A line is fitted through played against due times, with one slope and a height of its own for each stretch between
    stops. None without a clock, of fewer notes than eight, or for what no pulse can be told of.
    """
    cuts = sorted(event.n for event in _with_read_on(judgement) if event.n is not None)
    stretches: dict[int, list[tuple[float, float]]] = {}
    for verdict in judgement.verdicts:
        if verdict.first is not None and verdict.offset_ms is not None:
            played_ms = verdict.first.started_s * 1000
            stretches.setdefault(bisect_right(cuts, verdict.n), []).append(
                (played_ms - verdict.offset_ms, verdict.offset_ms)
            )
    slope = _common_slope(stretches.values())
    # Whoever is twice as fast plays by another pulse; and where no times are known all were played at one moment.
    return None if slope is None or slope < -_MOST_AHEAD else -100 * slope / (1 + slope)


def _with_read_on(judgement: Judgement) -> Iterator[TakeEvent]:
    """What ended a stretch, each at the first note of the next one: who went back had read some notes already, and
    those belong to the stretch before. Who put a note right may have taken time for it.
    """
    for event in judgement.events:
        if event.kind is EventKind.RESTART:
            since = (v.n for v in judgement.verdicts if v.first and v.first.started_s * 1000 >= event.time_ms)
            yield replace(event, n=next(since, None))
        elif event.kind is EventKind.REPAIR and event.n is not None:
            yield replace(event, n=event.n + 1)
        elif event.kind in _LEFT_THE_BEAT:
            yield event


def _common_slope(stretches: Iterable[list[tuple[float, float]]]) -> float | None:
    spread = together = 0.0
    points = 0
    for stretch in stretches:
        points += len(stretch)
        due_mean, offset_mean = fmean(due for due, _ in stretch), fmean(offset for _, offset in stretch)
        spread += sum((due - due_mean) ** 2 for due, _ in stretch)
        together += sum((due - due_mean) * (offset - offset_mean) for due, offset in stretch)
    return together / spread if points >= _LEAST_FOR_A_PACE and spread else None
