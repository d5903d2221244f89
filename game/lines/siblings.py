"""Siblings of a passage: the same notes to practise, but not the passage that is known by heart.

Three ways: its bars in another order, transposed inside the map, or a fresh line of the same kind.
"""

from collections.abc import Callable, Container
from enum import Enum
from random import Random

from game.errors import TuneError
from game.lines.fingerprint import fingerprints
from game.lines.fresh_line import fresh_line
from game.lines.likeness import nearest_level, nearest_rhythm
from game.lines.reordering import renumbered, reordered
from game.lines.titles import sibling_title, title_told
from game.lines.transposing import transposed
from game.message import Message, message
from game.music.keys import Key
from game.music.passage import Passage
from game.music.score import Bar, Score
from game.neck.neck_map import NeckMap

_TRIES = 12


class SiblingWay(Enum):
    """How a sibling was made, in the one word that stands in place of its composer."""

    REORDERED = "Reordered"
    TRANSPOSED = "Transposed"
    FRESH = "Fresh"


def sibling(passage: Passage, neck_map: NeckMap, *, seed: int, seen: Container[str] | None = None) -> Score:
    """A sibling of a passage of a written-out score; `Way(score.composer)` says which.

    The seed settles everything: from seed to seed the ways take turns, and where one cannot be had the next is taken.
    `seen` holds the `fingerprints` of lines and siblings met before, none of which comes again. The octave is that of
    the passage. Raises `TuneError` where there is no sibling.
    """
    ways = list(SiblingWay)
    for turn in range(len(ways)):
        way = ways[(seed + turn) % len(ways)]
        for attempt in range(_TRIES):
            found = _MAKERS[way](passage, neck_map, Random(f"{seed} {attempt}"))
            if found is None:
                break
            if found.bars != renumbered(passage.bars) and not _known(found, seen):
                return found
    raise TuneError("lines.no_sibling", title=_named(passage))


def reordered_sibling(passage: Passage, _neck_map: NeckMap, rng: Random) -> Score | None:
    """Its bars in another order, None where no other order can be sung."""
    bars = reordered(passage, rng)
    return _titled(passage, bars, SiblingWay.REORDERED) if bars else None


def transposed_sibling(passage: Passage, neck_map: NeckMap, rng: Random) -> Score | None:
    """Transposed, every note at a home; None where the map has no room."""
    found = transposed(passage, neck_map, rng)
    return _titled(passage, found[0], SiblingWay.TRANSPOSED, found[1]) if found else None


def fresh_sibling(passage: Passage, neck_map: NeckMap, rng: Random) -> Score | None:
    """A fresh line of the same key, metre and length, and of the levels that come nearest; None where there is none."""
    bars = [bar for bar in passage.bars if not bar.pickup] or list(passage.bars)
    meter = bars[0].meter
    try:
        line = fresh_line(
            nearest_level(passage),
            neck_map.with_reading(passage.reading),
            key=bars[0].key,
            bars=len(bars),
            rng=rng,
            meter=meter,
            rhythm=nearest_rhythm(passage, meter),
        )
    except TuneError:
        return None
    return _titled(passage, line.bars, SiblingWay.FRESH)


_MAKERS: dict[SiblingWay, Callable[[Passage, NeckMap, Random], Score | None]] = {
    SiblingWay.REORDERED: reordered_sibling,
    SiblingWay.TRANSPOSED: transposed_sibling,
    SiblingWay.FRESH: fresh_sibling,
}


def _named(passage: Passage) -> Message:
    title = passage.score.title
    return title_told(title) if title else message("lines.this_passage")


def _titled(passage: Passage, bars: tuple[Bar, ...], way: SiblingWay, key: Key | None = None) -> Score:
    return Score(
        title=sibling_title(passage.score.title, way.name.lower(), key),
        composer=way.value,
        reading=passage.reading,
        bars=renumbered(bars),
        swung=passage.score.swung,
        feel=passage.score.feel,
        octave_reason=passage.score.octave_reason,
        sound_fixed=passage.score.sound_fixed,
    )


def _known(score: Score, seen: Container[str] | None) -> bool:
    return seen is not None and any(mark in seen for mark in fingerprints(score))
