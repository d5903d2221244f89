"""The shelf: the tunes we ship and the player's own, each kept in compact form so that it opens in
milliseconds.

A folder of the library holds, for each tune, `ID.tune.json` (compact form), `ID.entry.json` (what the shelf
shows) and `ID.original` (the file as it came). The ID is made from the content, the part and the reading: the
same file imported twice is one tune, and names out of files never become paths. Nothing here imports music21
until a file is added.
"""

import hashlib
from collections import Counter
from collections.abc import Container, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from game.errors import TuneError
from game.message import verbatim
from game.music.at_reading import octaves_moved
from game.music.difficulty import chromatic_notes, difficulty, notes_a_beat
from game.music.melody import melody
from game.music.order import order_of_play
from game.music.score import Reading, Score
from game.music.tune_kind import TuneKind, tune_kind
from game.neck.melody_counts import MelodyCounts
from game.paths import shipped, user_data
from game.text.catalogue import in_english
from game.tunes.library.compact import pack, unpack
from game.tunes.library.library_files import keep_original, write_once, write_whole

if TYPE_CHECKING:
    from game.tunes.sandbox.kept_tune import KeptTune
    from game.tunes.sandbox.reading_process import ReadingProcess

TUNE_ENDING, ENTRY_ENDING, ORIGINAL_ENDING = ".tune.json", ".entry.json", ".original"
SHIPPED_INDEX = "shelf.json"
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


def shelf(folder: Path | None = None) -> tuple[ShelfEntry, ...]:
    """Every tune there is: those we ship in their order, then the player's own by title.

    `folder` is the library to look in instead of the player's. An entry that is damaged is made again from
    its tune; one whose tune is damaged too is left off the shelf, and its files are left alone.
    """
    own = sorted(_own_entries(folder or library_folder()), key=lambda entry: (entry.title.casefold(), entry.name))
    return (*shipped_entries(), *own)


def offered(entries: Iterable[ShelfEntry], opened: Container[str]) -> tuple[ShelfEntry, ...]:
    """Those of the entries that are offered to a player who opened the ones with these names before."""
    return tuple(entry for entry in entries if not entry.retired or entry.name in opened)


def shipped_entries() -> tuple[ShelfEntry, ...]:
    """The tunes in `content/tunes`, in order of difficulty. Raises `TuneError` when the installation is
    damaged.
    """
    index = shipped("content", "tunes", SHIPPED_INDEX)
    try:
        return _entries_of(index.read_bytes())
    except (OSError, msgspec.MsgspecError) as fault:
        raise TuneError("tune.shipped_list_unreadable", fault=fault) from fault


@lru_cache(maxsize=1)  # asked for by every screen and plan, and always the same
def _entries_of(index: bytes) -> tuple[ShelfEntry, ...]:
    return msgspec.json.decode(index, type=tuple[ShelfEntry, ...])


def open_entry(entry: ShelfEntry, folder: Path | None = None) -> Score:
    """The tune of an entry. Raises `TuneError` when its file is gone or damaged."""
    home = shipped("content", "tunes") if entry.shipped else folder or library_folder()
    try:
        return unpack((home / f"{entry.name}{TUNE_ENDING}").read_bytes())
    except OSError as fault:
        raise TuneError("tune.library_file_unreadable", title=entry.title, reason=fault.strerror) from fault


def kept_score(name: str, folder: Path | None = None) -> Score | None:
    """The player's own tune of that name as it lies in the library; None where there is none, or a damaged one."""
    try:
        return unpack(((folder or library_folder()) / f"{name}{TUNE_ENDING}").read_bytes())
    except (OSError, TuneError):
        return None


def add(
    path: Path,
    *,
    part: int | None = None,
    read: Reading | None = None,
    folder: Path | None = None,
    process: "ReadingProcess | None" = None,
) -> ShelfEntry:
    """Read a tune file and keep it, with its original beside it. A tune that is there already stays as it is.

    `process` is a reading process to ask, for many files in a row.

    Raises `TuneError` (see `game.tunes.read_tune.read_tune`), also when the disk is full; the library is then
    as before.
    """
    home = folder or library_folder()
    kept = _read_to_keep(path, part, read, process)
    original = kept.original
    name = tune_name(original, part, read)
    entry = replace(kept.entry, name=name)
    keep_original(
        home / f"{name}{ORIGINAL_ENDING}", original, home / f"{tune_name(original, 1, read)}{ORIGINAL_ENDING}"
    )
    files = {
        ENTRY_ENDING: msgspec.json.encode(entry),
        # Last: a tune is in the library once this file is.
        TUNE_ENDING: kept.packed,
    }
    for ending, content in files.items():
        write_once(home / f"{name}{ending}", content)
    return entry


def _read_to_keep(path: Path, part: int | None, read: Reading | None, process: "ReadingProcess | None") -> "KeptTune":
    if process is not None:
        return process.read_to_keep(path, part=part, read=read)
    # Reading is not for drawing the shelf.
    from game.tunes.sandbox.reading_process import ReadingProcess  # noqa: PLC0415

    with ReadingProcess() as single:
        return single.read_to_keep(path, part=part, read=read)


