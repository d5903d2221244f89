"""Makes the compact forms of the tunes we ship, and their shelf: `python -m game.tunes.library.shipped`.

Run it after a change to `content/tunes/*.musicxml`, the reader or the compact form, and commit what it
writes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import msgspec

from game.music.tune_kind import TuneKind
from game.neck.neck_map import standard_map
from game.paths import shipped
from game.tunes.library.compact import pack
from game.tunes.library.library import SHIPPED_INDEX, TUNE_ENDING
from game.tunes.library.shelf_entry import ShelfEntry, entry_of
from game.tunes.library.tune_readiness import tune_readiness
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

BESIDE = {
    "90-study-the-neighbour-below": "71-wet-slate-dry-shoes",
    "91-study-round-the-target": "67-gravel-and-cream",
    "92-study-three-at-a-time": "81-the-last-boat-but-one",
    "93-study-one-note-more": "68-a-button-short",
    "94-study-the-thread": "85-sails-of-tracing-paper",
    "95-study-from-the-third-up": "75-elbows-on-the-tablecloth",
    "96-study-one-two-three-five": "88-the-ninth-stair-creaks",
    "97-study-the-half-steps-between": "72-tin-roof-arithmetic",
    "98-study-the-bent-dominant": "70-the-crooked-kettle",
    "99-study-dark-cadences": "79-the-light-over-the-sink",
    "100-study-say-it-lower": "73-biscuit-tin-parade",
    "101-study-an-eighth-too-late": "77-spoons-in-the-wrong-drawer",
}
"""The lead sheet each study stands beside: the one with most of what the study is about, counted note for note, or one
of the most in the same key. No head walks the bebop scale: that study stands beside the twelve bars it goes over.
"""


def made_files(folder: Path) -> Iterator[tuple[Path, bytes]]:
    """What the tunes in `folder` come to today: the compact form of each and, last, the shelf in the order of the book.
    Writes nothing.
    """
    entries = []
    sources = sorted(folder.glob(f"*{SOURCE_ENDING}"), key=lambda path: _number(path.stem))
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
            entries.append(replace(entry, retired=path.stem in RETIRED, beside=BESIDE.get(path.stem, "")))
            yield folder / f"{path.stem}{TUNE_ENDING}", pack(score) + b"\n"
    yield folder / SHIPPED_INDEX, msgspec.json.format(msgspec.json.encode(in_order(entries)), indent=1) + b"\n"


def in_order(entries: Sequence[ShelfEntry]) -> tuple[ShelfEntry, ...]:
    """The order of the book: by difficulty on the map everybody begins with, a study not before the tune it stands
    beside. What has left the book comes last. Of two alike the one that is in the book for longer comes first.
    """
    neck_map = standard_map()
    own = {entry.name: tune_readiness(entry, neck_map).difficulty for entry in entries}
    return tuple(
        sorted(
            entries,
            key=lambda entry: (
                entry.retired,
                max(own[entry.name], own.get(entry.beside, 0.0)),
                entry.kind is TuneKind.STUDY,
                _number(entry.name),
            ),
        )
    )


def _number(name: str) -> int:
    """Files begin with the number under which they came into the book."""
    return int(name.partition("-")[0])


def main() -> None:
    """Write them all."""
    for path, content in made_files(shipped("content", "tunes")):
        path.write_bytes(content)
        print(f"{path.name}: {len(content):,} bytes")


if __name__ == "__main__":
    main()
