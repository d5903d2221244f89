"""A take in free time under way: no click, the player's own pace; the pulse is inferred when it is over."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.free import judge_free
from game.judging.graces import graces_before
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import bar_spans
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.practice.clock_gap import ClockGap
from game.practice.finished_take import FinishedTake
from game.practice.take_recorder import NULL_RECORDER, TakeRecorder

# Nothing played for so long after the last written note, or for longer anywhere: the take is over.
_AFTER_LAST_S = 1.2
_STOPPED_S = 8.0
# A stalled game that is silent for no longer may stand in a rest or a long note.
_LONGEST_REST_S = 4.0
_LOOK_AHEAD = 3


@dataclass
class FreeTake:
    """A take at one's own pace. `at` is the index of the note the page looks at: a guess, for the eyes only. What comes
    is written down by the one call; time in which the instrument was away is left out of it.
    """

    passage: Passage
    neck_map: NeckMap
    stage: Stage
    at: int = 0
    recorder: TakeRecorder = NULL_RECORDER

    def __post_init__(self) -> None:
        self.expected: tuple[ExpectedNote, ...] = expected_notes(self.passage.notes, self.neck_map)
        graces: Mapping[int, tuple[int, ...]] = graces_before(
            self.passage.bars, self.passage.notes, self.passage.reading
        )
        self._rules = TimedRules(pitch_counts=self.stage.pitch_counts, graces=graces)
        self._played: list[PlayedNote] = []
        # Since when the instrument is away, and how long it was in all.
        self._paused_s: float | None = None
        self._away_s = 0.0

    def pause(self, now_s: float) -> None:
        """The instrument went away: the take goes on with the next note, as if no time had passed."""
        self._paused_s = now_s if self._paused_s is None else self._paused_s

    def hear(self, played: PlayedNote) -> None:
        """A note came: the page looks at the next one."""
        if self._paused_s is not None:
            self._away_s += max(0.0, played.started_s - self._paused_s)
            self._paused_s = None
        counted = self._counted(played)
        self.recorder.played(counted)
        self._look_beyond(counted)

    def _counted(self, played: PlayedNote) -> PlayedNote:
        """The note as if the instrument had never been away."""
        arrived_s = None if played.arrived_s is None else played.arrived_s - self._away_s
        return replace(played, started_s=played.started_s - self._away_s, arrived_s=arrived_s)

    def _look_beyond(self, played: PlayedNote) -> None:
        self._played.append(played)
        if not played.sure:
            return
        if not self.stage.pitch_counts:
            self.at = min(self.at + 1, len(self.expected))
            return
        for ahead in range(self.at, min(self.at + _LOOK_AHEAD, len(self.expected))):
            if self.expected[ahead].sounding == played.sounding:
                self.at = ahead + 1
                return

    @property
    def heard_anything(self) -> bool:
        """Whether a note has come."""
        return bool(self._played)

    def stood_still(self, gap: ClockGap) -> bool:
        """The game stood still; returns whether the take pauses for it. Notes carry their own times: who was heard
        meanwhile plays on, and a gap no longer than a rest may be one.
        """
        heard = any(note.started_s + self._away_s >= gap.from_s for note in self._played)
        pauses = self.heard_anything and (gap.asleep or (gap.until_s - gap.from_s >= _LONGEST_REST_S and not heard))
        if pauses:
            self.pause(gap.from_s)
        return pauses

    def revise(self, before: PlayedNote, after: PlayedNote | None) -> None:
        """A note turns out to be another, or none: the page looks at where that leads."""
        before, after = self._counted(before), after and self._counted(after)
        if before not in self._played:
            return
        self.recorder.revised(before, after)
        index = self._played.index(before)
        played = [*self._played[:index], *([after] if after else []), *self._played[index + 1 :]]
        self._played, self.at = [], 0
        for note in played:
            self._look_beyond(note)

    def is_over(self, now_s: float) -> bool:
        """Whether the player has come to the end, or has stopped."""
        if not self._played or self._paused_s is not None:
            return False
        silent_s = now_s - self._away_s - self._played[-1].started_s
        return silent_s >= (_AFTER_LAST_S if self.at >= len(self.expected) else _STOPPED_S)

    def end(self) -> FinishedTake:
        """The take is over."""
        finished = self.so_far()
        self.recorder.ended(finished)
        return finished

    def so_far(self) -> FinishedTake:
        """The take as it stands, judged against the player's own pulse."""
        judged = judge_free(self.expected, self._played, self._rules, spans=bar_spans(self.passage.bars))
        return FinishedTake(
            passage=self.passage,
            expected=self.expected,
            judgement=judged.judgement,
            stage=self.stage,
            usual_bpm=judged.median_tempo_bpm,
            played=tuple(self._played),
        )
