"""Whether the channels of a guitar that nobody set up are its strings, as what it played tells. Pure.

A keyboard, and a program that makes MIDI of a guitar's sound, give every note to one channel: that of the first string,
as most guitars count. What sounds there below what the open string can is no note of that string.
"""

from dataclasses import dataclass

from game.instrument.decoding.messages import NoteOn, decode
from game.instrument.decoding.strings_setup import StringsSetup

BELOW_ANY_TUNING = 3
"""Semitones below an open string that a string let down does not explain: of tunings with their own names drop D and
DADGAD go down by two, and who plays all strings lower soon sounds a second channel (trade).
"""
SURE_AFTER = 8
"""So many notes on one channel are no line of a guitar that happens to stay on its first string."""


@dataclass(frozen=True, slots=True)
class ChannelsHeard:
    """The channels that notes came on, how many notes, and whether one was too low for the string of its channel."""

    channels: frozenset[int] = frozenset()
    notes: int = 0
    too_low: bool = False

    @property
    def are_no_strings(self) -> bool:
        """Whether all notes come on one channel, which cannot be a string's."""
        return self.too_low and len(self.channels) == 1

    @property
    def surely(self) -> bool:
        """Whether that was so for long enough to be kept."""
        return self.are_no_strings and self.notes >= SURE_AFTER


def with_message(heard: ChannelsHeard, message: bytes, setup: StringsSetup) -> ChannelsHeard:
    """What was heard, and one message more, as the driver delivered its bytes."""
    decoded = decode(message)
    if not isinstance(decoded, NoteOn):
        return heard
    string = setup.string_of(decoded.channel)
    too_low = string is not None and decoded.pitch <= setup.tuning.open_strings[string - 1] - BELOW_ANY_TUNING
    return ChannelsHeard(heard.channels | {decoded.channel}, heard.notes + 1, heard.too_low or too_low)
