"""What the fields of an ABC tune mean: keys and modes, metres, the default length (ABC 2.1). Pure."""

import re
from dataclasses import dataclass
from fractions import Fraction

from game.errors import TuneError
from game.message import Message
from game.music.keys import MAX_FIFTHS, Key
from game.music.meter import MAX_BEATS, UNITS, Meter

_KEY = re.compile(r"([A-G])([#b]?)\s*([A-Za-z]*)")
_ALTERED = re.compile(r"(\^\^|\^|__|_|=)([A-Ga-g])")
_ALTERS = {"^^": 2, "^": 1, "__": -2, "_": -1, "=": 0}
# Fifths from the major key on the same tonic, by the first three letters (ABC 2.1).
_MODES = {
    "maj": 0,
    "ion": 0,
    "": 0,
    "mix": -1,
    "dor": -2,
    "m": -3,
    "min": -3,
    "aeo": -3,
    "phr": -4,
    "loc": -5,
    "lyd": 1,
}
_MINOR = frozenset({"m", "min", "aeo"})
_TONICS = {letter: fifths for fifths, letter in enumerate("FCGDAEB", start=-1)}
_METER = re.compile(r"\(?([\d+ ]{1,20})\)?\s*/\s*(\d{1,3})")
_LENGTH = re.compile(r"(\d{1,3})\s*/\s*(\d{1,4})|1")


@dataclass(frozen=True, slots=True)
class KeyField:
    """A key as the field gives it: the signature, and the letters it alters beyond (or against) that signature.

    `usual` is False where the field's own accidentals make it no signature we write.
    """

    key: Key
    altered: tuple[tuple[str, int], ...] = ()

    def alter_of(self, step: str) -> int:
        """What the field does to an unmarked note."""
        return dict(self.altered).get(step, self.key.alter_of(step))

    @property
    def usual(self) -> bool:
        """Whether the signature alone says everything."""
        return not self.altered


def key_of(value: str) -> KeyField | None:
    """The key of a `K:` field, None where it names none (a clef alone, or nothing)."""
    words = value.strip()
    if words[:2] in {"HP", "Hp"}:
        # Bagpipe: F and C are sharp, shown or not.
        return KeyField(Key(2))
    if words.lower().startswith("none"):
        return KeyField(Key())
    found = _KEY.match(words)
    if found is None:
        return None
    tonic, sign, mode = found.groups()
    short = "m" if mode == "m" else mode.lower()[:3]
    if short not in _MODES:
        short, mode = "", ""
    fifths = _TONICS[tonic] + 7 * ((sign == "#") - (sign == "b")) + _MODES[short]
    if abs(fifths) > MAX_FIFTHS:
        # Nobody prints such a signature; a key that sounds the same would be spelled otherwise.
        return None
    key = Key(fifths, minor=short in _MINOR)
    rest = words[found.end() :]
    if re.search(r"\bexp\b", words):
        key = Key()
    altered = tuple((step.upper(), _ALTERS[sign]) for sign, step in _ALTERED.findall(rest)[:14])
    against = tuple((step, alter) for step, alter in altered if key.alter_of(step) != alter)
    return KeyField(_as_signature(key, against) or key, () if _as_signature(key, against) else against)


def _as_signature(key: Key, altered: tuple[tuple[str, int], ...]) -> Key | None:
    """The usual signature that alters just those letters, if there is one."""
    wanted = {step: dict(altered).get(step, key.alter_of(step)) for step in "ABCDEFG"}
    for fifths in range(-MAX_FIFTHS, MAX_FIFTHS + 1):
        signature = Key(fifths, minor=key.minor)
        if all(signature.alter_of(step) == alter for step, alter in wanted.items()):
            return signature
    return None


def meter_of(value: str, where: Message) -> Meter | None:
    """The metre of an `M:` field, None for `none`. Raises `TuneError` for one nobody can count, `where` it stands."""
    words = value.strip()
    if words.startswith("C|"):
        return Meter(2, 2)
    if words.startswith("C"):
        return Meter(4, 4)
    found = _METER.search(words)
    if found is None:
        return None
    beats = sum(int(part) for part in re.findall(r"\d+", found[1]))
    unit = int(found[2])
    if not 1 <= beats <= MAX_BEATS or unit not in UNITS:
        raise TuneError("abc.metre_out_of_range", where=where, beats=beats, unit=unit, most=MAX_BEATS)
    return Meter(beats, unit)


def unit_length_of(value: str, where: Message) -> Fraction:
    """The default length of an `L:` field in quarter notes. Raises `TuneError`."""
    found = _LENGTH.match(value.strip())
    length = Fraction(int(found[1]), int(found[2])) if found and found[1] and int(found[2]) else Fraction(1)
    if found is None or not Fraction(1, 512) <= length <= 1:
        raise TuneError("abc.unknown_default_length", where=where, length=value[:20])
    return 4 * length


def default_length(meter: Meter | None) -> Fraction:
    """Without `L:`, in quarter notes: a sixteenth where the metre is below 3/4, else an eighth (ABC 2.1)."""
    short = meter is not None and Fraction(meter.beats, meter.unit) < Fraction(3, 4)
    return Fraction(1, 4) if short else Fraction(1, 2)


def tuplet_ratio(actual: int, normal: int, meter: Meter) -> int:
    """How long `actual` notes last, in notes, when the sign does not say: three for two and so on (ABC 2.1)."""
    if normal:
        return normal
    by_count = {2: 3, 3: 2, 4: 3, 6: 2, 8: 3}
    return by_count.get(actual, 3 if meter.compound else 2)
