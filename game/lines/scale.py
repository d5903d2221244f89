"""The notes a line may use: a key's scale on the player's map, and chromatic neighbours spelled by where they go."""

from dataclasses import dataclass, field
from functools import lru_cache

from game.errors import TuneError
from game.music.clef import Clef
from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP, STEPS, Pitch
from game.neck.neck_map import NeckMap

FEWEST_NOTES = 8
# Spellings that only their own keys ask for (trade).
_RARE_SPELLINGS = {("E", 1), ("B", 1), ("C", -1), ("F", -1)}


@dataclass(frozen=True, slots=True)
class Scale:
    """A key on a map: `pitches` as written, rising; `written` the MIDI numbers that have a home; `clef` of the page."""

    key: Key
    pitches: tuple[Pitch, ...] = field(compare=False)
    written: frozenset[int]
    clef: Clef = field(default=Clef.TREBLE, compare=False)

    @property
    def tonic_step(self) -> str:
        """The letter of the key note."""
        return self.key.name[0]

    @property
    def tonic_class(self) -> int:
        """The pitch class of the key note."""
        return (SEMITONES_OF_STEP[self.tonic_step] + self.key.alter_of(self.tonic_step)) % 12

    @property
    def octaves(self) -> range:
        """The octaves its notes lie in."""
        return range(self.pitches[0].octave - 1, self.pitches[-1].octave + 2)

    def neighbour(self, target: Pitch, *, above: bool, semitones: int = 1) -> Pitch | None:
        """The chromatic neighbour that goes on to `target` by a semitone, or a whole tone, from the next line or space:
        B♮ under C, not C♭. None where it has no home, or no plain spelling.
        """
        return _neighbour(self.key, self.written, target, semitones if above else -semitones)


@lru_cache(maxsize=8192)
def _neighbour(key: Key, written: frozenset[int], target: Pitch, semitones: int) -> Pitch | None:
    octave, step = divmod(target.staff_step + (1 if semitones > 0 else -1), 7)
    bare = Pitch(STEPS[step], 0, octave)
    alter = target.midi + semitones - bare.midi
    if abs(alter) > 1 or bare.midi + alter not in written:
        return None
    return None if is_rare_spelling(bare.step, alter, key) else Pitch(bare.step, alter, octave)


def is_rare_spelling(step: str, alter: int, key: Key) -> bool:
    """Whether a note is E sharp, B sharp, C flat or F flat and the key does not ask for it."""
    return (step, alter) in _RARE_SPELLINGS and key.alter_of(step) != alter


def scale_of(key: Key, neck_map: NeckMap) -> Scale:
    """The key's notes that have homes on the map. Raises `TuneError` where there are too few for a line, or the key
    note is in no octave.
    """
    up = 12 * neck_map.reading.octaves_down
    written = frozenset(home.sounding + up for home in neck_map.homes)
    return _scale(key, written, neck_map.reading.clef)


@lru_cache(maxsize=64)
def _scale(key: Key, written: frozenset[int], clef: Clef) -> Scale:
    pitches = [
        pitch
        for octave in range(10)
        for step in STEPS
        if (pitch := Pitch(step, key.alter_of(step), octave)).midi in written
    ]
    if len(pitches) < FEWEST_NOTES:
        raise TuneError("lines.too_few_notes", count=len(pitches), key=key.name)
    if all(pitch.step != key.name[0] for pitch in pitches):
        raise TuneError("lines.no_key_note", key=key.name)
    pitches.sort(key=lambda pitch: pitch.staff_step)
    return Scale(key, tuple(pitches), written, clef)


def key_named(name: str) -> Key:
    """The key called "C", "F#", "Bb", or minor "Am". Raises `TuneError` for anything else."""
    for minor in (False, True):
        for fifths in range(-7, 8):
            if Key(fifths, minor).name == name:
                return Key(fifths, minor)
    raise TuneError("lines.unknown_key", given=name)
