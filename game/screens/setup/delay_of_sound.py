"""How late a guitar that is heard is told of: measured by clicks that the microphone hears back, or played.

What is measured is all that lies between when a click is due by our clock and when it is heard back, beyond what the
metronome has counted for the output already (`Metronome.output_delay_s`): the rest of the way out, the air, and the way
in. Whoever plays with the click they hear is late by just that. It is taken out of the times of notes that are heard by
this input (`MicrophoneSettings.delay_ms`), and nowhere else; the metronome's own count stays as it is. So the way out
is counted once, part of it there and the rest here, and what is kept holds for this loudspeaker and input together.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from game.audio.beats import ClickSettings, even_clicks
from game.instrument.decoding.calibration import MOST_PLUCKS, offsets_of
from game.instrument.decoding.played import NoteStarted
from game.instrument.listening.click_delay import (
    CLICKS,
    LATEST_S,
    ClickDelay,
    DelayRefusal,
    click_onsets_s,
    find_delay,
    measuring_click,
)
from game.instrument.listening.played_delay import PlayedDelay, enough_played, played_delay
from game.neck.tuning import tuning_named
from game.player.device_settings import MOST_SOUND_DELAY_MS
from game.screens.context import ScreenContext
from game.screens.setup.answered_beside import AnsweredBeside
from game.screens.setup.delay_words import DelayStage, DelayState
from game.screens.setup.microphone_kept import keep_of_microphone, microphone_kept

SHARES = (0.15, 0.4, 1.0)
"""How loud the clicks are beside the click that is set: softly first, and louder only where they were not heard."""

_RECORDED_ON_S = LATEST_S + 1.0
"""So long after the last click is recorded: the greatest delay that is looked for, and a second to spare."""

_GIVEN_UP_S = 6.0
"""A recording that is not there so long after the last click does not come any more (ours)."""

_BPM = 80
"""Of the click that is plucked along with (ours)."""
_INTERVAL_S = 60.0 / _BPM
AFTER_ASKING_S = 0.4
"""An open string that was plucked sooner after something was asked is no answer."""


@dataclass(frozen=True, slots=True)
class DelayChoice:
    """One of the ways on: the string whose open pluck chooses it, its words in the catalogue, what it does."""

    string: int
    word: str
    take: Callable[[], None]


class DelayStep:
    """The delay: how the click is heard is asked, then it is measured, or left."""

    name: ClassVar[str] = "delay"

    def __init__(self, context: ScreenContext, microphone: str) -> None:
        self._context, self._microphone = context, microphone
        self._open_strings = tuning_named(context.settings.tuning).open_strings
        self.stage = DelayStage.ASKS_HOW
        self.chosen = 0
        self._asked_s: float | None = None
        self._headphones = microphone_kept(context, microphone).headphones
        self._attempt, self._wavered = 0, False
        self._began_s = 0.0
        self._measuring: AnsweredBeside[ClickDelay] | None = None
        self.measured: ClickDelay | None = None
        self.played: PlayedDelay | None = None
        self._plucks_s: list[float] = []
        self._now_s = 0.0

    @property
    def done(self) -> bool:
        return self.stage is DelayStage.OVER

    @property
    def moving(self) -> bool:
        """Whether clicks are going on."""
        return self.stage in (DelayStage.CLICKS, DelayStage.PLUCKS)

    @property
    def choices(self) -> tuple[DelayChoice, ...]:
        """What can be chosen now, from above; none while it is measured."""
        lowest = self.lowest_string
        leave = DelayChoice(lowest - 2, "leave", self._leave)
        match self.stage:
            case DelayStage.ASKS_HOW if not self._context.devices.sound.sounds:
                return (DelayChoice(lowest, "leave", self._leave),)
            case DelayStage.ASKS_HOW:
                return (
                    DelayChoice(lowest, "loudspeaker", self._by_loudspeaker),
                    DelayChoice(lowest - 1, "headphones", self._by_headphones),
                    leave,
                )
            case DelayStage.ASKS_HEADPHONES:
                return (
                    DelayChoice(lowest, "held", self._measure),
                    DelayChoice(lowest - 1, "plucked", self._pluck),
                    leave,
                )
            case DelayStage.REFUSED:
                again = self._pluck if self.played is not None else self._measure
                return (
                    DelayChoice(lowest, "again", again),
                    DelayChoice(lowest - 1, "otherwise", self._ask_anew),
                    leave,
                )
            case _:
                return ()

    @property
    def lowest_string(self) -> int:
        """The number of the lowest string."""
        return len(self._open_strings)

    @property
    def clicks_gone(self) -> int:
        """How many of the clicks that are heard back have sounded."""
        return sum(self._now_s >= self._began_s + onset_s for onset_s in click_onsets_s())

    @property
    def heard_back(self) -> bool:
        """Whether it was measured by clicks that come back, or is being measured so."""
        return self.stage is DelayStage.CLICKS or self.measured is not None

    @property
    def plucks(self) -> int:
        """How many plucks were heard."""
        return len(self._plucks_s)

    def take(self) -> None:
        """What is chosen."""
        if self.choices:
            self.choices[min(self.chosen, len(self.choices) - 1)].take()

    def hear(self, event: NoteStarted) -> None:
        """An open string chooses among what is asked; along with the click every note is a pluck."""
        if self.stage is DelayStage.PLUCKS:
            self._plucks_s.append(event.note.started_s)
            return
        if self._asked_s is None or event.note.started_s < self._asked_s + AFTER_ASKING_S:
            return
        for number, choice in enumerate(self.choices):
            if self.is_string(choice.string, event.note.sounding):
                self.chosen = number
                choice.take()
                return

    def is_string(self, string: int, sounding: int) -> bool:
        """Whether this is the open string; one that is out of tune may be heard as a semitone beside it."""
        return abs(sounding - self._open_strings[string - 1]) <= 1

    def choose(self, by: int) -> None:
        """The next or the one before of what can be chosen, round the end."""
        if self.choices:
            self.chosen = (min(self.chosen, len(self.choices) - 1) + by) % len(self.choices)

    def tick(self, now_s: float) -> None:
        self._now_s = now_s
        self._context.devices.sound.tick(now_s)
        if self._asked_s is None:
            self._asked_s = now_s
        if self.stage is DelayStage.CLICKS:
            self._wait_for_clicks(now_s)
        elif self.stage is DelayStage.PLUCKS:
            self._wait_for_plucks(now_s)

    def silence(self) -> None:
        """Nothing sounds any more; what was measured so far is given up."""
        self._context.devices.sound.stop()
        self._measuring, self._plucks_s = None, []
        if self.moving:
            self._ask(DelayStage.ASKS_HOW)

    def _ask(self, stage: DelayStage) -> None:
        self.stage, self.chosen, self._asked_s = stage, 0, None

    def _ask_anew(self) -> None:
        self.measured = self.played = None
        self._ask(DelayStage.ASKS_HOW)

    def _by_loudspeaker(self) -> None:
        self._headphones = False
        self._measure()

    def _by_headphones(self) -> None:
        self._headphones = True
        self._ask(DelayStage.ASKS_HEADPHONES)

    def _leave(self) -> None:
        self._end(microphone_kept(self._context, self._microphone).delay_ms)

    def _measure(self) -> None:
        self._attempt, self._wavered, self.measured, self.played = 0, False, None, None
        self._sound_clicks()

    def _sound_clicks(self) -> None:
        context, onsets_s = self._context, click_onsets_s()
        self.stage, self._measuring = DelayStage.CLICKS, None
        context.devices.microphone.record(onsets_s[-1] + _RECORDED_ON_S)
        share = SHARES[self._attempt]
        self._began_s = context.devices.sound.start_measuring(measuring_click, onsets_s, context.clock, share=share)

    def _wait_for_clicks(self, now_s: float) -> None:
        if self._measuring is not None:
            if self._measuring.there:
                self._judge(self._measuring.answer())
            return
        recorded = self._context.devices.microphone.recorded()
        if recorded is not None:
            due_s = tuple(self._began_s + onset_s - recorded.started_s for onset_s in click_onsets_s())
            self._measuring = AnsweredBeside(lambda: find_delay(recorded.samples, recorded.rate, due_s))
        elif now_s > self._began_s + click_onsets_s()[-1] + _GIVEN_UP_S:
            self._judge(ClickDelay(delay_s=None, spread_s=0.0, found=0, played=CLICKS, refused=DelayRefusal.CUT_SHORT))

    def _judge(self, measured: ClickDelay) -> None:
        self._measuring = None
        if measured.refused is DelayRefusal.NOT_HEARD and self._attempt < len(SHARES) - 1:
            self._attempt += 1
            self._sound_clicks()
            return
        if measured.refused is DelayRefusal.UNSTEADY and not self._wavered:
            # A single block that the system lost is enough for that.
            self._wavered = True
            self._sound_clicks()
            return
        self._context.devices.sound.stop()
        self.measured = measured
        if measured.delay_s is None:
            self._ask(DelayStage.REFUSED)
        else:
            self._end(1000 * measured.delay_s)

    def _pluck(self) -> None:
        self.measured = self.played = None
        self.stage, self._plucks_s = DelayStage.PLUCKS, []
        sound = self._context.devices.sound
        sound.metronome.prepare(even_clicks(MOST_PLUCKS + 1, ClickSettings(tempo_bpm=_BPM)))
        self._began_s = sound.start_clicks(self._context.clock)

    def _wait_for_plucks(self, now_s: float) -> None:
        clicks = int((now_s - self._began_s) / _INTERVAL_S + 0.5)
        if clicks < 2:
            return
        clicks_s = [self._began_s + number * _INTERVAL_S for number in range(clicks)]
        offsets_s = [pluck.offset_s for pluck in offsets_of(self._plucks_s, clicks_s, self._open_strings[-1])]
        if not (enough_played(offsets_s) or clicks >= MOST_PLUCKS):
            return
        self._context.devices.sound.stop()
        self.played = played_delay(offsets_s)
        if self.played.late_s is None:
            self._ask(DelayStage.REFUSED)
        else:
            # What is taken out of notes now is in the times of these already.
            kept_ms = microphone_kept(self._context, self._microphone).delay_ms
            self._end(kept_ms + 1000 * self.played.late_s)

    def _end(self, delay_ms: float) -> None:
        self.stage = DelayStage.OVER
        keep_of_microphone(
            self._context,
            self._microphone,
            delay_ms=min(max(0.0, delay_ms), MOST_SOUND_DELAY_MS),
            headphones=self._headphones,
            set_up=True,
        )

    @property
    def words(self) -> str:
        return self._state.words

    @property
    def outcome(self) -> str:
        return self._state.outcome

    @property
    def advice(self) -> str:
        return self._state.advice

    @property
    def _state(self) -> DelayState:
        return DelayState(
            stage=self.stage,
            sounds=self._context.devices.sound.sounds,
            lowest_string=self.lowest_string,
            attempt=self._attempt,
            wavered=self._wavered,
            plucks=self.plucks,
            measured=self.measured,
            played=self.played,
            kept_ms=microphone_kept(self._context, self._microphone).delay_ms,
        )
