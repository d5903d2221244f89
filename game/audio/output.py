"""The way out to the loudspeaker: opened after the first frame, silent where there is none, and said so."""

import os
from dataclasses import dataclass
from enum import Enum

import pygame
from pygame import AUDIO_ALLOW_FREQUENCY_CHANGE, mixer

from game.instrument.ports.quiet_stderr import quiet_standard_error

RATE, BUFFER_SAMPLES = 44100, 512
CHANNELS = 10
METRONOME_CHANNEL, LINE_CHANNEL = 0, 1
TAKE_ACCOMPANIMENT_CHANNEL, LINE_ACCOMPANIMENT_CHANNEL = 2, 3
NOTE_CHANNELS = range(4, CHANNELS)
"""For the metronome and for lines played back, for what accompanies each, and for single notes in turn."""

USUAL_DELAY_S = 0.012
"""From the mixer's call to sound with a buffer of 512 at 44,100 (measured); calibration replaces it."""

_SILENT_DRIVERS = ("dummy",)


class SoundStatus(Enum):
    """How it is with the sound. The values are names in the text catalogue; when it sounds nothing is to be said."""

    SOUNDING = "sounding"
    NO_DEVICE = "no_device"
    SILENT_DRIVER = "silent_driver"
    LOST = "lost"
    UNSTEADY = "unsteady"


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundOutput:
    """An opened output. `rate` in samples a second; `audible` whether anything can be heard."""

    rate: int = RATE
    audible: bool = False
    status: SoundStatus = SoundStatus.NO_DEVICE


def open_output(*, anew: bool = False) -> SoundOutput:
    """Open the sound device, or the silent driver where there is none. Never raises for want of a device.

    An output that is open already is kept when it fits, unless `anew`: after a device was lost or came back. Then
    make the metronome and the string player anew, too.
    """
    if anew or not _fits(mixer.get_init()):
        mixer.quit()
        try:
            _open()
        except pygame.error:
            return _open_silent()
    opened = mixer.get_init()
    assert opened is not None
    _share_channels()
    if os.environ.get("SDL_AUDIODRIVER") in _SILENT_DRIVERS:
        return SoundOutput(rate=opened[0], status=SoundStatus.SILENT_DRIVER)
    return SoundOutput(rate=opened[0], audible=True, status=SoundStatus.SOUNDING)


def _fits(opened: tuple[int, int, int] | None) -> bool:
    return opened is not None and opened[1:] == (-16, 2)


def _open() -> None:

    with quiet_standard_error():
        # The device's own rate is welcome, other formats than 16-bit stereo are not: SDL converts.
        mixer.init(RATE, -16, 2, BUFFER_SAMPLES, allowedchanges=AUDIO_ALLOW_FREQUENCY_CHANGE)


def _open_silent() -> SoundOutput:
    """So that everything else may go on as if there were sound. The environment is put back as it was."""
    asked = os.environ.get("SDL_AUDIODRIVER")
    os.environ["SDL_AUDIODRIVER"] = "dummy"
    try:
        _open()
        _share_channels()
    except pygame.error:
        pass  # Not even that: nothing of ours plays into an output that is not audible.
    finally:
        if asked is None:
            del os.environ["SDL_AUDIODRIVER"]
        else:
            os.environ["SDL_AUDIODRIVER"] = asked
    return SoundOutput(status=SoundStatus.NO_DEVICE)


def _share_channels() -> None:

    mixer.set_num_channels(CHANNELS)
    mixer.set_reserved(NOTE_CHANNELS.start)


def gain(volume: float) -> float:
    """The factor for a volume of 0 to 1, squared so that even steps are heard as about even (trade)."""
    return min(1.0, max(0.0, volume)) ** 2


def is_our_loss(which: int, *, is_capture: bool) -> bool:
    """Whether SDL's AUDIODEVICEREMOVED event (its `which` and `iscapture`) is about the device we play into.

    SDL 2 gives 0 there for a device that nobody had open.
    """
    return which != 0 and not is_capture
