"""All that is remembered of a player's notes: the evidence about each, when each should come back, and which are ink.

`mastery_after` takes in one judged take, `mastery_on` lets days pass. A day's readings are rated once, when the day is
over; until then they wait in `today`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from game.coach.notes.ink import Inks, ink_after
from game.coach.notes.items import Item, ItemKey
from game.coach.notes.map_days import MapDays, map_days_after
from game.coach.notes.note_reads import TakeReads, by_item, day_on_map, items_after
from game.coach.notes.ratings import DayOfItem, note_rating
from game.coach.notes.review import Review, due, reviews_after
from game.coach.numbers import NUMBERS, CoachNumbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Mastery:
    """What is known and remembered of notes. Begin with `Mastery()`. `day` is the newest day practised, `map_days` what
    the days came to on each map.
    """

    items: Mapping[ItemKey, Item] = field(default_factory=dict)
    reviews: Mapping[ItemKey, Review] = field(default_factory=dict)
    day: int = 0
    today: Mapping[ItemKey, DayOfItem] = field(default_factory=dict)
    ink: Inks = field(default_factory=dict)
    map_days: MapDays = field(default_factory=dict)


def mastery_after(mastery: Mastery, take: TakeReads, numbers: CoachNumbers = NUMBERS) -> Mastery:
    """One more take in it. A take of an earlier day, judged late, counts as one of the newest day."""
    day = max(take.day, mastery.day)
    mastery = mastery_on(mastery, day, numbers)
    today = dict(mastery.today)
    for key, reads in by_item(take.reads).items():
        so_far = today.get(key, DayOfItem())
        for read in reads:
            so_far = so_far.plus(right=read.right, log_find_s=read.log_find_s)
        today[key] = so_far
    take = take._replace(day=day)
    return replace(
        mastery,
        items=items_after(mastery.items, take, numbers),
        today=today,
        ink=ink_after(mastery.ink, take, numbers),
        map_days=map_days_after(mastery.map_days, take.on_map, day_on_map(take), numbers),
    )


def mastery_on(mastery: Mastery, day: int, numbers: CoachNumbers = NUMBERS) -> Mastery:
    """The mastery on `day`, every day before it rated. An earlier day changes nothing."""
    if day <= mastery.day:
        return mastery
    ratings = {key: note_rating(read, numbers) for key, read in mastery.today.items()}
    reviews = reviews_after(mastery.reviews, mastery.day, ratings)
    return replace(mastery, reviews=reviews, day=day, today={})


def due_notes(mastery: Mastery, day: int) -> tuple[ItemKey, ...]:
    """The notes that should come back by `day`, the least remembered first; those read today are done."""
    waiting = due(mastery_on(mastery, day).reviews, day)
    return tuple(key for key in waiting if key not in mastery.today or day > mastery.day)
