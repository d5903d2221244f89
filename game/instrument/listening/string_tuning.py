"""Open strings and how far each is out of tune, from the pitch that sounds. Pure.

Whichever string is plucked is told by its pitch: it is the nearest of the tuning. What sounds is taken once it has held
still for a moment, since a string goes sharp when it is plucked (trade).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median
from typing import Final

IN_TUNE_CENTS: Final = 5.0
"""Within it a string is in tune: a little less than the least difference that is heard between two tones one after the
other (about 5 to 6 cents, mem).
"""

# What dies away in noise is periodic to a lesser degree, and its pitch wanders by tens of cents (as heard).
_CLEAR: Final = 0.93
# Clear enough to be taken over what was taken before; less clear only where nothing better was heard (as measured:
# within 1.5 cents above it, in white noise).
_SURE: Final = 0.97
_HOLDS_S, _STEADY_CENTS = 0.3, 12.0
_FARTHEST_CENTS: Final = 250.0
_LOST_AFTER_S: Final = 0.25


@dataclass(frozen=True, slots=True)
class StringPitch:
    """A string, 1 the highest-sounding, and how many cents it is above its pitch; negative below."""

    string: int
    cents: float

    @property
    def in_tune(self) -> bool:
        """Whether it need not be tuned."""
        return abs(self.cents) <= IN_TUNE_CENTS


@dataclass(frozen=True, slots=True, kw_only=True)
class TuningCheck:
    """Strings heard so far. `open_strings` are MIDI numbers, string 1 first; `cents` what each was when it last held
    still, None before that, and `clarities` how clear it was then, 0 to 1; `now` the string that sounds, and `run` the
    pitches of it with their times and clarities.
    """

    open_strings: tuple[int, ...]
    cents: tuple[float | None, ...]
    clarities: tuple[float, ...]
    now: StringPitch | None = None
    run: tuple[tuple[float, float, float], ...] = ()

    @property
    def heard(self) -> int:
        """How many strings were heard."""
        return sum(cents is not None for cents in self.cents)

    @property
    def all_heard(self) -> bool:
        """Whether every string was."""
        return self.heard == len(self.open_strings)

    @property
    def out_of_tune(self) -> tuple[int, ...]:
        """The strings that were heard and are to be tuned, 1 the highest-sounding."""
        return tuple(
            string
            for string, cents in enumerate(self.cents, start=1)
            if cents is not None and not StringPitch(string, cents).in_tune
        )


def new_tuning_check(open_strings: Sequence[int]) -> TuningCheck:
    """No string heard yet."""
    return TuningCheck(
        open_strings=tuple(open_strings), cents=(None,) * len(open_strings), clarities=(0.0,) * len(open_strings)
    )


def hear_tone(check: TuningCheck, *, at_s: float, pitch: float, clarity: float) -> TuningCheck:
    """Take in the pitch that sounds, a MIDI number with its fraction. What is far from every open string, or hardly
    periodic, is none of them.
    """
    string = _nearest(check.open_strings, pitch) if clarity >= _CLEAR else None
    if string is None:
        return hear_silence(check, at_s=at_s)
    cents = 100 * (pitch - check.open_strings[string - 1])
    goes_on = (
        check.now is not None
        and check.now.string == string
        and abs(cents - check.now.cents) < _STEADY_CENTS
        and at_s - check.run[-1][0] < _LOST_AFTER_S
    )
    run = (*(check.run if goes_on else ()), (at_s, cents, clarity))
    run = tuple(one for one in run if at_s - one[0] <= _HOLDS_S + 0.05)
    shown = StringPitch(string, median(heard for _, heard, _ in run))
    clear = median(clarity for _, _, clarity in run)
    if not _holds(run) or clear < min(_SURE, check.clarities[string - 1]):
        return replace(check, now=shown, run=run)
    before, behind = slice(0, string - 1), slice(string, None)
    return replace(
        check,
        now=shown,
        run=run,
        cents=(*check.cents[before], shown.cents, *check.cents[behind]),
        clarities=(*check.clarities[before], clear, *check.clarities[behind]),
    )


def hear_silence(check: TuningCheck, *, at_s: float) -> TuningCheck:
    """Nothing sounds that is a string."""
    if check.now is None or (check.run and at_s - check.run[-1][0] < _LOST_AFTER_S):
        return check
    return replace(check, now=None, run=())


def _nearest(open_strings: tuple[int, ...], pitch: float) -> int | None:
    """The string that a pitch is likely meant to be; None where it is too far from all of them."""
    string = min(range(len(open_strings)), key=lambda number: abs(open_strings[number] - pitch))
    return string + 1 if 100 * abs(open_strings[string] - pitch) <= _FARTHEST_CENTS else None


def _holds(run: tuple[tuple[float, float, float], ...]) -> bool:
    """Whether the pitch has stood still for long enough."""
    cents = [heard for _, heard, _ in run]
    return len(run) >= 3 and run[-1][0] - run[0][0] >= _HOLDS_S - 0.06 and max(cents) - min(cents) <= _STEADY_CENTS
