"""Sounding numbers spelled as a musician writes them: by key, and by where the line goes. Pure.

In the key, the key's own spelling; in the minor, raised sixth and seventh; else a note that rises a semitone is a
raised step, one that falls a semitone a lowered one, and what does neither is spelled nearest the key (trade). No
double accidentals, and no E♯, B♯, C♭ or F♭ that the key does not ask for.
"""

from collections.abc import Sequence

from game.music.keys import MAX_FIFTHS, Key, spelled
from game.music.pitch import SEMITONES_OF_STEP, STEPS, Pitch

_HARD = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
# How much a last note on the tonic speaks for a key, in quarter notes outside it.
_ENDS_ON_TONIC = 1.5
_MANY_SIGNS = 0.05


def spelled_line(numbers: Sequence[int], keys: Sequence[Key]) -> tuple[Pitch, ...]:
    """The spelling of each number, in the key that holds for it."""
    following = [*numbers[1:], None]
    line: list[Pitch] = []
    for number, after, key in zip(numbers, following, keys, strict=True):
        line.append(_spelled(number, line[-1] if line else None, after, key))
    return tuple(line)


def _spelled(number: int, before: Pitch | None, after: int | None, key: Key) -> Pitch:
    options = _options(number, key)
    own = next((pitch for pitch in options if pitch.alter == key.alter_of(pitch.step)), None)
    own = own or (_raised_in_minor(options, key) if key.minor else None)
    if own:
        return own
    by_line = _by_line(number, before, after, key)
    if by_line:
        return by_line
    plain = spelled(number, key)
    return plain if plain in options or not options else options[0]


def _by_line(number: int, before: Pitch | None, after: int | None, key: Key) -> Pitch | None:
    """A note outside the key by where it comes from and goes to; None when that says nothing."""
    options = _options(number, key)
    if after is not None and abs(after - number) == 1:
        sharpened = after > number
        for pitch in options:
            against = pitch.alter - key.alter_of(pitch.step)
            if (against > 0) == sharpened and against:
                return pitch
    if before is not None and before.alter and abs(before.midi - number) <= 2:
        # A step from one raised note to the next: one kind of sign for both.
        for pitch in options:
            if pitch.alter == before.alter and abs(pitch.staff_step - before.staff_step) == 1:
                return pitch
    return None


def _options(number: int, key: Key) -> list[Pitch]:
    """Spellings of a number with at most one sign, the hard ones only where the key has them."""
    options = []
    for step in STEPS:
        for alter in (0, 1, -1):
            octave, rest = divmod(number - alter - SEMITONES_OF_STEP[step], 12)
            asked = alter == key.alter_of(step) or (step, alter) not in _HARD
            if rest == 0 and asked:
                options.append(Pitch(step, alter, octave - 1))
    return options


def _raised_in_minor(options: Sequence[Pitch], key: Key) -> Pitch | None:
    tonic = STEPS.index(key.name[0])
    sixth, seventh = STEPS[(tonic + 5) % 7], STEPS[(tonic + 6) % 7]
    for pitch in options:
        if pitch.step in (sixth, seventh) and pitch.alter == key.alter_of(pitch.step) + 1:
            return pitch
    return None


def guessed_key(numbers: Sequence[int], lengths: Sequence[float]) -> Key:
    """The key whose scale leaves least outside; a last note on the tonic counts, and fewer signs where all is equal."""
    if not numbers:
        return Key()
    keys = [Key(fifths, minor=minor) for minor in (False, True) for fifths in range(-MAX_FIFTHS, MAX_FIFTHS + 1)]
    return min(keys, key=lambda key: (_outside(numbers, lengths, key), key.minor))


def _outside(numbers: Sequence[int], lengths: Sequence[float], key: Key) -> float:
    scale = {(SEMITONES_OF_STEP[step] + key.alter_of(step)) % 12 for step in STEPS}
    tonic = (SEMITONES_OF_STEP[key.name[0]] + key.alter_of(key.name[0])) % 12
    # A melody in the minor raises its seventh as often as not.
    allowed = scale | {(tonic - 1) % 12} if key.minor else scale
    lost = sum(length for number, length in zip(numbers, lengths, strict=True) if number % 12 not in allowed)
    ends = _ENDS_ON_TONIC if numbers[-1] % 12 == tonic else 0.0
    return round(lost - ends + _MANY_SIGNS * abs(key.fifths), 6)
