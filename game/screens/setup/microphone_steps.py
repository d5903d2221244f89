"""The steps in which a microphone is set up: two quiet seconds, the level, the open strings. Each goes on by what it
hears, and by Enter. The last, the delay, is `delay_of_sound`.
"""

from typing import ClassVar, Protocol

from game.instrument.decoding.played import NoteStarted
from game.instrument.listening.input_level import LevelCheck, LevelWord, hear_level
from game.instrument.listening.noise_floor import NoiseFloor, QuietCheck, hear_quiet
from game.instrument.listening.string_tuning import hear_silence, hear_tone, new_tuning_check
from game.player.instrument_setup import too_low_to_hear
from game.screens.context import ScreenContext
from game.screens.setup.microphone_kept import keep_of_microphone, microphone_kept
from game.text.catalogue import as_sentence, say, tell

SETTLING_S = 0.8
"""The hand reaches the strings, and what the keys were heard as has died away."""

LOOKED_AT_S = 1.5
"""What came of a step stays in sight so long before the next."""

_NOTHING_AFTER_S = 5.0


class MicrophoneStep(Protocol):
    """One step. `name` is what it is called in the catalogue."""

    name: ClassVar[str]

    @property
    def done(self) -> bool:
        """Whether the next may begin."""
        ...

    @property
    def words(self) -> str:
        """What to do now."""
        ...

    @property
    def outcome(self) -> str:
        """What came of it, in a few words; empty before that."""
        ...

    @property
    def advice(self) -> str:
        """What should be mended, or is worth knowing; empty for nothing."""
        ...

    def tick(self, now_s: float) -> None:
        """Time has passed."""
        ...

    def hear(self, event: NoteStarted) -> None:
        """A note was heard."""
        ...


class QuietStep:
    """Two quiet seconds: the noise that is always there, and below which nothing is a note."""

    name: ClassVar[str] = "quiet"

    def __init__(self, context: ScreenContext, microphone: str) -> None:
        self._context, self._microphone = context, microphone
        self.check = QuietCheck()
        self.found: NoiseFloor | None = None
        self._begins_s: float | None = None
        self.lasted_s = 0.0

    @property
    def done(self) -> bool:
        return self.found is not None

    @property
    def words(self) -> str:
        return say("mic.quiet.disturbed" if self.check.disturbed else "mic.quiet")

    @property
    def outcome(self) -> str:
        return say("mic.quiet.found", level=self.found.rms_db) if self.found else ""

    @property
    def advice(self) -> str:
        if self.found is None:
            return ""
        if self.found.loud:
            return say("mic.quiet.loud")
        return say("mic.quiet.hums", share=self.found.hum_share) if self.found.hums else ""

    def hear(self, event: NoteStarted) -> None:
        """A note is a sound as any other."""

    def tick(self, now_s: float) -> None:
        level = self._context.devices.microphone.level
        if level is None or self.found is not None:
            return
        if self._begins_s is None:
            self._begins_s = now_s + SETTLING_S
        if now_s < self._begins_s:
            return
        self.check = hear_quiet(self.check, at_s=now_s, rms_db=level.rms_db, hum_db=level.hum_db)
        self.lasted_s, self.found = self.check.lasted_s(now_s), self.check.found(now_s)
        if self.found is not None:
            keep_of_microphone(self._context, self._microphone, floor_db=self.found.floor_db)


class LevelStep:
    """Playing, until it has been loud enough for a while."""

    name: ClassVar[str] = "level"

    def __init__(self, context: ScreenContext, microphone: str) -> None:
        self._context, self._microphone = context, microphone
        self.check = LevelCheck(floor_db=microphone_kept(context, microphone).floor_db)
        self.word = LevelWord.NOTHING
        self._began_s: float | None = None
        self._waits_long = False

    @property
    def done(self) -> bool:
        return self.check.done

    @property
    def words(self) -> str:
        if self.word is LevelWord.NOTHING and self._waits_long:
            if self._context.devices.microphone.channels_of(self._microphone) == 1:
                return say("mic.level.nothing_at_all")
            return say("mic.level.still_nothing", channel=microphone_kept(self._context, self._microphone).channel)
        return say(f"mic.level.{self.word.value}")

    @property
    def outcome(self) -> str:
        return say("mic.level.found", level=self.check.peak_db) if self.done else ""

    @property
    def advice(self) -> str:
        return ""

    def hear(self, event: NoteStarted) -> None:
        """A note is a sound as any other."""

    def other_channel(self) -> None:
        """Another channel is listened to: what was heard so far is not it."""
        self.check = LevelCheck(floor_db=self.check.floor_db)
        self._began_s, self._waits_long, self.word = None, False, LevelWord.NOTHING

    def tick(self, now_s: float) -> None:
        level = self._context.devices.microphone.level
        if self._began_s is None:
            self._began_s = now_s
        if level is not None and not self.done:
            self.check = hear_level(self.check, at_s=now_s, peak_db=level.peak_db, clipped=level.clipped)
            self.word = self.check.word(now_s)
        self._waits_long = not self.check.good_s and now_s - self._began_s > _NOTHING_AFTER_S


class StringsStep:
    """The open strings, in any order: how far each is out of tune. It blocks nobody."""

    name: ClassVar[str] = "strings"

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self.check = new_tuning_check(context.settings.tuning_as_it_sounds.open_strings)
        self._all_heard_s: float | None = None
        self.done = False

    @property
    def words(self) -> str:
        if self.check.all_heard:
            return say("mic.strings.all_heard" if self.check.out_of_tune else "mic.strings.in_tune")
        return say("mic.strings")

    @property
    def outcome(self) -> str:
        if not self.check.all_heard:
            return ""
        wanting = len(self.check.out_of_tune)
        return say("mic.strings.wanting", count=wanting) if wanting else say("mic.strings.found")

    @property
    def advice(self) -> str:
        too_low = too_low_to_hear(self._context.settings)
        if too_low is not None:
            return as_sentence(tell(too_low))
        strings = self.check.out_of_tune
        return say("mic.strings.tune", strings=tuple(map(str, strings))) if strings and self.check.all_heard else ""

    def hear(self, event: NoteStarted) -> None:
        """Strings are told by the tone that lasts."""

    def tick(self, now_s: float) -> None:
        tone = self._context.devices.microphone.tone
        if tone is None:
            self.check = hear_silence(self.check, at_s=now_s)
        else:
            self.check = hear_tone(self.check, at_s=now_s, pitch=tone.pitch, clarity=tone.clarity)
        if self.check.all_heard and self._all_heard_s is None:
            self._all_heard_s = now_s
        self.done = self._all_heard_s is not None and now_s - self._all_heard_s >= LOOKED_AT_S
