"""Open strings that ring along with another string, faintly and long, though nobody plucked them. Pure.

A string rings with one that shares partials with it: unisons, octaves, fifths and fourths in any octave (physics of
strings, mem). It does so while the other sounds, and far softer.
"""

from collections.abc import Iterable

from game.instrument.decoding.dirt import Limits, may_ring
from game.instrument.decoding.octave_jumps import OCTAVE
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.decoding.voice import Voice

_SHARING = frozenset({0, 5, 7})
# What rings along sounds at once; later it must be fainter still, for a hand may have played softly (ours).
_AT_ONCE_S, _FAINTEST = 0.120, 16
# A string that was played just now may be pulled off to its open pitch: then it must be another's ringing for certain.
_RESTED_S = 0.050
_STILL_RINGS_S = 0.050


def rings_along(
    voices: tuple[Voice, ...], channel: int, velocity: int, sounding: int, at_s: float, setup: StringsSetup
) -> bool:
    """Whether a note on the string of a channel is another string's ringing."""
    limits, string, own = setup.limits, setup.string_of(channel), voices[channel - 1]
    if velocity >= limits.unplucked or string is None:
        return False
    if own.sounding is not None:
        return False
    rested = own.told is None or own.gap_s(at_s) >= _RESTED_S
    others = (voices[other - 1] for other in setup.channels if other != channel)
    is_open = sounding == setup.tuning.open_strings[string - 1]
    return any(
        _makes_ring(voice, velocity, sounding, at_s, limits, is_open=is_open, rested=rested)
        for voice in _ringing(others, at_s)
    )


def _ringing(voices: Iterable[Voice], at_s: float) -> Iterable[Voice]:
    for voice in voices:
        if voice.told is not None and not voice.taken_back and voice.gap_s(at_s) < _STILL_RINGS_S:
            yield voice


def _makes_ring(
    voice: Voice, velocity: int, sounding: int, at_s: float, limits: Limits, *, is_open: bool, rested: bool
) -> bool:
    assert voice.told is not None
    loud = voice.told.note
    is_soon = at_s - voice.on_s < _AT_ONCE_S
    if not may_ring(velocity, loud.velocity, limits) or not (rested or is_soon):
        return False
    if loud.sounding == sounding:
        return True
    shares = (loud.sounding - sounding) % OCTAVE in _SHARING
    is_faintest = velocity < _FAINTEST
    return is_open and ((shares and (is_soon or is_faintest)) or (is_soon and is_faintest))
