"""Makes the compact forms of the tunes we ship, and their shelf: `python -m game.tunes.library.shipped`.

Run it after a change to `content/tunes/*.musicxml`, the reader or the compact form, and commit what it
writes.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import msgspec

from game.paths import shipped
from game.tunes.library.compact import pack
from game.tunes.library.library import SHIPPED_INDEX, TUNE_ENDING, entry_of
from game.tunes.musicxml.checked_xml import checked_tree
from game.tunes.musicxml.parts import source_named_in
from game.tunes.sandbox.reading_process import ReadingProcess
from game.tunes.sandbox.tune_source import open_source

SOURCE_ENDING = ".musicxml"

RETIRED = frozenset(
    """
    08-study-three-to-the-step 09-study-sidelong 55-study-before-the-beat 56-study-minor-corners
    57-study-threes-among-eighths 58-study-three-flats-in-three 59-study-twelve-bars-in-f 60-study-down-the-stairs
    61-study-behind-the-bar-line 62-study-sevenths-falling 63-study-round-the-houses 64-study-every-half-step
    """.split()
)
"""Studies for which better ones stand in the book now. Their files stay, for those who practise them."""


def made_files(folder: Path) -> Iterator[tuple[Path, bytes]]:
    """What the tunes in `folder` come to today: the compact form of each and, last, the shelf. Writes
    nothing.
    """
    entries = []
    sources = sorted(folder.glob(f"*{SOURCE_ENDING}"), key=_place)
    with ReadingProcess() as process:
        for path in sources:
            source = open_source(path)
            score = process.read(path)
            entry = entry_of(
                score,
                name=path.stem,
                file_name=path.name,
                provenance=f"{score.composer}. {source_named_in(checked_tree(source))}. CC0.",
                is_shipped=True,
            )
            entries.append(replace(entry, retired=path.stem in RETIRED))
            yield folder / f"{path.stem}{TUNE_ENDING}", pack(score) + b"\n"
    yield folder / SHIPPED_INDEX, msgspec.json.format(msgspec.json.encode(entries), indent=1) + b"\n"


def _place(path: Path) -> tuple[int, str]:
    """Files are named by their number in the book."""
    number, _, name = path.stem.partition("-")
    return int(number), name


def main() -> None:
    """Write them all."""
    for path, content in made_files(shipped("content", "tunes")):
        path.write_bytes(content)
        print(f"{path.name}: {len(content):,} bytes")


if __name__ == "__main__":
    main()
