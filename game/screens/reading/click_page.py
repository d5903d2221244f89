"""A take with the metronome on screen: the stages `rhythm` and `time`, or one written note a click.

The first note at its home, after a second of silence, begins the count-in, and so does Space. While a bar is read
nothing is said about it; it is pencilled when it has been left.
"""

from collections.abc import Callable

import pygame

from game.audio.beats import ClickRow, ClickSettings, clicks_of, even_clicks
from game.coach.events import Wish
from game.coach.stages import Stage
from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.swing import STRAIGHT, default_swing
from game.judging.verdicts import COUNTS_AS_CLEAN
from game.music.keys import Key
from game.music.passage import Passage
from game.player.settings import InstrumentKind
from game.practice.free_string import MOST_PLUCKS
from game.practice.pencilled import OffTime, marks_of
from game.practice.timed_take import TimedTake, TimedTerms
from game.screens.context import ScreenContext
from game.screens.reading.music_on_page import AHEAD_S, MovingMusic
from game.screens.reading.page_screen import foot_keys, free_string_keys
from game.screens.reading.time_page import TimePage, looped
from game.screens.routes import Destination, TakeRequest, ToMarking, ToResult, ToShelf
from game.text.catalogue import say, tell_all

SILENCE_S = 1.0
# A bar counts as left a little after its bar line, when its last note can no longer be answered.
_LEFT_AFTER_S = 0.25
# A note so little before the loop's beginning belongs to the next round.
_EARLY_S = 0.1


