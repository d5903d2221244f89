"""Plays a stream of blocks on a mixer channel without a gap, and keeps it beside the clock. Each further layer of the
stream has a channel of its own, begun within the same buffer of the card and joined at the same samples, so that its
loudness is apart and its time is not.

Blocks are rendered before the stream starts, up to a bound of memory; of a longer stream another block is rendered
whenever one begins, in about a millisecond. Nothing here waits but `start`, for one buffer of the sound card,
before the count-in. Not to be imported before the first frame: it brings numpy.
"""

import time
from collections import deque
from collections.abc import Callable, Iterator, Sequence

import pygame
from pygame import mixer

from game.audio.blocks import GUARD_S, Block, render
from game.audio.channel_group import ChannelGroup, MixerChannel
from game.audio.drift import Lateness, correction, lateness_after
from game.audio.output import BUFFER_SAMPLES, SoundOutput, SoundStatus, gain
from game.clock import Clock

READY_BYTES = 16_000_000
"""A minute and a half of 16-bit stereo at 44,100."""

FIRST_BYTES = 4_000_000
"""What is rendered at once of a stream with several layers: the count-in and some bars."""

LOST_AFTER_S = 1.0
"""A block that lasts this much longer than it should is not being taken any more."""

PRIMER_SAMPLES = 64
"""The silence that goes first and tells when the card took it."""

_BYTES_A_SAMPLE = 4
_POLLS, _POLL_S = 5000, 0.0002
"""Counted, not timed: where the computer keeps the game waiting, it keeps the card waiting too."""

_TRIES = 20


