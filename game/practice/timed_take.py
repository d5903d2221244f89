"""A take with the metronome under way: against the click in `rhythm` and `time`, or one written note a click.

The music's time 0 lies at `zero_s` on the master clock. Event times decide; how often `tick` is called changes nothing.
"""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.graces import graces_before
from game.judging.live_timed import LiveUpdate, begin_timed, hear_timed, pass_time
from game.judging.swing import STRAIGHT
from game.judging.timed import judge_timed, swing_of
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid, bar_spans, timed_grid
from game.judging.verdicts import COUNTS_AS_CLEAN, EventKind, NoteVerdict, TakeEvent
from game.music.passage import Passage
from game.music.written import WrittenNote
from game.neck.neck_map import NeckMap
from game.practice.finished_take import FinishedTake
from game.practice.take_recorder import NULL_RECORDER, TakeRecorder

# So long after the last note is due a take is over: the last note may come late.
_LINGER_S = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedTerms:
    """What is asked: the tempo in the metre's own beat, long:short, and whether each written note gets one click."""

    stage: Stage
    tempo_bpm: float
    swing: float = STRAIGHT
    one_a_click: bool = False
    settling: bool = False


@dataclass
class TimedTake:
    """A take of a passage against the click. Feed it played notes and the time; ask it what to show. What comes is
    judged and written down by the one call.

    `shown` are the live verdicts by number of note, provisional until the end.
    """

    passage: Passage
    neck_map: NeckMap
    terms: TimedTerms
    zero_s: float | None = None
    shown: dict[int, NoteVerdict] = field(default_factory=dict)
    recorder: TakeRecorder = NULL_RECORDER

    def __post_init__(self) -> None:
        notes = self.passage.notes
        beat = self.passage.bars[0].meter.beat_length
        if self.terms.one_a_click:
            notes, beat = _one_a_click(notes), Fraction(1)
        self.expected: tuple[ExpectedNote, ...] = expected_notes(notes, self.neck_map)
        self.quarter_bpm = float(self.terms.tempo_bpm * beat)
        spans = () if self.terms.one_a_click else bar_spans(self.passage.bars)
        self._grid: TimedGrid = timed_grid(notes, tempo_bpm=self.quarter_bpm, spans=spans, swing=self.terms.swing)
        graces: Mapping[int, tuple[int, ...]] = graces_before(
            self.passage.bars, self.passage.notes, self.passage.reading
        )
        self._rules = TimedRules(pitch_counts=self.terms.stage.pitch_counts, graces=graces)
        self._live = begin_timed(self.expected, self._grid, self._rules)
        self._played: list[PlayedNote] = []
        self._events: list[TakeEvent] = []
        self._bar_starts = _starts(self.passage)

    @property
    def quarter_s(self) -> float:
        """Seconds to a quarter note."""
        return 60.0 / self.quarter_bpm

    def start(self, zero_s: float) -> None:
        """The music's time 0 is settled: the count-in has begun."""
        self.zero_s = zero_s

    def position(self, now_s: float) -> float:
        """Where the clock is in the music, in quarter notes of the page; negative in the count-in.

        With one note a click it lies on the way from one notehead to the next, whatever stands between them.
        """
        assert self.zero_s is not None
        quarters = (now_s - self.zero_s) / self.quarter_s
        return _on_the_page(self.passage.notes, quarters) if self.terms.one_a_click else quarters

    def bar_at(self, now_s: float) -> int:
        """The index of the bar the clock is in; -1 in the count-in, the number of bars after the last."""
        position = self.position(now_s)
        return bisect_right(self._bar_starts, position) - 1 if position >= 0 else -1

    def seconds(self, now_s: float) -> float:
        """Seconds since time 0, negative in the count-in."""
        assert self.zero_s is not None
        return now_s - self.zero_s

    def hear(self, played: PlayedNote) -> PlayedNote | None:
        """Take a note into account, at once; returns it counted from time 0. None before the count-in, when it is no
        part of the take.
        """
        if self.zero_s is None:
            return None
        on_grid = self._counted(played)
        self.recorder.played(on_grid)
        self._played.append(on_grid)
        self._live, news = hear_timed(self._live, on_grid)
        self._show(news)
        return on_grid

    def revise(self, before: PlayedNote, after: PlayedNote | None) -> bool:
        """A note turns out to be another, or none: everything since is looked at again. Returns whether the note is
        part of the take.
        """
        if self.zero_s is None:
            return False
        was = self._counted(before)
        if was not in self._played:
            return False
        now = after and self._counted(after)
        self.recorder.revised(was, now)
        index = self._played.index(was)
        self._played[index : index + 1] = [now] if now else []
        self._look_again(self._played)
        return True

    def _counted(self, note: PlayedNote) -> PlayedNote:
        """A note counted from time 0."""
        arrived_s = None if note.arrived_s is None else self.seconds(note.arrived_s)
        return replace(note, started_s=self.seconds(note.started_s), arrived_s=arrived_s)

    def _look_again(self, played: Iterable[PlayedNote]) -> None:
        self.shown = {}
        self._live = begin_timed(self.expected, self._grid, self._rules)
        for note in played:
            self._live, news = hear_timed(self._live, note)
            self._show(news)

    def tick(self, now_s: float) -> None:
        """Let time pass: notes that can no longer be answered are missed."""
        if self.zero_s is not None:
            self._live, news = pass_time(self._live, self.seconds(now_s))
            self._show(news)

    def _show(self, news: LiveUpdate) -> None:
        for verdict in news.verdicts:
            self.shown[verdict.n] = verdict

    @property
    def end_s(self) -> float:
        """When the last note is over, from time 0."""
        last = self.expected[-1].note
        return self._grid.onsets_s[-1] + min(float(last.length) * self.quarter_s, 2.0)

    @property
    def heard_anything(self) -> bool:
        """Whether a note has come."""
        return bool(self._played)

    def is_over(self, now_s: float) -> bool:
        """Whether the take has come to its end."""
        return self.zero_s is not None and now_s - self.zero_s >= self.end_s + _LINGER_S

    def go_back(self, bar: int, now_s: float) -> None:
        """The player stops, to begin again at a bar: what was played from there on is taken out. Call `start` again
        with a time 0 that puts that bar after a count-in.
        """
        assert self.zero_s is not None
        from_s = float(self._bar_starts[max(0, bar)]) * self.quarter_s
        early_s = min(0.5 * self.quarter_s, 0.3)
        self._events.append(
            TakeEvent(kind=EventKind.RESTART, n=self._first_n(bar), time_ms=(now_s - self.zero_s) * 1000)
        )
        self._played = [note for note in self._played if note.started_s < from_s - early_s]
        first_n = self._first_n(bar) or 1
        shown = {n: verdict for n, verdict in self.shown.items() if n < first_n}
        self._look_again(self._played)
        self.shown = shown
        self.zero_s = None

    def _first_n(self, bar: int) -> int | None:
        return next((note.n for note in self.passage.notes if note.heads[0].bar >= bar), None)

    def end(self, now_s: float) -> FinishedTake:
        """The take is over. Its notes count from time 0, and so do the answers that are written down."""
        finished = self.so_far(now_s)
        self.recorder.ended(finished, counted_from_s=0.0)
        return finished

    def so_far(self, now_s: float) -> FinishedTake:
        """The take as it stands, judged as a whole."""
        stopped = not self.is_over(now_s)
        rules = self._rules
        if stopped:
            ended_s = now_s - self.zero_s if self.zero_s is not None else self._last_s()
            rules = replace(rules, ended_s=ended_s)
        judgement = judge_timed(self.expected, self._played, self._grid, rules)
        if self._events:
            events = sorted((*judgement.events, *self._events), key=lambda event: event.time_ms)
            judgement = replace(judgement, events=tuple(events))
        return FinishedTake(
            passage=self.passage,
            expected=self.expected,
            judgement=judgement,
            stage=self.terms.stage,
            tempo_bpm=self.terms.tempo_bpm,
            swing=swing_of(judgement, self._grid),
            played=tuple(self._played),
            shown_otherwise=sum(_otherwise(self.shown.get(final.n), final) for final in judgement.verdicts),
            settling=self.terms.settling,
        )

    def _last_s(self) -> float:
        return self._played[-1].started_s if self._played else -1.0


def _otherwise(shown: NoteVerdict | None, final: NoteVerdict) -> bool:
    """Whether the page showed a note clean that is not, or the other way round."""
    return shown is not None and (shown.verdict in COUNTS_AS_CLEAN) != (final.verdict in COUNTS_AS_CLEAN)


def _one_a_click(notes: tuple[WrittenNote, ...]) -> tuple[WrittenNote, ...]:
    """The notes a quarter apart, rhythm ignored."""
    return tuple(replace(note, onset=Fraction(index), length=Fraction(1)) for index, note in enumerate(notes))


def _on_the_page(notes: tuple[WrittenNote, ...], click: float) -> float:
    """Where the page is when the clock is at a click: the noteheads in turn."""
    if click <= 0:
        return float(notes[0].onset) + click
    index = min(int(click), len(notes) - 1)
    here = float(notes[index].onset)
    ahead = float(notes[index + 1].onset) if index + 1 < len(notes) else here + 1.0
    return here + (ahead - here) * min(click - index, 1.0)


def _starts(passage: Passage) -> tuple[Fraction, ...]:
    """Where each bar starts, and where the last one ends."""
    starts = [Fraction(0)]
    for bar in passage.bars:
        starts.append(starts[-1] + bar.length)
    return tuple(starts)
