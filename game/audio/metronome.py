"""The metronome: the clicks of a take as they are heard, bass and chords beside them, and the clock time at which its
music begins.

    metronome = Metronome(open_output())
    metronome.prepare(clicks_of(passage.bars, ClickSettings(tempo_bpm=72)))   # before the count-in
    onset_0_s = metronome.start(clock)                                        # once
    metronome.tick(clock.now_s())                                             # every frame

Without a sound device all of this works the same in silence; `status` says so.
"""

import time
from collections.abc import Callable, Iterator, Sequence

from pygame import mixer

from game.audio.accompaniment import AccompanimentNote
from game.audio.bass_and_chords import (
    ACCOMPANIMENT_LAYER,
    AccompanimentSounds,
    accompaniment_strikes,
    looped_notes,
)
from game.audio.beats import Click, ClickRow, click_shown
from game.audio.blocks import Strike
from game.audio.channel_group import MixerChannel
from game.audio.clicks import ClickSounds, click_blocks, click_sounds, onset_0_s, sample_of
from game.audio.output import (
    METRONOME_CHANNEL,
    TAKE_ACCOMPANIMENT_CHANNEL,
    USUAL_DELAY_S,
    SoundOutput,
    SoundStatus,
)
from game.audio.player import BlockPlayer
from game.clock import Clock
from game.music.clicking import ClickSound


def _metronome_channel() -> MixerChannel:
    return mixer.Channel(METRONOME_CHANNEL)


def _accompaniment_channel() -> MixerChannel:
    return mixer.Channel(TAKE_ACCOMPANIMENT_CHANNEL)


_SOFTEST = 10 ** (-6 / 40)
"""What a volume is multiplied by for who needs the click least: 6 dB softer, as volumes are squared (ours)."""


class Metronome:
    """`output_delay_s` is from the mixer to the ear, found by calibration; it counts only where something is heard.

    Each volume is 0 to 1.
    """

    def __init__(
        self,
        output: SoundOutput,
        *,
        volume: float = 1.0,
        accompaniment_volume: float = 1.0,
        output_delay_s: float = USUAL_DELAY_S,
        channel: Callable[[], MixerChannel] = _metronome_channel,
        accompaniment_channel: Callable[[], MixerChannel] = _accompaniment_channel,
    ) -> None:
        self._output = output
        self._player = BlockPlayer(output, channel, accompaniment_channel)
        self._band = AccompanimentSounds(output.rate)
        self._sounds: dict[ClickSound, ClickSounds] = {}
        self.click_sound = ClickSound.WOODEN
        """What is heard from the next take on that is prepared."""
        self._row: ClickRow | None = None
        self._looping = False
        self._onset_0_s: float | None = None
        self._volume, self._muted, self._softened = volume, False, 1.0
        self.output_delay_s = output_delay_s
        self._set_gain()
        self.set_accompaniment_volume(accompaniment_volume)

    @property
    def status(self) -> SoundStatus:
        """Whether it is heard, and can be trusted."""
        return self._player.status

    @property
    def lost(self) -> bool:
        """Whether the sound went away in this take."""
        return self._player.status is SoundStatus.LOST

    @property
    def drift(self) -> float:
        """Seconds the sound card falls behind the clock in a second; the clicks are kept beside the clock."""
        return self._player.drift

    @property
    def volume(self) -> float:
        """0 to 1, also while muted."""
        return self._volume

    @volume.setter
    def volume(self, volume: float) -> None:
        self._volume = volume
        self._set_gain()

    @property
    def muted(self) -> bool:
        """Whether the clicks go on unheard."""
        return self._muted

    @muted.setter
    def muted(self, muted: bool) -> None:
        self._muted = muted
        self._set_gain()

    def set_accompaniment_volume(self, volume: float) -> None:
        """0 to 1, at once; muting the clicks leaves it."""
        self._player.set_volume(volume, layer=ACCOMPANIMENT_LAYER)

    def set_raised(self, semitones: int) -> None:
        """How much higher bass and chords sound, from the next take on."""
        self._band.raised = semitones

    def _set_gain(self) -> None:
        self._player.set_volume(0.0 if self._muted else self._softened * self._volume)

    def prepare(
        self,
        row: ClickRow,
        *,
        looping: bool = False,
        accompaniment: Sequence[AccompanimentNote] = (),
        accompanied_again: bool = False,
        steadiness: float = 0.0,
    ) -> None:
        """Render the clicks of a take, and stop what was going on.

        `accompaniment` counts from onset 0 as the row does, and is heard once, however long the clicks go on, or each
        time again. The click is the softer the greater `steadiness` is, 0 to 1. Takes some tens of milliseconds, with
        an accompaniment some hundred: before the count-in, never in a take. Raises `AudioError` when the shipped sounds
        cannot be read.
        """
        if self.click_sound not in self._sounds:
            self._sounds[self.click_sound] = click_sounds(self._output.rate, self.click_sound)
        self._row, self._looping, self._onset_0_s = row, looping, None
        self._softened = _SOFTEST**steadiness
        self._set_gain()
        strikes = self._accompaniment_strikes(row, accompaniment, again=looping and accompanied_again)
        blocks = click_blocks(row, self._sounds[self.click_sound], self._output.rate, looping=looping, beside=strikes)
        self._player.prepare(blocks, layers=ACCOMPANIMENT_LAYER + 1 if accompaniment else 1)

    def _accompaniment_strikes(
        self, row: ClickRow, notes: Sequence[AccompanimentNote], *, again: bool
    ) -> Iterator[Strike]:
        if self._output.audible:
            self._band.make_ready(notes)
        heard = looped_notes(notes, row.loop_quarters) if again else notes
        return accompaniment_strikes(heard, self._band, lambda quarters: sample_of(row, quarters, self._output.rate))

    def start(self, clock: Clock, *, pause: Callable[[float], None] = time.sleep) -> float:
        """Begin with the lead-in and the count-in; returns the clock time at which onset 0 will be heard.

        Waits for the sound card to take the first buffer, 12 ms at most where it works.
        """
        assert self._row is not None, "prepare comes first"
        began_s = self._player.start(clock, pause=pause)
        delay_s = self.output_delay_s if self._player.playing else 0.0
        self._onset_0_s = began_s + float(onset_0_s(self._row)) + delay_s
        return self._onset_0_s

    def tick(self, now_s: float) -> None:
        """Once a frame, whatever the frame rate."""
        self._player.tick(now_s)

    def beat(self, now_s: float) -> tuple[Click, float] | None:
        """The click last due and the seconds since, by the clock: the visible beat, with sound or without."""
        if self._row is None or self._onset_0_s is None:
            return None
        return click_shown(self._row, now_s - self._onset_0_s, looping=self._looping)

    def finished(self, now_s: float) -> bool:
        """Whether the last bar is over; never in a loop."""
        if self._row is None or self._onset_0_s is None or self._looping:
            return False
        return now_s >= self._onset_0_s + self._row.end_s

    def stop(self) -> None:
        """Fall silent at once."""
        self._player.stop()
        self._row, self._onset_0_s = None, None

    def device_lost(self) -> None:
        """The sound device was taken away: the take goes on in silence, and `status` says so."""
        self._player.lose()