def keep_variant(
    entry: ShelfEntry, score: Score, *, title: str, folder: Path | None = None
) -> tuple[ShelfEntry, Score]:
    """Keep a tune as it was changed, transposed or moved by an octave, beside the one it came from.

    Returns its entry and itself, titled anew. Raises `TuneError` when the disk is full.
    """
    score = replace(score, title=title)
    packed = pack(score)
    # By its English words: a variant that was kept when these were no messages yet is the same tune.
    name = tune_name(pack(_in_words(score)), None, None)
    made_of = ": ".join(filter(None, (entry.title, entry.provenance)))
    variant = entry_of(score, name=name, file_name=entry.file_name, provenance=made_of)
    home = folder or library_folder()
    write_once(home / f"{name}{ENTRY_ENDING}", msgspec.json.encode(variant))
    write_once(home / f"{name}{TUNE_ENDING}", packed)
    return variant, score


def keep_order(entry: ShelfEntry, score: Score, *, folder: Path | None = None) -> ShelfEntry:
    """Keep a tune of the player's own in the order of play that was chosen, in the place where it lies.

    Returns its entry as it is now. Raises `TuneError` when the disk is full; the tune is then as it was.
    """
    home = folder or library_folder()
    now = replace(entry, plays=len(order_of_play(score.bars)))
    write_whole(home / f"{entry.name}{TUNE_ENDING}", pack(score))
    write_whole(home / f"{entry.name}{ENTRY_ENDING}", msgspec.json.encode(now))
    return now


def withdraw(name: str, *, folder: Path | None = None) -> None:
    """Take a tune of the player's own off the shelf, where another stands for it now. What is not there is not missed.

    Raises `TuneError` when the disk will not.
    """
    home = folder or library_folder()
    try:
        # First: a tune is in the library as long as this file is.
        for ending in (TUNE_ENDING, ENTRY_ENDING, ORIGINAL_ENDING):
            (home / f"{name}{ending}").unlink(missing_ok=True)
    except OSError as fault:
        raise TuneError("tune.library_not_written", reason=fault.strerror) from fault


def _in_words(score: Score) -> Score:
    reason = verbatim(in_english(score.octave_reason)) if score.octave_reason else None
    return replace(score, octave_reason=reason, warnings=tuple(verbatim(in_english(said)) for said in score.warnings))


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
        pairs=_pairs_of(score),
        reading=score.reading,
        sound_fixed=score.sound_fixed,
        kind=tune_kind(score),
    )


def with_pairs(entry: ShelfEntry, folder: Path | None = None) -> ShelfEntry:
    """The entry with the pairs of its notes, which are counted and kept where an older program left them out. A tune
    that cannot be read goes without.
    """
    if entry.pairs:
        return entry
    try:
        whole = replace(entry, pairs=_pairs_of(open_entry(entry, folder)))
    except TuneError:
        return entry
    if not entry.shipped:
        with suppress(TuneError):
            path = (folder or library_folder()) / f"{entry.name}{ENTRY_ENDING}"
            write_whole(path, msgspec.json.encode(whole))
    return whole


def _pairs_of(score: Score) -> str:
    pairs = Counter(pairwise((0, *melody(score))))
    return " ".join(f"{before} {after} {count}" for (before, after), count in sorted(pairs.items()))


def tune_name(original: bytes, part: int | None, read: Reading | None) -> str:
    """Its name in the library: 24 hexadecimal digits, the same for the same content, part and reading."""
    choice = f"|{part or 1}|{read.value if read else ''}".encode()
    return hashlib.sha256(original + choice).hexdigest()[:24]


def library_folder() -> Path:
    """The player's library, which may not be there yet."""
    return user_data() / "library"


def _own_entries(folder: Path) -> Iterator[ShelfEntry]:
    for tune in folder.glob(f"*{TUNE_ENDING}"):
        name = tune.name.removesuffix(TUNE_ENDING)
        kept: ShelfEntry | None = None
        try:
            kept = msgspec.json.decode((folder / f"{name}{ENTRY_ENDING}").read_bytes(), type=ShelfEntry)
        except (OSError, msgspec.MsgspecError):
            kept = None
        entry = kept if kept is not None and kept.form >= ENTRY_FORM else _entry_made_again(tune, name, kept)
        if entry:
            yield entry


def _entry_made_again(tune: Path, name: str, kept: ShelfEntry | None) -> ShelfEntry | None:
    """The entry of a tune whose own is damaged or from an older program; it is kept, if the disk will."""
    try:
        entry = entry_of(unpack(tune.read_bytes()), name=name, file_name=kept.file_name if kept else name)
    except (OSError, TuneError, ValueError):
        return kept
    if kept:
        entry = replace(entry, title=kept.title, provenance=kept.provenance)
    with suppress(TuneError):
        write_whole(tune.with_name(f"{name}{ENTRY_ENDING}"), msgspec.json.encode(entry))
    return entry
