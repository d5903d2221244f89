"""Eight bars each of real music, to set lines beside: songs out of music21's corpus, and files a caller has.

Of songs the last eight bars are taken, for fresh songs come to an end too; of solos any eight, whose last bar is not
looked at, for solos go on where fresh lines end. A file of solos is JSON,
a list of tunes with `id`, `key` (pitch class of the key note, "maj" or "min") and `notes` (onset and length in twelfths
of a quarter note, MIDI number, root and kind of chord as MusicXML names it, or null twice), all in 4/4.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from random import Random

from game.errors import TuneError
from game.music.meter import Meter
from game.music.score import Score
from game.music.written import written_out
from tests.bench.line_figures import BAR, BARS, Excerpt, Sounded, excerpt_of
from tests.tunes.by_abc2midi import corpus_tunes
from tests.tunes.read_here import read_here

_FEWEST_NOTES = 14
# A bar or two may be empty, no more.
_FEWEST_BARS = BARS - 2
_OF_ONE_SOLO = 3
# Of seven bars so many notes more or less are about the same.
_AS_DENSE = 3


def folk_songs(count: int) -> list[Excerpt]:
    """Songs of the Essen collection in 4/4, in an order of chance that is always the same."""
    songs = [(name, text) for name, text in corpus_tunes() if name.startswith("essen") and b"4/4" in text[:600]]
    Random(1).shuffle(songs)
    return list(_first(count, _endings(songs)))


def lead_sheets(folder: Path, count: int) -> list[Excerpt]:
    """The compressed MusicXML files of a folder that are in 4/4."""
    files = sorted(folder.rglob("*.mxl"))
    Random(1).shuffle(files)
    return list(_first(count, _endings((file.name, file.read_bytes()) for file in files)))


def solos(file: Path, count: int) -> list[Excerpt]:
    """Eight bars after eight bars of each solo without sixteenths, which lines have none of; at most three of one."""
    found = []
    for tune in json.loads(file.read_text(encoding="utf-8")):
        notes = [Sounded(*note) for note in tune["notes"]]
        parts = [part for start in range(0, notes[-1].onset // BAR, BARS) if _is_whole(part := _cut(notes, start))]
        Random(tune["id"]).shuffle(parts)
        even = [part for part in parts if all(note.onset % 12 in (0, 4, 6, 8) for note in part)]
        tonic, mode = tune["key"]
        found += [Excerpt(tuple(part), tonic, mode == "min", tune["id"]) for part in even[:_OF_ONE_SOLO]]
    Random(1).shuffle(found)
    return found[:count]


def without_last_bar(excerpt: Excerpt) -> Excerpt:
    """The notes that begin before the last of eight bars."""
    return replace(excerpt, notes=tuple(note for note in excerpt.notes if note.onset < (BARS - 1) * BAR))


def as_dense(real: Sequence[Excerpt], ours: Sequence[Excerpt]) -> tuple[list[Excerpt], list[Excerpt]]:
    """As many of either kind, in pairs of about the same number of notes: how dense a level is was settled, and solos
    without sixteenths are sparser than most.
    """
    left, found, beside = list(real), [], []
    for line in ours:
        near = min(left, key=lambda other: abs(len(other.notes) - len(line.notes)), default=None)
        if near is not None and abs(len(near.notes) - len(line.notes)) <= _AS_DENSE:
            left.remove(near)
            found.append(near)
            beside.append(line)
    return found, beside


def _cut(notes: Sequence[Sounded], start: int) -> list[Sounded]:
    first, stop = start * BAR, (start + BARS) * BAR
    return [
        Sounded(note.onset - first, note.ticks, note.midi, note.root, note.kind)
        for note in notes if first <= note.onset < stop
    ]  # fmt: skip


def _endings(sources: Iterable[tuple[str, bytes]]) -> Iterator[Excerpt]:
    for name, content in sources:
        try:
            score = written_out(read_here(content, name=name if "." in name else f"{Path(name).name}.abc"))
        except TuneError:
            continue
        excerpt = _ending(score, name)
        if excerpt is not None:
            yield excerpt


def _ending(score: Score, name: str) -> Excerpt | None:
    """The last eight bars of a tune in one metre and key, None of one that has no eight."""
    full = [bar for bar in score.bars if not bar.pickup]
    if len(full) < BARS or {bar.meter for bar in score.bars} != {Meter()} or len({bar.key for bar in full}) > 1:
        return None
    excerpt = excerpt_of(score, name, len(full) - BARS)
    return excerpt if _is_whole(excerpt.notes) else None


def _is_whole(notes: Sequence[Sounded]) -> bool:
    return len(notes) >= _FEWEST_NOTES and len({note.onset // BAR for note in notes}) >= _FEWEST_BARS


def _first(count: int, excerpts: Iterator[Excerpt]) -> Iterator[Excerpt]:
    yield from (excerpt for _, excerpt in zip(range(count), excerpts, strict=False))
