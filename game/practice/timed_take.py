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
from game.music.written import HeadId
from game.neck.neck_map import NeckMap
from game.practice.click_places import bar_starts, one_a_click, place_on_page
from game.practice.count_in import CountIn, after_note, count_in_before, revised
from game.practice.finished_take import FinishedTake, shown_otherwise
from game.practice.owed_notes import OwedNotes
from game.practice.pencilled_page import PencilledPage
from game.practice.take_end import LINGER_S, TakeSoFar, is_at_its_end
from game.practice.take_recorder import NULL_RECORDER, TakeRecorder

# A note of a round that began so little before it belongs to the round.
EARLY_S = 0.1
# Notes that came in the last moment of a gap are what a driver had kept back: when they were played nobody knows.
_BURST_S = 0.15
# A player no farther behind than that reads on at the click.
_HARDLY_BEHIND_S = 0.15


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
            notes, beat = one_a_click(notes), Fraction(1)
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
        self._page = PencilledPage()
        # As floats: each frame looks up where the clock is, and fractions are compared with it slowly.
        self._bar_starts = tuple(float(start) for start in bar_starts(self.passage))
        self._count_in = self._count_in_before(0)

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
        return place_on_page(self.passage.notes, quarters) if self.terms.one_a_click else quarters

    @property
    def waits_s(self) -> float:
        """How far the page lags behind the click so that a player who is behind, and plays on, sees what comes next."""
        return max(0.0, self.lean_s - _HARDLY_BEHIND_S) if self._played else 0.0

    def bar_at(self, now_s: float) -> int:
        """The index of the bar the clock is in; -1 in the count-in, the number of bars after the last."""
        position = self.position(now_s)
        return bisect_right(self._bar_starts, position) - 1 if position >= 0 else -1

    def bar_left(self, now_s: float) -> int:
        """The index of the bar up to which all have been left, by the click and by the player who is behind it."""
        if not self._played:
            return self.bar_at(now_s)
        return min(self.bar_at(now_s), self.bar_at(now_s - max(0.0, self.lean_s)))

    def seconds(self, now_s: float) -> float:
        """Seconds since time 0, negative in the count-in."""
        assert self.zero_s is not None
        return now_s - self.zero_s

    def hear(self, played: PlayedNote) -> PlayedNote | None:
        """Take a note into account, at once; returns it counted from time 0. None before the count-in, and in that of
        a rhythm, when it is no part of the take.
        """
        if self.zero_s is None:
            return None
        on_grid = self._counted(played)
        of_music: tuple[PlayedNote, ...] = (on_grid,)
        if not self._rules.pitch_counts:
            self._count_in, of_music = after_note(self._count_in, on_grid)
        for note in of_music:
            self.recorder.played(note)
            self._played.append(note)
            self._live, news = hear_timed(self._live, note)
            self._show(news)
        return on_grid if of_music else None

    def revise(self, before: PlayedNote, after: PlayedNote | None) -> bool:
        """A note turns out to be another, or none: everything since is looked at again. Returns whether the note is
        part of the take.
        """
        if self.zero_s is None:
            return False
        was = self._counted(before)
        now = after and self._counted(after)
        if was not in self._played:
            self._count_in = revised(self._count_in, was, now)
            return False
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

    def to_pencil(self, bars: int) -> list[tuple[ExpectedNote, NoteVerdict]]:
        """The notes of the first `bars` bars that can be told of now, with their verdicts; that is kept as shown."""
        left = ((note, self.shown.get(note.n)) for note in self.expected if note.note.heads[0].bar < bars)
        return self._page.to_pencil(
            ((note, verdict) for note, verdict in left if verdict), farthest=self._owed.answered
        )

    def to_ink(self) -> frozenset[HeadId]:
        """The heads of the notes that are right as it is known now; that is kept as shown. What was shown as right and
        turns out to be wrong loses its ink, and does not get it again before the end.
        """
        judged = ((note, self.shown.get(note.n)) for note in self.expected)
        told = self._page.to_pencil(
            (
                (note, verdict)
                for note, verdict in judged
                if verdict and (verdict.verdict in COUNTS_AS_CLEAN or self._page.shown_right.get(note.n))
            ),
            farthest=self._owed.answered,
        )
        clean = (note for note, verdict in told if verdict.verdict in COUNTS_AS_CLEAN)
        return frozenset(head for note in clean for head in note.note.heads)

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

    @property
    def owed(self) -> bool:
        """Whether written notes still wait for an answer."""
        return self._owed.owed

    @property
    def _owed(self) -> OwedNotes:
        return OwedNotes(
            expected=self.expected,
            shown=self.shown,
            latest=self._played[-1] if self._played else None,
            reading_at=self._live.at,
            pitch_counts=self.terms.stage.pitch_counts,
        )

    @property
    def lean_s(self) -> float:
        """How far behind the click the player is by their own clock, negative ahead."""
        return self._live.lean_s

    def is_over(self, now_s: float) -> bool:
        """Whether the player has come to the end, or has left it."""
        if self.zero_s is None or self.seconds(now_s) < self.end_s:
            return False
        return is_at_its_end(self._so_far, self.seconds(now_s))

    @property
    def _so_far(self) -> TakeSoFar:
        first = self.passage.bars[0]
        beats = 1 if self.terms.one_a_click else float(first.meter.beat_length)
        owed = self._owed
        return TakeSoFar(
            end_s=self.end_s,
            beat_s=beats * self.quarter_s,
            bar_s=float(first.meter.bar_length) * self.quarter_s,
            heard_s=self._live.last_heard_s,
            complete_s=owed.complete_s,
            awaited_s=self._grid.onsets_s[owed.next_at] + self.lean_s if owed.owed else None,
        )

    def claims(self, played: PlayedNote, next_round_s: float) -> bool:
        """Whether a note is still of this take, though the next round of the loop begins at `next_round_s` on the
        master clock: it was played before that, or answers what is owed better than the first note of the round.
        """
        assert self.zero_s is not None
        if played.started_s < next_round_s - EARLY_S:
            return True
        if not self.owed:
            return False
        owed, first = self.expected[self._owed.next_at], self.expected[0]
        if self.terms.stage.pitch_counts and owed.sounding != first.sounding:
            return played.sounding == owed.sounding
        own_s = played.started_s - self.lean_s
        owed_s = self.zero_s + self._grid.onsets_s[owed.n - 1]
        return abs(own_s - owed_s) <= abs(own_s - next_round_s - self._grid.onsets_s[0])

    def lost_between(self, from_s: float, until_s: float) -> bool:
        """Whether notes were due, by the player's own clock, in a time in which the game stood still, and none came.

        Notes carry their own times: who was heard meanwhile has lost nothing, and the take goes on.
        """
        if self.zero_s is None:
            return False
        start_s, stop_s = self.seconds(from_s), self.seconds(until_s) - _BURST_S
        if any(start_s <= note.started_s < stop_s for note in self._played):
            return False
        due = range(self._owed.answered, len(self.expected))
        return any(start_s <= self._grid.onsets_s[index] + self.lean_s < stop_s for index in due)

    def go_back(self, bar: int, now_s: float, *, by_player: bool = True) -> None:
        """The take stops, to begin again at a bar: what was played from there on is taken out. Call `start` again
        with a time 0 that puts that bar after a count-in. Where it is not `by_player`, nothing is told of it.
        """
        assert self.zero_s is not None
        from_s = self._bar_starts[max(0, bar)] * self.quarter_s
        early_s = min(0.5 * self.quarter_s, 0.3)
        if by_player:
            self._events.append(
                TakeEvent(kind=EventKind.RESTART, n=self._first_n(bar), time_ms=(now_s - self.zero_s) * 1000)
            )
        self._played = [note for note in self._played if note.started_s < from_s - early_s]
        first_n = self._first_n(bar) or 1
        shown = {n: verdict for n, verdict in self.shown.items() if n < first_n}
        self._look_again(self._played)
        self.shown = shown
        self._count_in = self._count_in_before(bar)
        self.zero_s = None

    def _count_in_before(self, bar: int) -> CountIn:
        n = self._first_n(bar) or 1
        return count_in_before(
            begins_s=self._bar_starts[max(0, bar)] * self.quarter_s,
            first_due_s=self._grid.onsets_s[n - 1],
            beat_s=self._grid.beats_s[n - 1],
        )

    def _first_n(self, bar: int) -> int | None:
        return next((note.n for note in self.passage.notes if note.heads[0].bar >= bar), None)

    def end(self, now_s: float) -> FinishedTake:
        """The take is over. Its notes count from time 0, and so do the answers that are written down."""
        finished = self.so_far(now_s)
        self.recorder.ended(finished, counted_from_s=0.0)
        return finished

    def so_far(self, now_s: float) -> FinishedTake:
        """The take as it stands, judged as a whole."""
        rules = self._rules
        if self._is_left(now_s):
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
            shown_otherwise=shown_otherwise(self._page.shown_right, judgement.verdicts),
            settling=self.terms.settling,
        )

    def _is_left(self, now_s: float) -> bool:
        """Whether the player leaves it before its last note is over by their own clock: the rest is then unread."""
        return self.zero_s is None or self.seconds(now_s) < self.end_s + max(0.0, self.lean_s) + LINGER_S

    def _last_s(self) -> float:
        return self._played[-1].started_s if self._played else -1.0
