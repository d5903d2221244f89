"""What the shelf says about its order, its search and each of its tunes."""

from collections.abc import Mapping

from game.desk.typography import with_music_signs
from game.neck.neck_map import NeckMap
from game.text.catalogue import say
from game.tunes.library.library import ShelfEntry
from game.tunes.library.shelf_order import ShelfOrder
from game.tunes.library.tune_readiness import tune_readiness


def order_in_words(order: ShelfOrder) -> str:
    """What the shelf is sorted by."""
    return "" if order is ShelfOrder.AS_PUT else say(f"shelf.order.{order.value}")


def search_in_words(words: str, count: int, *, typing: bool) -> str:
    """What is searched for and how many were found; an invitation to type while nothing is typed."""
    if words:
        return say("shelf.search", words=words, count=count)
    return say("shelf.searching") if typing else ""


def facts_in_words(entry: ShelfEntry, order: ShelfOrder, neck_map: NeckMap, slow: Mapping[int, float]) -> str:
    """Key and length of a tune, and the figure the shelf is sorted by; `slow` as in `tune_readiness`."""
    row = say("shelf.row", key=with_music_signs(entry.key), bars=entry.bars)
    fact = _fact(entry, order, neck_map, slow)
    return say("shelf.row_fact", row=row, fact=fact) if fact else row


def _fact(entry: ShelfEntry, order: ShelfOrder, neck_map: NeckMap, slow: Mapping[int, float]) -> str:
    key = f"shelf.fact.{order.value}"
    match order:
        case ShelfOrder.NEXT | ShelfOrder.STRETCHES:
            ready = tune_readiness(entry, neck_map, slow)
            if order is ShelfOrder.STRETCHES and not ready.stretched + ready.off_map:
                return say("shelf.fact.in_position")
            return say(key, difficulty=ready.difficulty, stretched=ready.stretched, off_map=ready.off_map)
        case ShelfOrder.RANGE:
            return say(key, steps=entry.highest - entry.lowest)
        case ShelfOrder.DENSITY:
            return say(key, density=entry.density)
        case ShelfOrder.CHROMATIC:
            return say(key, count=entry.chromatic, notes=entry.notes)
    return ""
