"""A tune that was entered, as a MusicXML file in the player's own folder: what stands on the shelf is read from it."""

import unicodedata
from dataclasses import replace
from pathlib import Path

from game.engraving.notation import musicxml
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_file import FOLDER
from game.tunes.entering.draft_score import draft_page
from game.tunes.library.library_files import write_whole

ENDING = ".musicxml"
_LONGEST_NAME = 60
_KEPT_SIGNS = " -_'(),"
# Names that Windows gives to devices, whatever their ending.
_DEVICES = frozenset({"con", "prn", "aux", "nul", *(f"{name}{n}" for name in ("com", "lpt") for n in range(1, 10))})


def as_musicxml(draft: Draft) -> str:
    """The tune as a file; bars that have no rhythm yet hold one note a beat. Raises `ValueError` for no notes."""
    score = draft_page(draft).score
    return musicxml(score.bars, score.reading, title=score.title, composer=score.composer, swung=score.swung)


def write_tune(folder: Path, draft: Draft) -> tuple[Path, Draft]:
    """Write the tune into the folder of its player: its file, and the draft that knows it. A tune of the same name that
    is another draft's keeps its file. Raises `TuneError` when the disk is full.
    """
    path = folder / FOLDER / (draft.kept_as or _free_name(folder / FOLDER, draft.title))
    write_whole(path, as_musicxml(draft).encode())
    return path, replace(draft, kept_as=path.name)


def _free_name(folder: Path, title: str) -> str:
    stem = file_stem(title)
    names = (f"{stem}{ENDING}" if number == 1 else f"{stem} {number}{ENDING}" for number in range(1, 10_000))
    return next(name for name in names if not (folder / name).exists())


def file_stem(title: str) -> str:
    """A title as the name of a file that every system takes: letters and digits of any language, and few signs."""
    plain = "".join(
        char if unicodedata.category(char)[0] in "LN" or char in _KEPT_SIGNS else " "
        for char in unicodedata.normalize("NFC", title)
    )
    stem = " ".join(plain.split())[:_LONGEST_NAME].strip()
    return f"{stem or 'tune'} tune" if not stem or stem.casefold() in _DEVICES else stem
