"""How the instruments of a desk are listened to: what was found of each when it was set up."""

from typing import Annotated

import msgspec
from msgspec import Meta

from game.instrument.decoding.delay import MOST_CONSTANT_S, MOST_PERIODS, USUAL_PERIODS, Delay
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES
from game.instrument.ports.sound_input import USUAL_FLOOR_DB
from game.neck.tuning import FEWEST_STRINGS, MOST_STRINGS

# Ours: a desk has a handful of devices, and their names, as systems give them, are some tens of characters long.
MOST_DEVICES, LONGEST_DEVICE_NAME = 64, 200
MOST_SOUND_DELAY_MS = 600
"""A wireless loudspeaker takes half a second (trade), the way back in little more."""

MOST_SOUND_CHANNELS = 128
"""More than any audio interface of a desk has."""

# MIDI 1.0: channels 1 to 16.
_Channel = Annotated[int, Meta(ge=1, le=16)]
DeviceName = Annotated[str, Meta(max_length=LONGEST_DEVICE_NAME)]


class DeviceSettings(msgspec.Struct, frozen=True, kw_only=True):
    """How one device reports, as it was found by playing.

    `channels` are those of its four to eight strings from string 1 on, all different, None for a device that does not
    report strings.
    `bend_semitones` is its full bend (MIDI 1.0, RPN 0, can say 127 and 99 cents); `constant_ms` and `periods` its
    delay, the usual one until it is `calibrated`. A `keyboard` was known by its one channel: each key it tells of was
    played, however soft or short, where of a guitar that may be dirt.
    """

    channels: Annotated[tuple[_Channel, ...], Meta(min_length=FEWEST_STRINGS, max_length=MOST_STRINGS)] | None = None
    bend_semitones: Annotated[float, Meta(ge=0, le=128)] = USUAL_BEND_SEMITONES
    constant_ms: Annotated[float, Meta(ge=0, le=1000 * MOST_CONSTANT_S)] = 0.0
    periods: Annotated[float, Meta(ge=0, le=MOST_PERIODS)] = USUAL_PERIODS
    calibrated: bool = False
    keyboard: bool = False

    @property
    def delay(self) -> Delay:
        """What is taken out of the times of its notes."""
        return Delay(constant_s=self.constant_ms / 1000, periods=self.periods)


class MicrophoneSettings(msgspec.Struct, frozen=True, kw_only=True):
    """How one audio input is listened to, as it was found when it was set up.

    `channel` counts from 1; `delay_ms` is taken out of the times of notes; `floor_db` is the power against full scale
    under which nothing is a note. `headphones` where what the game plays cannot reach it; `set_up` once it was set up.
    """

    channel: Annotated[int, Meta(ge=1, le=MOST_SOUND_CHANNELS)] = 1
    delay_ms: Annotated[float, Meta(ge=0, le=MOST_SOUND_DELAY_MS)] = 0.0
    floor_db: Annotated[float, Meta(ge=-120, le=0)] = USUAL_FLOOR_DB
    headphones: bool = False
    set_up: bool = False
