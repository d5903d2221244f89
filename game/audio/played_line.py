"""Notes to be heard: one on request, or lines, such as the take just made, or a tune with bass and chords."""

import heapq
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import cycle, pairwise

import pygame
from pygame import mixer

from game.audio.accompaniment import AccompanimentNote
from game.audio.bass_and_chords import ACCOMPANIMENT_LAYER, AccompanimentSounds, accompaniment_strikes
from game.audio.blocks import Block, Strike, Wave, blocks_of
from game.audio.channel_group import MixerChannel
from game.audio.output import (
    LINE_ACCOMPANIMENT_CHANNEL,
    LINE_CHANNEL,
    NOTE_CHANNELS,
    SoundOutput,
    SoundStatus,
    gain,
)
from game.audio.player import BlockPlayer
from game.audio.pluck import PluckedStrings, pen_touch
from game.clock import Clock

LEAD_IN_S = 0.1
_LOUDEST_VELOCITY = 127


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundedNote:
    """A note of a line: `onset_s` from the line's beginning, `sounding` a MIDI number, `velocity` 1 to 127."""

    onset_s: float
    sounding: int
    velocity: int = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedLine:
    """Notes in order of onset, each damped by the next."""

    notes: tuple[SoundedNote, ...]


def line_strikes(line: PlayedLine, strings: PluckedStrings) -> Iterator[Strike]:
    """The strikes of a line. Notes that no string of ours reaches (outside 21 to 108) are left out."""
    notes = [note for note in line.notes if strings.reaches(note.sounding)]
    samples = [round((LEAD_IN_S + note.onset_s) * strings.rate) for note in notes]
    damped: list[int | None] = [after if after > here else None for here, after in pairwise(samples)]
    for note, sample, damped_sample in zip(notes, samples, [*damped, None], strict=False):
        loudness = gain(note.velocity / _LOUDEST_VELOCITY)
        yield Strike(
            sample=sample,
            wave=strings.wave(note.sounding),
            left=loudness,
            right=loudness,
            damped_sample=damped_sample,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedAccompaniment:
    """Bass and chords beside lines, in quarter notes from where these begin, at a tempo in quarter notes a minute."""

    notes: tuple[AccompanimentNote, ...]
    quarter_bpm: Fraction

    def strikes(self, sounds: AccompanimentSounds) -> Iterator[Strike]:
        """Its strikes beside those of `line_strikes`."""
        lead_in = Fraction(LEAD_IN_S).limit_denominator(1000)
        return accompaniment_strikes(
            self.notes, sounds, lambda quarters: round((lead_in + quarters * 60 / self.quarter_bpm) * sounds.rate)
        )


def line_blocks(
    lines: Sequence[PlayedLine], strings: PluckedStrings, *, beside: Iterable[Strike] = ()
) -> Iterator[Block]:
    """Lines heard together, as blocks; onset 0 comes after `LEAD_IN_S`. `beside` are strikes of other layers."""
    rows = [line_strikes(line, strings) for line in lines]
    return blocks_of(heapq.merge(*rows, beside, key=lambda strike: strike.sample), rate=strings.rate)


def _line_channel() -> MixerChannel:
    return mixer.Channel(LINE_CHANNEL)


def _accompaniment_channel() -> MixerChannel:
    return mixer.Channel(LINE_ACCOMPANIMENT_CHANNEL)


class StringPlayer:
    """Plays single notes and lines at one volume, their accompaniment at another. In silence it does nothing."""

    def __init__(
        self,
        output: SoundOutput,
        *,
        volume: float = 1.0,
        accompaniment_volume: float = 1.0,
        channel: Callable[[], MixerChannel] = _line_channel,
        accompaniment_channel: Callable[[], MixerChannel] = _accompaniment_channel,
    ) -> None:
        self._output = output
        self._strings = PluckedStrings(output.rate)
        self._band = AccompanimentSounds(output.rate)
        self._player = BlockPlayer(output, channel, accompaniment_channel)
        self._note_channels = cycle(NOTE_CHANNELS)
        self._touch: Wave | None = None
        self._volume = volume
        self.volume = volume
        self.set_accompaniment_volume(accompaniment_volume)

    @property
    def volume(self) -> float:
        """0 to 1."""
        return self._volume

    @volume.setter
    def volume(self, volume: float) -> None:
        self._volume = volume
        self._player.set_volume(volume)

    def set_raised(self, semitones: int) -> None:
        """How much higher everything sounds, from the next line or note on."""
        self._strings.raised = self._band.raised = semitones

    def set_accompaniment_volume(self, volume: float) -> None:
        """0 to 1, at once."""
        self._player.set_volume(volume, layer=ACCOMPANIMENT_LAYER)

    @property
    def status(self) -> SoundStatus:
        """Whether it is heard."""
        return self._player.status

    @property
    def playing(self) -> bool:
        """Whether a line is being heard."""
        return self._player.playing

    @property
    def sounding(self) -> bool:
        """Whether anything of ours sounds now, a line or a note, as the card has it."""
        if not self._output.audible:
            return False
        try:
            return self._player.busy or any(mixer.Channel(number).get_busy() for number in NOTE_CHANNELS)
        except pygame.error:
            return False

    def make_ready(self, soundings: Sequence[int]) -> None:
        """Render strings beforehand, about 2 ms each, so that none is rendered in a take."""
        for sounding in set(soundings):
            self._strings.wave(sounding)

    def pluck(self, sounding: int, *, velocity: int = 80) -> None:
        """Sound a note now. `velocity` is 1 to 127. Raises `AudioError` outside 21 to 108."""
        wave = self._strings.wave(sounding)
        self._sound_now(wave, gain(velocity / _LOUDEST_VELOCITY))

    def touch(self) -> None:
        """The pen on the paper, now."""
        self._touch = pen_touch(self._output.rate) if self._touch is None else self._touch
        self._sound_now(self._touch, 1.0)

    def _sound_now(self, wave: Wave, loudness: float) -> None:
        if not self._output.audible:
            return
        try:
            # Of the mixer's own choice it might be the metronome's.
            channel = mixer.Channel(next(self._note_channels))
            channel.play(mixer.Sound(buffer=wave.repeat(2)))
            channel.set_volume(loudness * gain(self._volume))
        except pygame.error:
            self._player.lose()

    def play(
        self,
        lines: Sequence[PlayedLine],
        clock: Clock,
        *,
        accompaniment: PlayedAccompaniment | None = None,
        pause: Callable[[float], None] = time.sleep,
    ) -> float:
        """Play lines together from their beginning; returns the clock time of their onset 0, output delay apart."""
        beside = accompaniment.strikes(self._band) if accompaniment else iter(())
        layers = ACCOMPANIMENT_LAYER + 1 if accompaniment else 1
        self._player.prepare(line_blocks(lines, self._strings, beside=beside), layers=layers)
        return self._player.start(clock, pause=pause) + LEAD_IN_S

    def tick(self, now_s: float) -> None:
        """Once a frame."""
        self._player.tick(now_s)

    def stop(self) -> None:
        """End the line that is playing."""
        self._player.stop()

    def device_lost(self) -> None:
        """The sound device was taken away."""
        self._player.lose()
