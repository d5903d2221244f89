"""The `places` stage under way: each note at its home, no clock shown, help in steps."""

from dataclasses import replace

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import octave_off
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.octave import lowered
from game.judging.untimed import Answered, HintStep, UntimedRules, UntimedTake, begin, finish, hear, hint
from game.judging.verdicts import NoteVerdict
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.practice.finished_take import FinishedTake
from game.practice.help_timer import HelpTimer
from game.practice.take_recorder import NULL_RECORDER, TakeRecorder

# A note is revised within a fifth of a second: more than a hand plays in that.
_REVISED_OF_LATE = 16


class PlacesTake:
    """A take of a passage, from its first note. Feed it played notes and the time; ask it what to show. What comes is
    judged and written down by the one call.

    `octaves` is how far above the sounding pitch a keyboard is played. A guitar that is heard is taken at the octave it
    sounds in.
    """

    def __init__(
        self,
        passage: Passage,
        neck_map: NeckMap,
        *,
        now_s: float,
        rules: UntimedRules | None = None,
        recorder: TakeRecorder = NULL_RECORDER,
    ) -> None:
        self.passage = passage
        self.neck_map = neck_map
        self._take: UntimedTake = begin(expected_notes(passage.notes, neck_map), now_s=now_s, rules=rules)
        self._help_timer = HelpTimer(now_s)
        self._recorder = recorder
        self.octaves = 0
        self._octave_settled = False
        # The take as it was before each of the latest notes, in case one is revised.
        self._lately: list[tuple[UntimedTake, PlayedNote]] = []

    @property
    def expected(self) -> tuple[ExpectedNote, ...]:
        """All notes of the passage with their homes."""
        return self._take.expected

    @property
    def asked(self) -> ExpectedNote | None:
        """The note the page waits for, None when the passage is done."""
        return self._take.asked

    @property
    def done(self) -> bool:
        """Whether the last note has been answered."""
        return self._take.done

    @property
    def answered(self) -> tuple[NoteVerdict, ...]:
        """The verdicts of the notes already left, in order."""
        return self._take.live

    @property
    def provisional(self) -> NoteVerdict | None:
        """The verdict on the asked note as far as it was answered, None before its first answer."""
        return self._take.so_far

    @property
    def tries(self) -> tuple[PlayedNote, ...]:
        """What was played for the asked note so far."""
        return self._take.answers

    @property
    def paused(self) -> bool:
        """Whether the take waits for its instrument."""
        return self._help_timer.paused

    def hear(self, played: PlayedNote) -> Answered | None:
        """Take a note into account; None when nothing is asked, or while the take is paused."""
        answered = self._judge(played)
        self._recorder.played(played)
        return answered

    def _judge(self, played: PlayedNote) -> Answered | None:
        if self._help_timer.paused or self.asked is None:
            return None
        self._lately = [*self._lately, (self._take, played)][-_REVISED_OF_LATE:]
        if played.place is None:
            played = self._in_their_octave(played, self.asked)
        self._take, answered = hear(self._take, played)
        if answered and answered.moved_on:
            self._help_timer.ask(played.started_s)
        return answered

    def revise(self, before: PlayedNote, after: PlayedNote | None) -> bool:
        """A note turns out to be another, or none: what it answered, and what came since, is judged again. Returns
        whether it was part of the take. Help that was given stays given.
        """
        at = next((at for at, (_, played) in enumerate(self._lately) if played == before), None)
        if at is None:
            return False
        given = {self._take.at: self._take.hint}
        (self._take, _), *since = self._lately[at:]
        self._lately = self._lately[:at]
        for played in ([after] if after else []) + [played for _, played in since]:
            self._judge(played)
        self._recorder.revised(before, after)
        self._take = hint(self._take, given.get(self._take.at, HintStep.NONE))
        if self.asked is not None:
            self._help_timer.ask(self._take.asked_s)
        return True

    def _in_their_octave(self, played: PlayedNote, asked: ExpectedNote) -> PlayedNote:
        """Without strings the player's octave is settled by the first note with the right name."""
        if played.heard:
            # A guitar sounds where it sounds.
            return played
        if not self._octave_settled and octave_off(asked, played.sounding):
            self.octaves = (played.sounding - asked.sounding) // 12
        if (played.sounding - asked.sounding) % 12 == 0:
            self._octave_settled = True
        return lowered((played,), self.octaves)[0]

    def change_octave(self) -> None:
        """The next octave a keyboard player may read in: where it sounds, one above, one below."""
        self.octaves = {0: 1, 1: -1}.get(self.octaves, 0)
        self._octave_settled = True

    def tick(self, now_s: float) -> HintStep | None:
        """Let time pass. Returns how far the help has gone, where help that was due has just been given."""
        before = self._take.hint
        self._take = hint(self._take, self._help_timer.due(now_s))
        return None if self._take.hint is before else self._helped(now_s)

    def ask_help(self, now_s: float) -> HintStep | None:
        """One step of help more, at once. Returns how far the help has gone, None when nothing is asked."""
        steps = list(HintStep)
        self._take = hint(self._take, steps[min(self._take.hint.value + 1, len(steps) - 1)])
        return self._helped(now_s)

    def _helped(self, now_s: float) -> HintStep | None:
        if self.asked is None:
            return None
        self._recorder.helped(self.asked.n, self._take.hint, at_s=now_s)
        return self._take.hint

    def pause(self, now_s: float) -> None:
        """The instrument went away: the search for this note stops counting."""
        self._help_timer.pause(now_s)

    def resume(self, now_s: float) -> None:
        """The instrument is back. The time away counts for nothing."""
        away_s = self._help_timer.resume(now_s)
        self._take = replace(self._take, asked_s=self._take.asked_s + away_s)

    def end(self) -> FinishedTake:
        """The take is over."""
        finished = self.so_far()
        self._recorder.ended(finished)
        return finished

    def so_far(self) -> FinishedTake:
        """The take as it stands, judged."""
        return FinishedTake(
            passage=self.passage,
            expected=self.expected,
            judgement=finish(self._take),
            played=self._take.heard,
        )
