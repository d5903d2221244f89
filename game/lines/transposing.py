"""A passage in another key inside the player's map: every interval kept, as it is spelled."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from game.lines.reordering import detached_bars
from game.lines.scale import is_rare_spelling
from game.music.chords import ChordSymbol
from game.music.keys import MAX_FIFTHS, Key
from game.music.passage import Passage
from game.music.pitch import STEPS, Pitch, pitch
from game.music.score import Bar, Event, Note
from game.neck.neck_map import NeckMap

# A move of at most a sixth, so that the passage stays in its part of the neck.
_FARTHEST = 9
# A key signature of more signs than this comes up only where the passage had as many.
_EASY_FIFTHS = 4


@dataclass(frozen=True, slots=True)
class Transposition:
    """A transposition: `steps` lines and spaces and `semitones` up (negative: down), and what it adds to `fifths`."""

    steps: int
    semitones: int
    fifths: int

    def pitch(self, before: Pitch) -> Pitch | None:
        """The pitch moved, None where it would need more than a double accidental."""
        octave, step = divmod(before.staff_step + self.steps, 7)
        bare = Pitch(STEPS[step], 0, octave)
        alter = before.midi + self.semitones - bare.midi
        return Pitch(bare.step, alter, octave) if abs(alter) <= 2 else None

    def name(self, before: str) -> str | None:
        """The root or bass of a chord moved, None where it would need a double accidental."""
        moved = self.pitch(pitch(f"{before}4"))
        return moved.name[:-1] if moved and abs(moved.alter) <= 1 else None


def transposed(passage: Passage, neck_map: NeckMap, rng: Random) -> tuple[tuple[Bar, ...], Key] | None:
    """The bars in another key and that key, None where no move keeps every note at a home.

    Outlying homes are used only for pitches that had them before. Keys with few signs come up more often.
    """
    bars = detached_bars(passage)
    found: list[tuple[Bar, ...]] = []
    for move in _moves():
        moved = tuple(new for bar in bars if (new := _moved(bar, move)))
        if len(moved) == len(bars) and _fits(moved, passage, neck_map):
            found.append(moved)
    if not found:
        return None
    chosen = rng.choices(found, [1 / (1 + abs(row[0].key.fifths)) for row in found])[0]
    return chosen, chosen[0].key


def in_other_keys(bars: Sequence[Bar]) -> tuple[tuple[Bar, ...], ...]:
    """The bars in each other key of at most four signs (or as many as they had) that they can be spelled in, within a
    sixth up or down.
    """
    moved = (tuple(new for bar in bars if (new := _moved(bar, move))) for move in _moves())
    return tuple(row for row in moved if len(row) == len(bars))


def _moves() -> list[Transposition]:
    """All moves to another key: along the circle of fifths, up or down."""
    moves = []
    for fifths in range(-6, 7):
        steps, semitones = 4 * fifths % 7, 7 * fifths % 12
        moves += [
            Transposition(steps + 7 * octaves, semitones + 12 * octaves, fifths)
            for octaves in (-1, 0)
            if fifths and abs(semitones + 12 * octaves) <= _FARTHEST
        ]
    return moves


def _moved(bar: Bar, move: Transposition) -> Bar | None:
    fifths = bar.key.fifths + move.fifths
    if abs(fifths) > max(_EASY_FIFTHS, abs(bar.key.fifths)) or abs(fifths) > MAX_FIFTHS:
        return None
    key = Key(fifths, bar.key.minor)
    events = [_moved_event(event, key, move) for event in bar.events]
    chords = [_moved_chord(chord, move) for chord in bar.chords]
    whole = [event for event in events if event]
    named = [chord for chord in chords if chord]
    if len(whole) < len(events) or len(named) < len(chords):
        return None
    return replace(bar, key=key, events=tuple(whole), chords=tuple(named))


def _moved_event(event: Event, key: Key, move: Transposition) -> Event | None:
    if not isinstance(event, Note):
        return event
    moved = move.pitch(event.pitch)
    if (
        moved is None
        or is_rare_spelling(moved.step, moved.alter, key)
        or abs(moved.alter) > max(1, abs(event.pitch.alter))
    ):
        return None
    return replace(event, pitch=moved)


def _moved_chord(chord: ChordSymbol, move: Transposition) -> ChordSymbol | None:
    root = move.name(chord.root) if chord.root else ""
    bass = move.name(chord.bass) if chord.bass else ""
    if root is None or bass is None:
        return None
    text = chord.text.removeprefix(chord.root)
    if chord.bass:
        text = f"{text.removesuffix(f'/{chord.bass}')}/{bass}"
    return replace(chord, root=root, bass=bass, text=root + text)


def _fits(bars: Sequence[Bar], passage: Passage, neck_map: NeckMap) -> bool:
    down = 12 * passage.reading.octaves_down
    before = {note.pitch.midi - down for bar in passage.bars for note in bar.notes}
    for sounding in {note.pitch.midi - down for bar in bars for note in bar.notes}:
        home = neck_map.home_of(sounding)
        if home is None or (home.outlying and sounding not in before):
            return False
    return True
