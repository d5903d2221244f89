"""Key signatures: which steps they alter, and plain spellings inside them."""

from dataclasses import dataclass

from game.music.pitch import SEMITONES_OF_STEP, STEPS, Pitch

ORDER_OF_SHARPS = "FCGDAEB"
MAX_FIFTHS = 7
_MAJOR_TONICS = {fifths: name for fifths, name in zip(range(-7, 8), "Cb Gb Db Ab Eb Bb F C G D A E B F# C#".split(), strict=True)}
_MINOR_TONICS = {fifths: name for fifths, name in zip(range(-7, 8), "Ab Eb Bb F C G D A E B F# C# G# D# A#".split(), strict=True)}


@dataclass(frozen=True, slots=True)
class Key:
    """A key signature. `fifths` counts sharps, or flats when negative (MusicXML `fifths`), -7 to 7.

    `minor` is only a name: the signature is the same.
    """

    fifths: int = 0
    minor: bool = False

    def __post_init__(self) -> None:
        if abs(self.fifths) > MAX_FIFTHS:
            raise ValueError(f"a key signature has at most seven sharps or flats, not {self.fifths}")

    def alter_of(self, step: str) -> int:
        """What the signature does to `step`: 1 sharp, -1 flat, 0 nothing."""
        place = ORDER_OF_SHARPS.index(step)
        if self.fifths > 0:
            return 1 if place < self.fifths else 0
        return -1 if 6 - place < -self.fifths else 0

    @property
    def name(self) -> str:
        """ASCII name of the key: "Bb", or "Am" in the minor."""
        return _MINOR_TONICS[self.fifths] + "m" if self.minor else _MAJOR_TONICS[self.fifths]


def spelled(midi: int, key: Key) -> Pitch:
    """A plain spelling of a sounding number for a page in `key`: diatonic where it can be, else sharps in sharp
    keys and flats in flat keys. For the names on a map chart; tunes keep the spelling they came with.
    """
    options = []
    for step in STEPS:
        for alter in (-1, 0, 1):
            octave, rest = divmod(midi - alter - SEMITONES_OF_STEP[step], 12)
            if rest == 0:
                options.append(Pitch(step, alter, octave - 1))
    leaning = 1 if key.fifths >= 0 else -1

    def strangeness(option: Pitch) -> tuple[bool, bool, bool]:
        diatonic = option.alter == key.alter_of(option.step)
        return (not diatonic, option.alter not in (0, leaning), option.alter != 0)

    return min(options, key=strangeness)
