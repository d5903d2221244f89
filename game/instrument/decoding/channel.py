"""What holds for a channel besides its notes: bend, its range, the pedal, MPE. Pure.

MIDI 1.0: the range of the pitch bend is registered parameter 0, two semitones until it is sent; its data are
semitones and cents, or one up or down from what they were. By how much, MIDI 1.0 leaves open: devices mean a
semitone (trade), for few of them know cents. MPE 1.0: registered parameter 6 on channel 1 or 16 says that channels
are given to notes in turn, so that none stands for a string; they then bend by 48 semitones until told otherwise.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.messages import ControlChange
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES

FULL_BEND = 8192
_DATA_COARSE, _DATA_FINE = 6, 38
_DATA_STEPS = {96: 1, 97: -1}
_DATA = frozenset({_DATA_COARSE, _DATA_FINE, *_DATA_STEPS})
_WIDEST_SEMITONES = 127
_PARAMETER_FINE, _PARAMETER_COARSE = 100, 101
_OTHER_PARAMETER_FINE, _OTHER_PARAMETER_COARSE = 98, 99
_NO_PARAMETER = (127, 127)
_BEND_RANGE, _MPE = (0, 0), (0, 6)
MPE_MASTERS = (1, 16)
MPE_BEND_SEMITONES = 48.0
"""A full bend of a channel that MPE gives to notes (MPE 1.0)."""
SUSTAIN = 64
_PEDAL_DOWN = 64


@dataclass(frozen=True, slots=True)
class Channel:
    """`bend` is -8192 to 8191; `range_semitones` None until the device sends it; `pedal` whether the sustain
    pedal is down; `parameter` the registered parameter that data go to, (coarse, fine). `bent_s` is when the bend
    changed last, `bend_at_pluck` what it was when a note began.
    """

    bend: int = 0
    range_semitones: float | None = None
    pedal: bool = False
    parameter: tuple[int, int] = _NO_PARAMETER
    bent_s: float = 0.0
    bend_at_pluck: int = 0

    def bent(self, bend: int, at_s: float) -> "Channel":
        """The channel after a bend."""
        # Written out, for `dataclasses.replace` costs more than all the rest of a message.
        return Channel(bend, self.range_semitones, self.pedal, self.parameter, at_s, self.bend_at_pluck)

    def bent_semitones(self, usual_range: float) -> float:
        """How far the bend in force moves a pitch; `usual_range` where the device sent none."""
        if not self.bend:
            return 0.0
        return self.bend / FULL_BEND * (self.range_semitones or usual_range)


INITIAL_CHANNEL = Channel()


def channel_after(channel: Channel, change: ControlChange) -> Channel:
    """The channel after a control change that is about range or pedal; itself after any other."""
    if change.controller == SUSTAIN:
        return replace(channel, pedal=change.setting >= _PEDAL_DOWN)
    chosen = _chosen(channel.parameter, change)
    if chosen is not None:
        return replace(channel, parameter=chosen)
    if channel.parameter == _BEND_RANGE and change.controller in _DATA:
        return replace(channel, range_semitones=_ranged(channel, change))
    return channel


def announces_mpe(channel: Channel, change: ControlChange) -> bool | None:
    """Whether a control change turns MPE on (True) or off (False); None when it is not about that."""
    if channel.parameter != _MPE or change.controller != _DATA_COARSE or change.channel not in MPE_MASTERS:
        return None
    return change.setting > 0


def _chosen(parameter: tuple[int, int], change: ControlChange) -> tuple[int, int] | None:
    """The parameter that data go to after a change that chooses one, None after any other."""
    coarse, fine = parameter
    if change.controller == _PARAMETER_COARSE:
        return change.setting, fine
    if change.controller == _PARAMETER_FINE:
        return coarse, change.setting
    if change.controller in (_OTHER_PARAMETER_COARSE, _OTHER_PARAMETER_FINE):
        # One that is not registered: its data are none of ours.
        return _NO_PARAMETER
    return None


def _ranged(channel: Channel, change: ControlChange) -> float | None:
    """The range after its semitones or its cents were sent, or a step up or down; a range of nothing is none."""
    was = channel.range_semitones
    if change.controller in _DATA_STEPS:
        step = _DATA_STEPS[change.controller]
        semitones = min(_WIDEST_SEMITONES, (USUAL_BEND_SEMITONES if was is None else was) + step)
        return max(0.0, semitones) or None
    if change.controller == _DATA_FINE:
        return int(was or 0) + min(change.setting, 99) / 100 or None
    return float(change.setting) or None
