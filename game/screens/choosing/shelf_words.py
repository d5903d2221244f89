"""What the shelf says about its order, its search and each of its tunes."""

from collections.abc import Mapping

from game.music.tune_kind import TuneKind
from game.neck.neck_map import NeckMap
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.shelf_order import ShelfOrder
from game.tunes.library.tune_readiness import tune_readiness


def order_in_words(order: ShelfOrder) -> str:
    """What the shelf is sorted by."""
    return "" if order is ShelfOrder.AS_PUT else say(f"shelf.order.{order.value}")


def search_in_words(words: str, *, at: int, count: int, typing: bool) -> str:
    """The how-manieth of how many tunes is chosen, among those that are searched for; an invitation to type while
    nothing is typed.
    """
    if words:
        return say("shelf.search", words=words, at=at, count=count)
    return say("shelf.searching") if typing else say("shelf.where", at=at, count=count)


def beside_title(entry: ShelfEntry, order: ShelfOrder, neck_map: NeckMap, slow: Mapping[int, float]) -> str:
    """The figure the shelf is sorted by, where there is one, else whether it is a lead sheet, and who made the tune;
    `slow` as in `tune_readiness`.
    """
    fact = _fact(entry, order, neck_map, slow)
    if fact or entry.kind is not TuneKind.LEAD_SHEET:
        return fact or entry.composer
    return say("shelf.lead_sheet_by", composer=entry.composer) if entry.composer else say("shelf.lead_sheet")


def details_in_words(entry: ShelfEntry, neck_map: NeckMap) -> str:
    """How long a tune is, and how it lies under the hand."""
    hand = _fact(entry, ShelfOrder.STRETCHES, neck_map, {})
    return say("shelf.details", bars=entry.bars, meter=entry.meter, hand=hand, notes=entry.notes)


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
