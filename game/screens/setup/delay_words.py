"""How far the measuring of the delay is, and what is said of it."""

from dataclasses import dataclass
from enum import Enum, auto

from game.instrument.listening.click_delay import ClickDelay
from game.instrument.listening.played_delay import PlayedDelay
from game.text.catalogue import say


class DelayStage(Enum):
    """Where the measuring is."""

    ASKS_HOW = auto()
    ASKS_HEADPHONES = auto()
    CLICKS = auto()
    PLUCKS = auto()
    REFUSED = auto()
    OVER = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class DelayState:
    """Where it is and what came of it. `sounds` is whether this computer sounds at all; `attempt` counts from 0 and
    rises where clicks were too soft, `wavered` is set once they came back unevenly; `plucks` counts those heard.
    `kept_ms` is the delay that is taken out of notes now, in milliseconds.
    """

    stage: DelayStage
    sounds: bool
    lowest_string: int
    attempt: int
    wavered: bool
    plucks: int
    measured: ClickDelay | None
    played: PlayedDelay | None
    kept_ms: float

    @property
    def words(self) -> str:
        """What to do now, or what came of it."""
        match self.stage:
            case DelayStage.ASKS_HOW:
                return say("mic.delay" if self.sounds else "mic.delay.silent")
            case DelayStage.ASKS_HEADPHONES:
                return say("mic.delay.headphones")
            case DelayStage.CLICKS:
                return self._while_listening()
            case DelayStage.PLUCKS:
                return say("delay.going", ordinal=say(f"ordinal.{self.lowest_string}"), count=self.plucks)
            case DelayStage.REFUSED:
                return self._refusal()
            case DelayStage.OVER:
                return self._found()

    @property
    def outcome(self) -> str:
        """What came of it in a few words; empty before it is over."""
        return say("mic.delay.kept", delay=self.kept_ms) if self.stage is DelayStage.OVER else ""

    @property
    def advice(self) -> str:
        """What protects the ears while something is asked; empty elsewhere."""
        if self.stage is DelayStage.ASKS_HOW and self.sounds:
            return say("mic.delay.advice")
        return say("mic.delay.care") if self.stage is DelayStage.ASKS_HEADPHONES else ""

    def _while_listening(self) -> str:
        if self.wavered:
            return say("mic.delay.wavered")
        return say("mic.delay.clicks" if self.attempt == 0 else "mic.delay.louder")

    def _refusal(self) -> str:
        if self.measured is None:
            return say("delay.unusable")
        assert self.measured.refused is not None
        return say(f"mic.delay.{self.measured.refused.value}", spread=1000 * self.measured.spread_s)

    def _found(self) -> str:
        if self.measured is not None:
            return say("mic.delay.found", delay=self.kept_ms, spread=1000 * self.measured.spread_s)
        if self.played is not None:
            return say("mic.delay.played", delay=self.kept_ms, spread=1000 * self.played.spread_s)
        return say("mic.delay.left", delay=self.kept_ms)
