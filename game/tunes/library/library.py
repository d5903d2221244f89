"""The shelf: the tunes we ship and the player's own, each kept in compact form so that it opens in
milliseconds.

A folder of the library holds, for each tune, `ID.tune.json` (compact form), `ID.entry.json` (what the shelf
shows) and `ID.original` (the file as it came). The ID is made from the content, the part and the reading: the
same file imported twice is one tune, and names out of files never become paths. Nothing here imports music21
until a file is added.
"""

from collections.abc import Container, Iterable, Iterator
from contextlib import suppress
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from game.errors import TuneError, reason_of
from game.message import verbatim
from game.music.order import order_of_play
from game.music.score import Reading, Score
from game.paths import shipped, user_data
from game.text.catalogue import in_english
from game.tunes.library.compact import pack, unpack
from game.tunes.library.library_files import keep_original, write_once, write_whole
from game.tunes.library.shelf_entry import ENTRY_FORM, ShelfEntry, entry_of, pairs_of, tune_name

if TYPE_CHECKING:
    from game.tunes.sandbox.kept_tune import KeptTune
    from game.tunes.sandbox.reading_process import ReadingProcess

TUNE_ENDING, ENTRY_ENDING, ORIGINAL_ENDING = ".tune.json", ".entry.json", ".original"
SHIPPED_INDEX = "shelf.json"


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
        raise TuneError("tune.library_file_unreadable", title=entry.title, reason=reason_of(fault)) from fault


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
        raise TuneError("tune.library_not_written", reason=reason_of(fault)) from fault


def _in_words(score: Score) -> Score:
    reason = verbatim(in_english(score.octave_reason)) if score.octave_reason else None
    return replace(score, octave_reason=reason, warnings=tuple(verbatim(in_english(said)) for said in score.warnings))


def with_pairs(entry: ShelfEntry, folder: Path | None = None) -> ShelfEntry:
    """The entry with the pairs of its notes, which are counted and kept where an older program left them out. A tune
    that cannot be read goes without.
    """
    if entry.pairs:
        return entry
    try:
        whole = replace(entry, pairs=pairs_of(open_entry(entry, folder)))
    except TuneError:
        return entry
    if not entry.shipped:
        with suppress(TuneError):
            path = (folder or library_folder()) / f"{entry.name}{ENTRY_ENDING}"
            write_whole(path, msgspec.json.encode(whole))
    return whole


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
