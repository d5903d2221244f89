"""How a MIDI guitar reports: one string a channel (MIDI 1.0, mode 4), and what is to be made of it. Pure."""

from dataclasses import dataclass, field

from game.errors import InstrumentError
from game.instrument.decoding.delay import NO_DELAY, Delay
from game.instrument.decoding.dirt import USUAL_LIMITS, Limits
from game.instrument.decoding.played import OffNeck
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES
from game.message import message
from game.neck.tuning import DEFAULT_FRETS, MAX_FRETS, STANDARD, Place, Tuning

CHANNELS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class StringsSetup:
    """How a guitar reports: `channels[0]` is the channel (1 to 16) of string 1. None is named twice.

    `bend_semitones` is the range of a full pitch bend where the device does not send it; `delay` is taken out
    of the times of notes. `assumed` where nobody set the device up, and its channels may turn out to be no strings.
    """

    channels: tuple[int, ...] = (1, 2, 3, 4, 5, 6)
    tuning: Tuning = STANDARD
    frets: int = DEFAULT_FRETS
    bend_semitones: float = USUAL_BEND_SEMITONES
    limits: Limits = USUAL_LIMITS
    delay: Delay = NO_DELAY
    assumed: bool = False
    _strings: tuple[int | None, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        strings = len(self.tuning.open_strings)
        named = set(self.channels)
        if len(self.channels) != strings or len(named) != strings or not named <= set(range(1, CHANNELS + 1)):
            raise InstrumentError(
                "instrument.channels_not_different",
                strings=strings,
                channels=CHANNELS,
                given=tuple(self.channels) or (message("instrument.no_channels"),),
            )
        if not 1 <= self.frets <= MAX_FRETS:
            raise InstrumentError("instrument.no_such_neck", frets=self.frets, most=MAX_FRETS)
        strings_by_channel = tuple(
            self.channels.index(channel) + 1 if channel in self.channels else None for channel in range(CHANNELS + 1)
        )
        object.__setattr__(self, "_strings", strings_by_channel)

    def string_of(self, channel: int) -> int | None:
        """The string on a channel, None for a channel that carries no string."""
        return self._strings[channel]

    def placed(self, channel: int, sounding: int) -> tuple[Place | None, OffNeck | None]:
        """The place of a pitch on a channel's string; None and why where there is none."""
        string = self._strings[channel]
        if string is None:
            return None, OffNeck.NO_STRING
        fret = sounding - self.tuning.open_strings[string - 1]
        if fret < 0:
            return None, OffNeck.BELOW_STRING
        return (None, OffNeck.BEYOND_FRETS) if fret > self.frets else (Place(string, fret), None)


def channels_from(base_channel: int, *, low_string_first: bool = False, strings: int = 6) -> tuple[int, ...]:
    """The channels of strings 1 to `strings` counted up from `base_channel`, which goes to string 1.

    `low_string_first` gives the base channel to the lowest string instead. Raises `InstrumentError` where
    the count runs past channel 16.
    """
    highest_base = CHANNELS - strings + 1
    if not 1 <= base_channel <= highest_base:
        raise InstrumentError(
            "instrument.base_channel_too_high",
            base=base_channel,
            strings=strings,
            channels=CHANNELS,
            highest=highest_base,
        )
    channels = tuple(range(base_channel, base_channel + strings))
    return channels[::-1] if low_string_first else channels
