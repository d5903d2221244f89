"""Channels of the mixer that play the layers of one stream together: begun within one buffer of the card, so that what
is queued behind stays together to the sample.
"""

from collections.abc import Sequence
from typing import Protocol

from pygame import mixer


class MixerChannel(Protocol):
    """What is used of `pygame.mixer.Channel`. Each call may raise `pygame.error` once the mixer is gone."""

    def play(self, sound: mixer.Sound) -> None: ...
    def queue(self, sound: mixer.Sound) -> None: ...
    def get_queue(self) -> mixer.Sound | None: ...
    def get_busy(self) -> bool: ...
    def set_volume(self, value: float) -> None: ...
    def stop(self) -> None: ...


class ChannelGroup:
    """One channel a layer. All sounds that are handed over together are of one length. Each call may raise
    `pygame.error`.
    """

    def __init__(self, channels: Sequence[MixerChannel], gains: Sequence[float]) -> None:
        self._channels = tuple(channels)
        self._gains = list(gains[: len(channels)])
        self.together = True
        """False once a layer has run out before the next sound was queued behind it: it would go on late, or never."""

    @property
    def busy(self) -> bool:
        """Whether something is being played."""
        return self._channels[0].get_busy()

    @property
    def waiting(self) -> bool:
        """Whether something is queued behind what is being played."""
        return self._channels[0].get_queue() is not None

    def set_gain(self, layer: int, gain: float) -> None:
        """How loud a layer is, at once; nothing for a layer that this stream does not have."""
        if layer < len(self._channels):
            self._gains[layer] = gain
            self._channels[layer].set_volume(gain)

    def begin(self, primer: mixer.Sound, sounds: Sequence[mixer.Sound]) -> bool:
        """Play `primer`, which is shorter than a buffer, and the sounds behind it. Whether all begin with one buffer;
        where the card came between two of the calls, and when it began cannot be known, nothing is played.
        """
        for channel, sound, gain in zip(self._channels, sounds, self._gains, strict=True):
            channel.play(primer)
            channel.set_volume(gain)
            channel.queue(sound)
        self.together = self._all_wait()
        if not self.together:
            self.stop()
        return self.together

    def queue(self, sounds: Sequence[mixer.Sound]) -> None:
        """Queue the sounds behind those that are being played."""
        for channel, sound in zip(self._channels, sounds, strict=True):
            channel.queue(sound)
        self.together = self._all_wait()

    def _all_wait(self) -> bool:
        """Whether in each layer a sound waits behind one that is being played.

        pygame keeps for itself what a channel plays: where the card takes the end of a sound while `play` or `queue`
        is on its way, it may keep one that is over, and what is queued behind that is never begun. So both are asked,
        the queue first: what leaves it meanwhile is being played.
        """
        waiting = all(channel.get_queue() is not None for channel in self._channels)
        return waiting and all(channel.get_busy() for channel in self._channels)

    def play(self, sound: mixer.Sound) -> None:
        """Play the only layer from now on."""
        (channel,) = self._channels
        self.together = True
        channel.play(sound)
        channel.set_volume(self._gains[0])

    def stop(self) -> None:
        """Be silent at once."""
        for channel in self._channels:
            channel.stop()
            channel.stop()  # The first may let the queued sound begin.