class BlockPlayer:
    """One stream at a time, a channel for each of its layers. `now_s` is always on the clock that `start` was given."""

    def __init__(self, output: SoundOutput, *channels: Callable[[], MixerChannel]) -> None:
        self._output = output
        self._open_channels = channels
        self._status = output.status
        self._gains = [1.0] * len(channels)
        self._layers = 1
        self._blocks: Iterator[Block] = iter(())
        self._ready: deque[tuple[Block, tuple[mixer.Sound, ...]]] = deque()
        self._channels: ChannelGroup | None = None
        self._pause: Callable[[float], None] = time.sleep
        self._started_s = 0.0
        self._lateness = Lateness()
        self._sent_samples = 0
        self._queued_from: int | None = None
        self._queued: tuple[Block, tuple[mixer.Sound, ...]] | None = None
        self._waited_s = self._overdue_s = 0.0

    @property
    def status(self) -> SoundStatus:
        """What there is to say about the sound."""
        steady = self._lateness.keeps_time or self._status is not SoundStatus.SOUNDING
        return self._status if steady else SoundStatus.UNSTEADY

    @property
    def drift(self) -> float:
        """Seconds the sound card falls behind the clock in a second, as measured in this stream."""
        return self._lateness.drift

    @property
    def playing(self) -> bool:
        """Whether the stream is under way and handed to the card."""
        return self._channels is not None

    @property
    def busy(self) -> bool:
        """Whether the card plays the stream now. Raises `pygame.error` once the mixer is gone."""
        return self._channels is not None and self._channels.busy

    @property
    def ready_bytes(self) -> int:
        """What the rendered blocks take up, in all layers."""
        return sum((block.stop - block.start) * _BYTES_A_SAMPLE * len(sounds) for block, sounds in self._ready)

    def set_volume(self, volume: float, *, layer: int = 0) -> None:
        """0 (mute) to 1, at once."""
        self._gains[layer] = gain(volume)
        if self._channels is not None:
            try:
                self._channels.set_gain(layer, self._gains[layer])
            except pygame.error:
                self.lose()

    def prepare(self, blocks: Iterator[Block], *, layers: int = 1) -> None:
        """Take on a stream in place of the one before, and render as much of it as there is room for. Several layers
        take longer: of these the beginning, and the rest while they wait to be started, a block a frame.
        """
        self.stop()
        self._layers = layers
        self._status = self._output.status
        self._blocks = blocks
        self._lateness = Lateness(drifts=self._lateness.drifts)  # The card's clock is the one it was.
        try:
            while self.ready_bytes < (READY_BYTES if layers == 1 else FIRST_BYTES) and self._render_one():
                pass
        except pygame.error:
            self.lose()

    def start(self, clock: Clock, *, pause: Callable[[float], None] = time.sleep) -> float:
        """Begin, and return the clock time at which the mixer took sample 0.

        Waits until then: one buffer of the card (12 ms), or about a second where it takes nothing.
        """
        self._started_s = clock.now_s()
        if not self._ready:
            return self._started_s
        block, sounds = self._ready.popleft()
        try:
            opened = [channel() for channel in self._open_channels[: self._layers]]
            self._channels, self._pause = ChannelGroup(opened, self._gains), pause
            self._begin(self._channels, sounds)
            self._started_s = self._waited_s = clock.now_s()
            self._sent_samples = block.stop
            self._queue_next(self._channels, self._started_s, playing_samples=block.stop)
        except pygame.error:
            self.lose()
        return self._started_s

    def tick(self, now_s: float) -> None:
        """Once a frame: hand on the next block when the last one began, or get on with what was prepared."""
        try:
            if self._channels is not None:
                self._follow(self._channels, now_s)
            elif self.ready_bytes < READY_BYTES:
                self._render_one()
        except pygame.error:
            self.lose()

    def stop(self) -> None:
        """Fall silent at once; what was prepared is gone."""
        channels, self._channels = self._channels, None
        self._ready.clear()
        self._blocks, self._queued_from, self._queued = iter(()), None, None
        if channels is not None:
            try:
                channels.stop()
            except pygame.error:
                self._status = SoundStatus.LOST

    def lose(self) -> None:
        """The device was taken away: nothing more is heard of this stream, and that is said."""
        if self._output.audible:
            self.stop()
            self._status = SoundStatus.LOST

    def _begin(self, channels: ChannelGroup, sounds: Sequence[mixer.Sound]) -> None:
        """A breath of silence goes first: when the card takes it, the stream has begun."""
        primer = mixer.Sound(buffer=bytes(PRIMER_SAMPLES * _BYTES_A_SAMPLE))
        if not any(channels.begin(primer, sounds) for _ in range(_TRIES)):
            raise pygame.error("the sound card always came between")
        for _ in range(_POLLS):
            if not channels.waiting:
                return
            self._pause(_POLL_S)
        raise pygame.error("the sound card takes nothing")

    def _follow(self, channels: ChannelGroup, now_s: float) -> None:
        busy = channels.busy  # Asked first: once the mixer is closed this raises, where get_queue crashes.
        waiting = channels.waiting
        if busy and now_s > self._overdue_s:
            self.lose()
        elif self._queued_from is None:
            self._channels = channels if busy else None
        elif not channels.together:
            if self._queued is not None:
                self._ready.appendleft(self._queued)
            self._catch_up(channels, now_s)
        elif waiting:
            self._waited_s = now_s
        elif busy:
            self._see(self._queued_from, now_s)
            self._queue_next(channels, now_s, playing_samples=self._sent_samples - self._queued_from)
            if self.ready_bytes < READY_BYTES:
                self._render_one()
        else:
            self._catch_up(channels, now_s)

    def _see(self, begun_sample: int, now_s: float) -> None:
        """A block was seen to have begun. The card takes whole buffers, and took this one at the buffer's start."""
        taken_sample = begun_sample // BUFFER_SAMPLES * BUFFER_SAMPLES
        self._lateness = lateness_after(
            self._lateness,
            stream_s=taken_sample / self._output.rate,
            after_s=self._waited_s - self._started_s,
            before_s=now_s - self._started_s,
        )

    def _queue_next(self, channels: ChannelGroup, now_s: float, *, playing_samples: int) -> None:
        """Queue a block behind the one that began just now and lasts `playing_samples`."""
        self._waited_s = now_s
        self._overdue_s = now_s + playing_samples / self._output.rate + LOST_AFTER_S
        if not self._ready and not self._render_one():
            self._queued_from = None
            return
        self._queued = block, sounds = self._ready.popleft()
        rate = self._output.rate
        put_off = correction(
            self._lateness,
            due_sample=block.start,
            sent_samples=self._sent_samples,
            rate=rate,
            most_samples=round(GUARD_S * rate),
        )
        if put_off:
            sounds = self._sounds(block, start=block.start - put_off)
        channels.queue(sounds)
        self._queued_from = self._sent_samples
        self._sent_samples += block.stop - block.start + put_off

    def _catch_up(self, channels: ChannelGroup, now_s: float) -> None:
        """The game stood still for longer than a block, or what was queued is out of step: go on where the clock is by
        now, in silence up to the next block if that is still to come.
        """
        rate = self._output.rate
        here = round((now_s - self._started_s) * rate)
        while self._ready or self._render_one():
            block, _ = self._ready.popleft()
            if block.stop - here > BUFFER_SAMPLES:
                whole = tuple(strike for strike in block.strikes if strike.sample >= here)
                self._begin_again(channels, Block(start=here, stop=block.stop, strikes=whole))
                late = 0.0, BUFFER_SAMPLES / rate
                self._lateness = Lateness(anchor_s=here / rate, sighted=late, late=late, drifts=self._lateness.drifts)
                self._sent_samples = block.stop
                self._queue_next(channels, now_s, playing_samples=block.stop - here)
                return
        self._channels, self._queued_from = None, None

    def _begin_again(self, channels: ChannelGroup, block: Block) -> None:
        """One layer at once; several have to wait for the card, to begin together."""
        sounds = self._sounds(block)
        if len(sounds) == 1:
            channels.play(sounds[0])
        else:
            self._begin(channels, sounds)

    def _render_one(self) -> bool:
        block = next(self._blocks, None) if self._output.audible else None
        if block is None:
            return False
        # The primer stands in for the first samples of the stream.
        self._ready.append((block, self._sounds(block, start=block.start or PRIMER_SAMPLES)))
        return True

    def _sounds(self, block: Block, *, start: int | None = None) -> tuple[mixer.Sound, ...]:
        """The block in each of its layers."""
        rate = self._output.rate
        return tuple(
            mixer.Sound(buffer=render(block, rate=rate, start=start, layer=layer)) for layer in range(self._layers)
        )
