"""Makes the compact forms of the tunes we ship, and their shelf: `python -m game.tunes.library.shipped`.

Run it after a change to `content/tunes/*.musicxml`, the reader or the compact form, and commit what it
writes.
"""

from collections.abc import Iterator
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


def made_files(folder: Path) -> Iterator[tuple[Path, bytes]]:
    """What the tunes in `folder` come to today: the compact form of each and, last, the shelf. Writes
    nothing.
    """
    entries = []
    sources = sorted(folder.glob(f"*{SOURCE_ENDING}"))
    with ReadingProcess() as process:
        for path in sources:
            source = open_source(path)
            score = process.read(path)
            entries.append(
                entry_of(
                    score,
                    name=path.stem,
                    file_name=path.name,
                    provenance=f"{score.composer}. {source_named_in(checked_tree(source))}. CC0.",
                    is_shipped=True,
                )
            )
            yield folder / f"{path.stem}{TUNE_ENDING}", pack(score) + b"\n"
    yield folder / SHIPPED_INDEX, msgspec.json.format(msgspec.json.encode(entries), indent=1) + b"\n"


def main() -> None:
    """Write them all."""
    for path, content in made_files(shipped("content", "tunes")):
        path.write_bytes(content)
        print(f"{path.name}: {len(content):,} bytes")


if __name__ == "__main__":
    main()
