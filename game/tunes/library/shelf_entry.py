"""What the shelf shows of a tune: worked out once from its Score, and kept beside it. Pure."""

import hashlib
from collections import Counter
from collections.abc import Container
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

from game.music.at_reading import octaves_moved
from game.music.difficulty import chromatic_notes, difficulty, notes_a_beat
from game.music.melody import melody
from game.music.order import order_of_play
from game.music.score import Reading, Score
from game.music.tune_kind import TuneKind, tune_kind
from game.neck.melody_counts import MelodyCounts

# Raised when what the shelf shows of a tune grows.
ENTRY_FORM = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfEntry:
    """What the shelf shows of a tune, and where its compact form lies.

    `lowest` and `highest` are sounding MIDI numbers; `notes` counts noteheads of the page, graces apart; `plays` is the
    number of bars with repeats written out. `key` is a name such as "Bb" or "Dm"; `provenance` says where a shipped
    tune comes from, of an own one which tune it was made of. `difficulty` is that of the page
    (`game.music.difficulty`), the same for every map; `density` is in notes a beat, `chromatic` counts notes with an
    accidental, `counts` holds how often each sounding pitch is written. `pairs` are numbers in threes: a sounding
    pitch, the one after it, and how often that is played; 0 comes before the first note. `form` says which of these
    fields an entry has: older ones are made again. A tune that is `retired` has left the book: whoever opened it before
    keeps it. `kind` is what the page is to its reader; a study of the book stands `beside` the tune of that name, in
    which what it is about comes up.
    """

    name: str
    title: str
    composer: str
    part: str
    key: str
    fifths: int
    meter: str
    bars: int
    plays: int
    notes: int
    lowest: int
    highest: int
    file_name: str
    provenance: str = ""
    shipped: bool = False
    form: int = 0
    difficulty: float = 0.0
    density: float = 0.0
    chromatic: int = 0
    counts: tuple[tuple[int, int], ...] = ()
    pairs: str = ""
    reading: Reading = Reading.GUITAR
    sound_fixed: bool = False
    retired: bool = False
    kind: TuneKind = TuneKind.SONG
    beside: str = ""

    def sounding(self, reading: Reading, homes: Container[int] = ()) -> tuple[tuple[int, int], ...]:
        """`counts` for a player who reads at `reading`; `homes` are the pitches they play (`game.music.at_reading`)."""
        up = 12 * octaves_moved(self.counts, self.reading, reading, homes, sound_fixed=self.sound_fixed)
        return tuple((pitch + up, count) for pitch, count in self.counts)

    def melody(self, reading: Reading, homes: Container[int] = ()) -> MelodyCounts:
        """How often each pitch and each pair of neighbours sounds in order of play, for a player who reads at
        `reading` and has `homes`. An entry made before there were pairs has none: see `with_pairs`.
        """
        if not self.pairs:
            return MelodyCounts(dict(self.sounding(reading, homes)))
        up = 12 * octaves_moved(self.counts, self.reading, reading, homes, sound_fixed=self.sound_fixed)
        return _melody(self.pairs, up)


@lru_cache(maxsize=400)  # of all tunes that we ship, and of many more, on a map or two
def _melody(written: str, up: int) -> MelodyCounts:
    """What is written in `ShelfEntry.pairs`, so many semitones `up`."""
    numbers = [int(number) for number in written.split()]
    counts, pairs = Counter[int](), dict[tuple[int, int], int]()
    for before, after, count in zip(numbers[::3], numbers[1::3], numbers[2::3], strict=True):
        counts[after + up] += count
        if before:
            pairs[before + up, after + up] = count
    return MelodyCounts(dict(counts), pairs)


def entry_of(score: Score, *, name: str, file_name: str, provenance: str = "", is_shipped: bool = False) -> ShelfEntry:
    """What the shelf shows of `score`; a tune without a title goes by its file's name."""
    notes = [note for bar in score.bars for note in bar.notes if not note.grace]
    soundings = [note.pitch.midi - 12 * score.reading.octaves_down for note in notes]
    first = score.bars[0]
    return ShelfEntry(
        name=name,
        title=score.title or Path(file_name).stem or "Untitled",
        composer=score.composer,
        part=score.part,
        key=first.key.name,
        fifths=first.key.fifths,
        meter=first.meter.text,
        bars=len(score.bars),
        plays=len(order_of_play(score.bars)),
        notes=len(notes),
        lowest=min(soundings),
        highest=max(soundings),
        file_name=file_name,
        provenance=provenance,
        shipped=is_shipped,
        form=ENTRY_FORM,
        difficulty=round(difficulty(score.bars, score.reading).page_total, 2),
        density=round(notes_a_beat(score.bars, score.reading), 2),
        chromatic=chromatic_notes(score.bars, score.reading),
        counts=tuple(sorted(Counter(soundings).items())),
        pairs=pairs_of(score),
        reading=score.reading,
        sound_fixed=score.sound_fixed,
        kind=tune_kind(score),
    )


def pairs_of(score: Score) -> str:
    """The pairs of its notes in order of play, as `ShelfEntry.pairs` has them."""
    pairs = Counter(pairwise((0, *melody(score))))
    return " ".join(f"{before} {after} {count}" for (before, after), count in sorted(pairs.items()))


def tune_name(original: bytes, part: int | None, read: Reading | None) -> str:
    """Its name in the library: 24 hexadecimal digits, the same for the same content, part and reading."""
    choice = f"|{part or 1}|{read.value if read else ''}".encode()
    return hashlib.sha256(original + choice).hexdigest()[:24]
