"""Key signatures: which steps they alter, and plain spellings inside them."""

from dataclasses import dataclass

from game.music.pitch import SEMITONES_OF_STEP, STEPS, Pitch

ORDER_OF_SHARPS = "FCGDAEB"
MAX_FIFTHS = 7
_LINE_OF_FIFTHS = ORDER_OF_SHARPS
_MAJOR_TONICS = dict(zip(range(-7, 8), "Cb Gb Db Ab Eb Bb F C G D A E B F# C#".split(), strict=True))
_MINOR_TONICS = dict(zip(range(-7, 8), "Ab Eb Bb F C G D A E B F# C# G# D# A#".split(), strict=True))


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
    """The plainest spelling of a sounding number for a page in `key`, without double accidentals.

    It is the one nearest to the key on the line of fifths (F C G D A E B F♯ ...), counted from the key's own middle, D
    in C major: so C major gets F♯ and C♯ but B♭, E♭ and A♭ (trade). For charts and pencil marks; tunes keep the
    spelling they came with.
    """
    middle = _LINE_OF_FIFTHS.index("D") + key.fifths
    options = []
    for step in STEPS:
        for alter in (-1, 0, 1):
            octave, rest = divmod(midi - alter - SEMITONES_OF_STEP[step], 12)
            if rest == 0:
                distance = abs(_LINE_OF_FIFTHS.index(step) + 7 * alter - middle)
                against = alter > 0 if key.fifths <= 0 else alter < 0
                options.append((distance, against, Pitch(step, alter, octave - 1)))
    return min(options)[2]


def both_spellings(midi: int) -> tuple[Pitch, ...]:
    """The plain spellings of a MIDI number: its letter where it has one, else its sharp and its flat."""
    names = (
        (step, alter, divmod(midi - alter - SEMITONES_OF_STEP[step], 12)) for alter in (0, 1, -1) for step in STEPS
    )
    found = [Pitch(step, alter, octave - 1) for step, alter, (octave, rest) in names if rest == 0]
    return tuple(found[:1]) if found[0].alter == 0 else tuple(found)
