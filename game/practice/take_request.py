"""What is to be read and how: the request that a page is laid out for, and that its take answers."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.message import Message
from game.music.at_reading import at_reading
from game.music.passage import Passage, passages_of, whole_tune
from game.music.score import Score
from game.music.written import written_out
from game.neck.neck_map import NeckMap
from game.practice.assigned_take import AssignedTake

if TYPE_CHECKING:
    from game.coach.decisions import Decision


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeRequest:
    """A tune on the desk: its passages, which of them is at hand, and what is asked.

    `fresh` when it is a line made just now, `planned` when it is a step of today's plan, `evening`
    when it is a tune of a programme that is played through.
    `tempo_bpm` is in the metre's own beat, None without a metronome.
    `around` is the passage that the bars at hand were taken out of for now, None where they are one of their own.
    `one_a_click` gives each written note a click, rhythm ignored. `reason` is why it is asked, in the coach's words.
    `map_name` is what the map is called, where it may be another than the player's and the page must say which it is.
    `assigned` is what a teacher set for it, None outside of an assignment.
    `free_reading` is reading in which any place of a note is right.
    """

    score: Score
    neck_map: NeckMap
    passages: tuple[Passage, ...]
    index: int = 0
    stage: Stage = Stage.PLACES
    pulse: Pulse = Pulse.FREE
    tempo_bpm: int | None = None
    one_a_click: bool = False
    settling: bool = False
    looping: bool = False
    reason: tuple[Message, ...] = ()
    fresh: bool = False
    planned: bool = False
    evening: bool = False
    around: Passage | None = None
    map_name: str = ""
    assigned: AssignedTake | None = None
    free_reading: bool = False

    @property
    def judged_on(self) -> NeckMap:
        """The map by which a take is judged: in free reading no note has a home, and any place will do."""
        return self.neck_map.without_homes if self.free_reading else self.neck_map

    @property
    def can_be_free(self) -> bool:
        """Whether pitch and rhythm are asked together: then it may be read in any place."""
        return self.stage.pitch_counts and self.stage.rhythm_counts

    def freely(self) -> "TakeRequest":
        """In any place, or at the homes again; the same where the stage asks for less than reading."""
        return replace(self, free_reading=not self.free_reading, reason=()) if self.can_be_free else self

    @property
    def passage(self) -> Passage:
        """The bars at hand."""
        return self.passages[self.index]

    @property
    def target_bpm(self) -> int | None:
        """The target tempo that was set for it; None where the player's own holds."""
        return self.assigned.target_bpm if self.assigned else None

    @property
    def soundings(self) -> frozenset[int]:
        """The sounding pitches that the bars at hand ask for."""
        return frozenset(note.sounding for note in self.passage.notes)

    @property
    def is_last(self) -> bool:
        """Whether no passage comes after this one."""
        return self.index == len(self.passages) - 1

    def moved(self, by: int) -> "TakeRequest":
        """At a later passage, or an earlier one; stays at the ends."""
        return replace(self.widened(), index=min(len(self.passages) - 1, max(0, self.index + by)))

    def whole_or_passages(self) -> "TakeRequest":
        """The whole tune as one passage, or back to its passages, at the beginning."""
        score = self.passage.score
        passages = passages_of(score) if self.passage.whole else (whole_tune(score),)
        return replace(self, passages=passages, index=0, around=None)

    def narrowed(self, first: int, last: int) -> "TakeRequest":
        """These bars of the passage at hand alone, counted from 0 within it, until `widened`."""
        if self.around is not None:
            return self.widened().narrowed(first, last)
        passage = self.passage
        fewer = replace(passage, start=passage.start + first, stop=passage.start + last + 1)
        return replace(self, passages=self._with_passage(fewer), around=passage)

    def widened(self) -> "TakeRequest":
        """The whole passage again that the bars at hand were taken out of; the same where they were not."""
        if self.around is None:
            return self
        return replace(self, passages=self._with_passage(self.around), around=None)

    def _with_passage(self, passage: Passage) -> tuple[Passage, ...]:
        return (*self.passages[: self.index], passage, *self.passages[self.index + 1 :])

    def with_bars(self, by: int) -> "TakeRequest":
        """The same beginning with more bars or fewer, at least one, as a passage of its own."""
        passage = self.passage
        stop = min(len(passage.score.bars), max(passage.start + 1, passage.stop + by))
        shorter = replace(passage, stop=stop)
        if not shorter.notes:
            return self
        return replace(self, passages=self._with_passage(shorter), around=None)

    def in_stage(self, stage: Stage) -> "TakeRequest":
        """Another stage by the player's choice, same bars, at their own pace."""
        return replace(
            self,
            stage=stage,
            pulse=Pulse.FREE,
            tempo_bpm=None,
            one_a_click=False,
            settling=False,
            free_reading=False,
            reason=(),
        )

    def at_sight(self) -> "TakeRequest":
        """The whole tune at first sight, once through, at the player's own pace."""
        whole = whole_tune(self.passage.score)
        return replace(self.in_stage(Stage.SIGHT), passages=(whole,), index=0, around=None)

    def next_stage(self) -> "TakeRequest":
        """The stage after this one, then letters again."""
        return self.in_stage(self.stage.following)

    def by_the_click(self) -> "TakeRequest":
        """One written note a click, rhythm ignored: the bridge from `places` to time. Once more leads back."""
        if self.one_a_click:
            return self.in_stage(Stage.PLACES)
        bpm = self.tempo_bpm or NUMBERS.bridge_bpm
        return replace(self.in_stage(Stage.PLACES), pulse=Pulse.METRONOME, tempo_bpm=bpm, one_a_click=True)

    def as_decided(self, decision: "Decision") -> "TakeRequest":
        """As the coach says."""
        return replace(
            self,
            stage=decision.stage,
            pulse=decision.pulse,
            tempo_bpm=decision.tempo_bpm,
            settling=decision.settling,
            one_a_click=False,
            free_reading=self.free_reading and decision.stage is self.stage,
            reason=decision.reason,
        )


def request_for(score: Score, neck_map: NeckMap) -> TakeRequest:
    """A tune put on the desk at its first passage, read at the octave of the player's map."""
    score = at_reading(score, neck_map.reading, neck_map.places)
    return TakeRequest(score=score, neck_map=neck_map, passages=passages_of(written_out(score)))
