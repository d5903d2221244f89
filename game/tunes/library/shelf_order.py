"""The shelf searched and sorted. Pure: what was seen, and which notes are slow, is handed in."""

import unicodedata
from collections.abc import Container, Mapping, Sequence
from enum import Enum

from game.music.tune_kind import TuneKind
from game.neck.neck_map import NeckMap
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.tune_readiness import NO_WEIGHTS, TuneReadiness, pitch_costs, tune_readiness

NO_WORDS: Mapping[TuneKind, str] = {}


class ShelfOrder(Enum):
    """What the shelf can be sorted by. The values are names in the text catalogue."""

    AS_PUT = "as put"
    NEXT = "next"
    TITLE = "title"
    KEY = "key"
    RANGE = "range"
    DENSITY = "density"
    CHROMATIC = "chromatic"
    STRETCHES = "stretches"

    @property
    def following(self) -> "ShelfOrder":
        """The one after it, the first after the last."""
        orders = list(ShelfOrder)
        return orders[(orders.index(self) + 1) % len(orders)]


def found(
    entries: Sequence[ShelfEntry], words: str, kinds: Mapping[TuneKind, str] = NO_WORDS
) -> tuple[ShelfEntry, ...]:
    """The entries in which each of `words` begins a word, or is the key or metre; accents and case do not matter.
    `kinds` says what kinds of tunes are called, which is found too.
    """
    wanted = _plain(words).split()
    return tuple(entry for entry in entries if all(_holds(entry, word, kinds.get(entry.kind, "")) for word in wanted))


def ordered(
    entries: Sequence[ShelfEntry],
    order: ShelfOrder,
    neck_map: NeckMap,
    *,
    weights: Mapping[int, float] = NO_WEIGHTS,
    seen: Container[str] = frozenset(),
) -> tuple[ShelfEntry, ...]:
    """The entries in an order; where it leaves two alike they stay as they stand.

    `NEXT` has what was never seen first (`seen` holds names of entries), then what is easiest on the map and with the
    slow notes in `weights`; keys go by their number of signs, flats after sharps.
    """
    if order is ShelfOrder.AS_PUT:
        return tuple(entries)
    costs = pitch_costs(neck_map)

    def readiness(entry: ShelfEntry) -> TuneReadiness:
        return tune_readiness(entry, neck_map, weights, costs)

    def place(entry: ShelfEntry) -> tuple[float | str, ...]:  # noqa: PLR0911 - one line an order
        match order:
            case ShelfOrder.NEXT:
                return entry.name in seen, readiness(entry).difficulty
            case ShelfOrder.KEY:
                return abs(entry.fifths), entry.fifths < 0, entry.key
            case ShelfOrder.RANGE:
                return entry.highest - entry.lowest, entry.lowest
            case ShelfOrder.DENSITY:
                return (entry.density,)
            case ShelfOrder.CHROMATIC:
                return (entry.chromatic / max(1, entry.notes),)
            case ShelfOrder.STRETCHES:
                hand = readiness(entry)
                return hand.off_map / max(1, entry.notes), hand.stretched / max(1, entry.notes)
            case _:
                return (_plain(entry.title),)

    return tuple(sorted(entries, key=place))


def newest_first(
    entries: Sequence[ShelfEntry], order: ShelfOrder, new: Container[str] = frozenset()
) -> tuple[ShelfEntry, ...]:
    """The same entries with those first whose names are in `new`, because they just came. As they were put there, the
    player's own stand before the book that came with the program. Where another order was asked for, it holds.
    """
    if order is ShelfOrder.AS_PUT:
        return tuple(sorted(entries, key=lambda entry: (entry.name not in new, entry.shipped)))
    if order is ShelfOrder.NEXT:
        return tuple(sorted(entries, key=lambda entry: entry.name not in new))
    return tuple(entries)


def _holds(entry: ShelfEntry, word: str, kind: str) -> bool:
    if word in (_plain(entry.key), entry.meter):
        return True
    texts = _plain(f"{entry.title} {entry.composer} {entry.part} {entry.file_name} {kind}")
    return any(text.startswith(word) for text in _words(texts))


def _words(text: str) -> list[str]:
    return "".join(char if char.isalnum() else " " for char in text).split()


def _plain(text: str) -> str:
    """Small letters without accents; ♭ and ♯ as they are typed."""
    apart = unicodedata.normalize("NFKD", text.translate({ord("♭"): "b", ord("♯"): "#"}).casefold())
    return "".join(char for char in apart if not unicodedata.combining(char))