class ClickPage(TimePage):
    """A take against the click."""

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        self.take = _take_of(tune)
        super().__init__(around, tune)
        self._row = self._prepared_clicks(first_bar=0)
        self._kept = self.new_kept(zero_s=0.0, swing=self.take.terms.swing)
        self._last_heard_s = around.clock.now_s() - SILENCE_S
        self._resume_bar = 0
        self._left_bars = 0
        self._last_round: ToResult | None = None
        keys = ("keys.space", "keys.begin"), ("P", "keys.pause"), ("- =", "keys.tempo"), ("L", "keys.loop")
        free = free_string_keys(around, tune.neck_map, "keys.free_click")
        self.tell_keys(*free, *foot_keys(*keys, ("O", "keys.still")))
        self.view.aside = tell_all(tune.reason) or say("time.begin")
        self._follow(around.clock.now_s())

    @property
    def running(self) -> bool:
        """Whether the count-in has begun."""
        return self.take.zero_s is not None

    @property
    def moving(self) -> bool:
        return self.running or super().moving

    def show_music(self) -> None:
        super().show_music()
        music = self.view.music
        if isinstance(music, MovingMusic) and not self.tune.one_a_click:
            bar = float(self.tune.passage.bars[0].meter.bar_length)
            music.keep_ahead(max(AHEAD_S / self.take.quarter_s, bar))
        self._follow(self.around.clock.now_s())

    def _prepared_clicks(self, first_bar: int) -> ClickRow:
        """The clicks from a bar on, rendered: that is for before the count-in."""
        terms, tune = self.take.terms, self.tune
        settings = ClickSettings(tempo_bpm=terms.tempo_bpm, clicking=self.around.settings.clicking, swing=terms.swing)
        if tune.one_a_click:
            row = even_clicks(len(self.take.expected), settings)
        else:
            row = clicks_of(tune.passage.bars[first_bar:], settings)
        self.sound.metronome.prepare(row, looping=tune.looping and first_bar == 0)
        return row

    @property
    def commands(self) -> dict[int, Callable[[float], Destination | None]]:
        if self.at_sight:
            return {pygame.K_SPACE: lambda _: self.begin()}
        return {
            **super().commands,
            pygame.K_SPACE: lambda _: self.begin(),
            pygame.K_p: self.pause,
            pygame.K_BACKSPACE: lambda now_s: self.pause(now_s, bars_back=1),
            pygame.K_l: lambda _: self.leave_for(looped(self.tune)),
            pygame.K_u: lambda _: self._mute(),
            pygame.K_k: lambda _: self.wish(Wish.NO_METRONOME),
            pygame.K_MINUS: lambda _: self.wish(Wish.SLOWER),
            pygame.K_EQUALS: lambda _: self.wish(Wish.FASTER),
        }

    def _mute(self) -> None:
        self.sound.metronome.muted = not self.sound.metronome.muted

    def play(self, played: PlayedNote) -> None:
        silent_s = played.started_s - self._last_heard_s
        self._last_heard_s = played.started_s
        if played.place is not None:
            self.view.press(played.place, self.around.clock.now_s())
        on_grid = self.take.hear(played)
        if on_grid is not None:
            self._kept.played(on_grid)
        elif silent_s >= SILENCE_S and self._is_first_note(played):
            self.begin()

    def revised(self, event: NoteRevised) -> None:
        counted = self.take.revise(event.before, event.after)
        if counted is not None:
            self._kept.revised(*counted)
            self._pencil_left()

    def _is_first_note(self, played: PlayedNote) -> bool:
        if self.covered:
            return True
        """The first note of the passage, or of the bar at which a paused take goes on."""
        expected = self.take.expected
        first = next((note for note in expected if note.note.heads[0].bar >= self._resume_bar), expected[0])
        if self.tune.stage is Stage.RHYTHM:
            return True
        at_home = played.place is None or first.home is None or played.place == first.home.place
        return played.sounding == first.sounding and at_home

    def begin(self) -> None:
        """Begin the count-in, at the beginning or at the bar where the take was paused."""
        if self.running:
            return
        self.turn_up()
        onset_s = self.sound.start_clicks(self.around.clock)
        self.take.start(onset_s - self._resume_quarters * self.take.quarter_s)
        self.view.aside = ""
        if self.sound.status:
            self.around.say(self.sound.status)

    @property
    def _resume_quarters(self) -> float:
        return float(sum(bar.length for bar in self.tune.passage.bars[: self._resume_bar]))

    def pause(self, now_s: float, *, bars_back: int = 0) -> None:
        """Stop the clock, or start it again: the take goes on from the start of this bar, or of one before it, after
        a new count-in.
        """
        if not self.running:
            self.begin()
            return
        here = min(max(0, self.take.bar_at(now_s)), len(self.tune.passage.bars) - 1)
        self._resume_bar = 0 if self.tune.one_a_click else max(0, here - bars_back)
        self.sound.metronome.stop()
        self.take.go_back(self._resume_bar, now_s)
        self._row = self._prepared_clicks(first_bar=self._resume_bar)
        self._left_bars = min(self._left_bars, self._resume_bar)
        self._pencil_left()
        self.view.beat = ""
        self.view.aside = say("time.paused", bar=self.tune.passage.bars[self._resume_bar].number)
        self._follow(now_s)

    def passed(self, now_s: float) -> Destination | None:
        self.sound.tick(now_s)
        if not self.running:
            return None
        self.take.tick(now_s)
        self._follow(now_s)
        self._show_beat(now_s)
        left = self.take.bar_at(now_s - _LEFT_AFTER_S)
        if left > self._left_bars and not self.tune.one_a_click:
            self._left_bars = left
            self._pencil_left()
        if self.tune.looping and self.take.seconds(now_s) >= self._row.loop_s - _EARLY_S:
            self._begin_round(now_s)
            return None
        return self.stop() if self.take.over(now_s) else None

    def _begin_round(self, now_s: float) -> None:
        """The loop begins again without a gap: each round is a take of its own."""
        assert self.take.zero_s is not None
        next_zero_s = self.take.zero_s + self._row.loop_s
        self._last_round = self._finished(now_s) or self._last_round
        self.take = _take_of(self.tune)
        self.take.start(next_zero_s)
        self._kept = self.new_kept(zero_s=0.0, swing=self.take.terms.swing)
        self._left_bars = 0
        self._pencil_left()

    def _follow(self, now_s: float) -> None:
        self.view.music.follow(self.take.position(now_s) if self.running else self._resume_at)

    @property
    def _resume_at(self) -> float:
        return self._resume_quarters if hasattr(self, "_resume_bar") else 0.0

    def _show_beat(self, now_s: float) -> None:
        """The count: in the count-in always, and throughout where no click is heard."""
        shown = self.sound.metronome.beat(now_s)
        heard = not self.sound.status and not self.sound.metronome.muted
        if shown is None or (heard and self.take.position(now_s) >= 0):
            self.view.beat = ""
            return
        meter = self.tune.passage.bars[0].meter
        beats = max(1, int(meter.bar_length / meter.beat_length))
        self.view.beat = str(int(shown[0].onset_quarters // meter.beat_length) % beats + 1)

    def _pencil_left(self) -> None:
        """Pencil what happened in the bars that have been left, and only there."""
        if self.at_sight:
            return
        passage, shown = self.tune.passage, self.take.shown
        judged = [
            (note, shown[note.n])
            for note in self.take.expected
            if note.note.heads[0].bar < self._left_bars and note.n in shown
        ]
        self.view.marks = [
            mark
            for note, verdict in judged
            for mark in marks_of(note, verdict, key=_key_at(passage, note), reading=passage.reading)
            if not isinstance(mark.mark, OffTime)
        ]
        clean = (note for note, verdict in judged if verdict.verdict in COUNTS_AS_CLEAN)
        self.view.mark_clean(frozenset(head for note in clean for head in note.note.heads))

    def device_lost(self, name: str, *, was_playing: bool) -> None:
        if was_playing and self.running:
            self.pause(self.around.clock.now_s())
            self.around.say(say("page.waits", device=name))
        else:
            super().device_lost(name, was_playing=was_playing)

    def _finished(self, now_s: float) -> ToResult | None:
        return self.judged(self.take.finish(now_s), self._kept, counted_from_s=0.0)

    def commanded(self, plucks: int, now_s: float) -> Destination | None:
        """One pluck of the free string pauses or goes on, three go slower."""
        if plucks == 1 and self.at_sight:
            self.begin()
            return None
        if plucks == 1:
            self.pause(now_s)
            return None
        return self.wish(Wish.SLOWER) if plucks == MOST_PLUCKS else super().commanded(plucks, now_s)

    def stop(self) -> ToResult | ToMarking | ToShelf:
        self.sound.metronome.stop()
        now_s = self.around.clock.now_s()
        unheard = self.around.settings.instrument is InstrumentKind.NO_PICKUP and not self.tune.one_a_click
        if unheard and self.take.over(now_s) and not self.take.heard_anything:
            return ToMarking(self.tune)
        return self._finished(self.around.clock.now_s()) or self._last_round or ToShelf()


def _take_of(tune: TakeRequest) -> TimedTake:
    assert tune.tempo_bpm is not None
    quarter_bpm = tune.tempo_bpm * float(tune.passage.bars[0].meter.beat_length)
    terms = TimedTerms(
        stage=tune.stage,
        tempo_bpm=tune.tempo_bpm,
        swing=default_swing(quarter_bpm) if tune.score.swung and not tune.one_a_click else STRAIGHT,
        one_a_click=tune.one_a_click,
        settling=tune.settling,
    )
    return TimedTake(tune.passage, tune.neck_map, terms)


def _key_at(passage: Passage, note: ExpectedNote) -> Key:
    return passage.bars[note.note.heads[0].bar].key
