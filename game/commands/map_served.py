"""How the tunes of `--for` are served: by one map, by the best map of each position, and by each position as it is."""

from collections.abc import Container, Sequence
from dataclasses import dataclass
from pathlib import Path

from game.commands.reading_progress import tell_progress
from game.commands.tunes_of_files import UnreadTune, tunes_of
from game.errors import TuneError
from game.music.at_reading import at_reading
from game.music.keys import Key, spelled
from game.music.melody import melody
from game.music.score import Reading
from game.neck.map_figures import MapFigures, figures_of
from game.neck.map_search import best_map, best_maps
from game.neck.melody_counts import MelodyCounts, melody_counts
from game.neck.neck_map import NeckMap
from game.text.clean_text import cleaned_name


@dataclass(frozen=True, slots=True, kw_only=True)
class TunesServed:
    """How some tunes are served: by the `own` map; by the `best` one of each position, the best first; and by each
    position as it is, `unmoved`: fewest notes without a home first, then fewest stretches.
    """

    own: MapFigures
    best: tuple[MapFigures, ...]
    unmoved: tuple[MapFigures, ...]


def counts_of(
    paths: Sequence[Path], read: Reading | None, homes: Container[int] = ()
) -> tuple[MelodyCounts, tuple[UnreadTune, ...]]:
    """The melodies in these files and folders, counted, and what was not read. As they sound at `read`, a page in
    another clef moved by octaves to where most notes are among `homes` (sounding MIDI numbers); None for each as it
    is. Raises `TuneError` when nothing was read, or there is no note.
    """
    scores, unread = tunes_of(paths, read, tell_progress)
    if not scores and len(unread) == 1:
        raise TuneError(unread[0].fault)
    if not scores and unread:
        raise TuneError("command.add.none_could_be_read", count=len(unread), fault=unread[0].fault)
    if not scores:
        raise TuneError("command.add.no_tune_files", name=cleaned_name(paths[0]))
    counts = melody_counts(melody(score if read is None else at_reading(score, read, homes)) for score in scores)
    if not counts.notes:
        raise TuneError("command.map.no_notes", name=cleaned_name(paths[0]))
    return counts, unread


def best_of_positions(neck_map: NeckMap, counts: MelodyCounts) -> tuple[MapFigures, ...]:
    """The best map of each position, on the neck and for the hand of `neck_map`. Raises `TuneError` where the neck has
    none of the notes.
    """
    best = best_maps(counts, tuning=neck_map.tuning, frets=neck_map.frets, reading=neck_map.reading, hand=neck_map.hand)
    if not best[0].on_map_share:
        strings = neck_map.tuning.open_strings
        ends = (min(strings), max(strings) + neck_map.frets, min(counts.counts), max(counts.counts))
        lowest, highest, low, high = (_written(sounding, neck_map.reading) for sounding in ends)
        raise TuneError("command.map.other_range", lowest=lowest, highest=highest, low=low, high=high)
    return best


def best_at(neck_map: NeckMap, position: int, counts: MelodyCounts) -> NeckMap:
    """The best map of one position, on the neck and for the hand of `neck_map`."""
    return best_map(
        counts,
        position,
        tuning=neck_map.tuning,
        frets=neck_map.frets,
        reading=neck_map.reading,
        hand=neck_map.hand,
    ).neck_map


def tunes_served(neck_map: NeckMap, counts: MelodyCounts, best: tuple[MapFigures, ...]) -> TunesServed:
    """How melodies are served by a map, and by the positions."""
    plain = (neck_map.remade(position=one.neck_map.position, choices={}, second=None) for one in best)
    unmoved = sorted(
        (figures_of(one, counts) for one in plain),
        key=lambda one: (-one.on_map_share, one.stretch_share, one.neck_map.position),
    )
    return TunesServed(own=figures_of(neck_map, counts), best=best, unmoved=tuple(unmoved))


def _written(sounding: int, reading: Reading) -> str:
    return spelled(sounding + 12 * reading.octaves_down, Key(0)).name
