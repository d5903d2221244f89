"""What the page prints, note by note: `python -m tests.bench.accidentals [FOLDER ...]`.

Over the tunes we ship and fresh lines of every level, or over the tunes in each FOLDER (.musicxml, .xml, .mxl, .abc,
.mid; of several parts or tunes the first): accidentals beside those of the `music21` library, where each difference is
a courtesy with a name (`tests/music/page_by_music21.py`), and the printed value of each event beside its length. Both
are to be right at every note.
"""

import argparse
import sys
import warnings
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from game.errors import TuneError
from game.lines.levels import LEVELS
from game.music.score import Bar
from game.tunes.library.library import open_entry, shipped_entries
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.lines.making import sample
from tests.music.page_by_music21 import printed_otherwise, unlike

_ENDINGS = frozenset({".musicxml", ".xml", ".mxl", ".abc", ".mid", ".midi"})
Page = tuple[str, Sequence[Bar]]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folders", nargs="*", type=Path)
    asked = parser.parse_args()
    warnings.simplefilter("ignore")
    if not asked.folders:
        return _pages("tunes we ship", _shipped()) + _pages("fresh lines", _lines())
    return sum(_pages(str(folder), _tunes(folder)) for folder in asked.folders)


def _shipped() -> Iterator[Page]:
    yield from ((entry.name, open_entry(entry).bars) for entry in shipped_entries())


def _lines() -> Iterator[Page]:
    for number, _ in enumerate(LEVELS, start=1):
        for key, meter, score in sample(number):
            yield f"level {number} in {key.name}, {meter.text}", score.bars


def _tunes(folder: Path) -> Iterator[Page]:
    files = [path for path in sorted(folder.rglob("*")) if path.suffix in _ENDINGS]
    with ReadingProcess() as process:
        for path in files:
            try:
                yield path.stem, read_tune(path, part=1, process=process).bars
            except TuneError as refused:
                print(f"        {path.stem} was refused: {refused.message.key}")


def _pages(name: str, pages: Iterator[Page]) -> int:
    """Tell what was found; returns how many notes are wrong."""
    told, wrong = Counter[str](), 0
    for title, bars in pages:
        told["pages"] += 1
        told["noteheads"] += sum(len(bar.notes) for bar in bars)
        for found in unlike(bars):
            told[found.courtesy or "NO NAME"] += 1
            if not found.courtesy:
                wrong += 1
                print(
                    f"        {title}: {_where(bars[found.bar], found.event)}, {'ours' if found.ours else 'its'} alone"
                )
        for bar in bars:
            for event in printed_otherwise(bar):
                wrong += 1
                print(f"        {title}: {_where(bar, bar.events.index(event))} lasts {event.length}, not as printed")
    print(f"{name}:")
    for what, number in told.items():
        print(f"{number:8,} {what}")
    print(f"{wrong:8,} wrong (target 0)")
    return wrong


def _where(bar: Bar, event: int) -> str:
    return f"bar {bar.number}, event {event + 1}"


if __name__ == "__main__":
    sys.exit(1 if main() else 0)
