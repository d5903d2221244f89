"""How a guitar reports, found by playing: its open strings one after another, from the lowest to the highest. Pure.

A fold: from `SetUp()` of so many strings by `hear` and `pass_time` until `done`; `found_strings` then says what it came
to. The lowest string is asked for again at the end: an instrument that gives its channels to notes in turn is found out
by that.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from game.errors import InstrumentError, MapError
from game.instrument.decoding.channel import (
    FULL_BEND,
    INITIAL_CHANNEL,
    MPE_BEND_SEMITONES,
    Channel,
    announces_mpe,
    channel_after,
)
from game.instrument.decoding.messages import ControlChange, NoteOff, NoteOn, PitchBend, decode
from game.instrument.decoding.stamped import StampedMessage
from game.neck.tuning import STANDARD, Tuning, tuning_named

# A pluck counts when it has sounded so long: by then a first guess of the pickup is put right (ours).
_SOUNDS_S = 0.15
_SOFTEST = 16
# For so long after its pluck the slide is listened to.
_SLIDE_S = 1.2
SLIDE_SEMITONES = 2
# Full bends that devices are known for (MIDI 1.0 names 2; 12 and 24 are common practice).
BEND_RANGES = (2.0, 12.0, 24.0)


@dataclass(frozen=True, slots=True)
class HeardString:
    """What one open string came as."""

    string: int
    channel: int
    sounding: int


@dataclass(frozen=True, slots=True)
class _Pluck:
    channel: int
    number: int
    velocity: int
    on_s: float


@dataclass(frozen=True, slots=True)
class SetUp:
    """A set-up of `strings` strings under way. `heard` are those so far; `slide_bend` the farthest bend of the slide,
    None before it; `channels` what holds for each MIDI channel.
    """

    strings: int = STANDARD.strings
    heard: tuple[HeardString, ...] = ()
    pluck: _Pluck | None = None
    channels: tuple[Channel, ...] = (INITIAL_CHANNEL,) * 16
    is_mpe: bool = False
    slide_bend: int | None = None
    slide_over: bool = False

    @property
    def asked(self) -> int | None:
        """The open string that is asked for, None when all were heard: from the lowest up, then the lowest again."""
        missing = self.strings - len(self.heard)
        return missing or self.strings if missing >= 0 else None

    @property
    def wants_slide(self) -> bool:
        """Whether a slide of two frets on string 1 is asked for: where strings have channels of their own and the
        device did not say how far it bends.
        """
        if self.asked is not None or self.slide_over or not _channels_tell_strings(self):
            return False
        return self.channels[self.heard[self.strings - 1].channel - 1].range_semitones is None

    @property
    def done(self) -> bool:
        """Whether nothing more is asked for."""
        return self.asked is None and not self.wants_slide

    def back(self) -> "SetUp":
        """Ask for the string before once more."""
        return replace(self, heard=self.heard[:-1], pluck=None, slide_bend=None, slide_over=False)

    def without_slide(self) -> "SetUp":
        """Leave the slide out: a full bend is then taken for two semitones."""
        return replace(self, slide_over=True, slide_bend=None)


def hear(state: SetUp, stamped: StampedMessage) -> SetUp:
    """The set-up after a message."""
    message = decode(stamped.message)
    state = pass_time(state, stamped.at_s)
    if isinstance(message, ControlChange):
        return _controlled(state, message)
    if isinstance(message, NoteOn):
        return _plucked(state, message, stamped.at_s)
    if isinstance(message, NoteOff):
        pluck = state.pluck
        if pluck is not None and (pluck.channel, pluck.number) == (message.channel, message.pitch):
            return replace(state, pluck=None) if state.asked is not None else state
        return state
    if isinstance(message, PitchBend) and state.pluck is not None and state.wants_slide:
        return _slid(state, message)
    return state


def pass_time(state: SetUp, now_s: float) -> SetUp:
    """The set-up as time passes: a string that still sounds is taken."""
    pluck = state.pluck
    if pluck is None:
        return state
    if state.asked is not None and now_s - pluck.on_s >= _SOUNDS_S:
        heard = HeardString(state.asked, pluck.channel, pluck.number)
        return replace(state, heard=(*state.heard, heard), pluck=None)
    if state.wants_slide and now_s - pluck.on_s >= _SLIDE_S:
        return replace(state, pluck=None, slide_over=True)
    return state


def _plucked(state: SetUp, message: NoteOn, at_s: float) -> SetUp:
    pluck = state.pluck
    if message.velocity < _SOFTEST or state.done:
        return state
    if state.wants_slide:
        return _slide_begins(state, message, at_s)
    fresh = _Pluck(message.channel, message.pitch, message.velocity, at_s)
    if pluck is None:
        return replace(state, pluck=fresh)
    if message.channel == pluck.channel:
        # The pickup thinks again about the same pluck.
        return replace(state, pluck=replace(fresh, on_s=pluck.on_s))
    return replace(state, pluck=fresh) if message.velocity > pluck.velocity else state


def _slide_begins(state: SetUp, message: NoteOn, at_s: float) -> SetUp:
    first = state.heard[state.strings - 1]
    if message.channel != first.channel:
        return state
    if message.pitch == first.sounding:
        return state.without_slide()
    if state.pluck is not None and message.pitch != state.pluck.number:
        # The slide comes as notes: how far it bends does not matter.
        return state.without_slide()
    return replace(state, pluck=_Pluck(message.channel, message.pitch, message.velocity, at_s), slide_bend=0)


def _slid(state: SetUp, message: PitchBend) -> SetUp:
    assert state.pluck is not None
    if message.channel != state.pluck.channel:
        return state
    farthest = max(abs(message.bend), state.slide_bend or 0)
    return replace(state, slide_bend=farthest)


def _controlled(state: SetUp, message: ControlChange) -> SetUp:
    index = message.channel - 1
    was = state.channels[index]
    is_mpe = announces_mpe(was, message)
    channels = (*state.channels[:index], channel_after(was, message), *state.channels[index + 1 :])
    return replace(state, channels=channels, is_mpe=state.is_mpe if is_mpe is None else is_mpe)


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundStrings:
    """What the open strings came to. `channels` are those of its strings from string 1 on, None where the device does
    not report strings; `bend_semitones` its full bend, `bend_is_known` whether that was sent or measured; `is_mpe`
    whether the channels go to notes in turn.
    """

    channels: tuple[int, ...] | None
    tuning: Tuning
    bend_semitones: float
    bend_is_known: bool
    is_mpe: bool = False


def found_strings(state: SetUp, *, capo: int = 0) -> FoundStrings:
    """What a set-up that is done came to, played behind a `capo` at that fret: the tuning is that of the strings
    without it.

    Raises `InstrumentError` where the strings contradict each other: two of them on one channel, or not from the lowest
    to the highest.
    """
    if not state.done:
        raise InstrumentError("instrument.set_up_not_over")
    strings, again = state.heard[: state.strings], state.heard[state.strings]
    tuning = _tuning([heard.sounding - capo for heard in strings])
    is_mpe = state.is_mpe or (len({heard.channel for heard in strings}) > 1 and again.channel != strings[0].channel)
    bend, is_known = _bend_of(state, is_mpe=is_mpe)
    if is_mpe or not _channels_tell_strings(state):
        channels = None
        if not is_mpe and len({heard.channel for heard in strings}) > 1:
            raise _two_on_one(strings)
    else:
        channels = tuple(heard.channel for heard in reversed(strings))
    return FoundStrings(channels=channels, tuning=tuning, bend_semitones=bend, bend_is_known=is_known, is_mpe=is_mpe)


def capo_heard(found: Tuning, known: Tuning, capo: int) -> int | None:
    """The fret of the capo that makes of the `known` tuning what was found behind one at `capo`: all strings lie as
    far from it. 0 where it is not on; None where it explains nothing.
    """
    steps = {one - other for one, other in zip(found.open_strings, known.open_strings, strict=False)}
    if found.strings != known.strings or len(steps) != 1:
        return None
    fret = capo + steps.pop()
    return fret if fret >= 0 else None


def _channels_tell_strings(state: SetUp) -> bool:
    heard, count = state.heard, state.strings
    distinct = len({one.channel for one in heard[:count]}) == count
    return distinct and len(heard) > count and heard[count].channel == heard[0].channel


def _two_on_one(strings: Sequence[HeardString]) -> InstrumentError:
    for one, other in combinations(strings, 2):
        if one.channel == other.channel:
            return InstrumentError(
                "instrument.two_on_one_channel", string=one.string, other=other.string, channel=one.channel
            )
    raise AssertionError("no two strings share a channel")


def _tuning(soundings: Sequence[int]) -> Tuning:
    """The tuning with these open strings, from the lowest."""
    for index, (lower, upper) in enumerate(pairwise(soundings)):
        if upper <= lower:
            lower_string = len(soundings) - index
            raise InstrumentError("instrument.string_not_higher", string=lower_string - 1, lower_string=lower_string)
    try:
        return tuning_named(" ".join(map(str, soundings)))
    except MapError as error:
        raise InstrumentError("instrument.no_open_strings", fault=error) from error


def _bend_of(state: SetUp, *, is_mpe: bool) -> tuple[float, bool]:
    """The full bend in semitones, and whether it is known: sent by the device, or by the slide."""
    sent = state.channels[state.heard[state.strings - 1].channel - 1].range_semitones
    if sent is not None:
        return sent, True
    if is_mpe:
        return MPE_BEND_SEMITONES, False
    if not state.slide_bend:
        return BEND_RANGES[0], False
    measured = SLIDE_SEMITONES * FULL_BEND / state.slide_bend
    return min(BEND_RANGES, key=lambda semitones: abs(measured / semitones - 1)), True
