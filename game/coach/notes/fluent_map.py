"""Whether a map is fluent: nine notes of ten right at first sight, in eighths at 60, on three of five days, and no home
slower than 1.5 s (the numbers: `game.coach.numbers`).

Only days on which enough was read so count, the newest of them; a home never met, or read too seldom to tell, is no
quick one. Where the instrument tells no places, notes are right by their pitch: such a map is fluent by pitch, and says
so (`placed`). Once it was said of a map that it is fluent, bad days take nothing back: its days are not asked again.
"""

from dataclasses import dataclass
from math import exp

from game.coach.notes.carried_over import items_on
from game.coach.notes.ink import Inks
from game.coach.notes.item_estimate import find_time_estimate, usual_find_s
from game.coach.notes.items import Item, map_name
from game.coach.notes.map_days import MapDay, MapDays
from game.coach.notes.map_identity import homes_apart, map_key
from game.coach.notes.mastery import Mastery
from game.coach.notes.weights import is_often_wrong, items_by_pitch
from game.coach.numbers import NUMBERS, CoachNumbers
from game.neck.neck_map import NeckMap


@dataclass(frozen=True, slots=True, kw_only=True)
class MapFluency:
    """How far a map is. `days` are the newest on which enough was read at first sight at the pace of a fluent map, the
    oldest first, five at most; `slow` and `not_met` the homes (sounding pitches) that keep it back: found slowly or
    often wrong; and never met, or read too seldom to tell. `homes` counts all. `told` is whether it was said before
    that the map is fluent. `days_reached` of the days are good ones.
    """

    days: tuple[MapDay, ...]
    days_reached: int
    days_needed: int
    homes: int
    slow: tuple[int, ...]
    not_met: tuple[int, ...]
    told: bool = False

    @property
    def read_fluently(self) -> bool:
        """Whether its days at first sight are good enough, whatever its homes are."""
        return self.told or self.days_reached >= self.days_needed

    @property
    def fluent(self) -> bool:
        """Whether the map is fluent."""
        if self.told:
            return len(self.not_met) < self.homes
        return self.read_fluently and not self.slow and not self.not_met and self.homes > 0

    @property
    def lacking(self) -> int:
        """How many homes are still slow or not met."""
        return len(self.slow) + len(self.not_met)

    @property
    def placed(self) -> bool:
        """Whether on all of the days places were told by the instrument."""
        return all(day.placed for day in self.days)

    @property
    def right(self) -> int:
        """Notes right at first sight on the days."""
        return sum(day.right for day in self.days)

    @property
    def asked(self) -> int:
        """Notes asked at first sight on the days."""
        return sum(day.asked for day in self.days)


def map_fluency(
    mastery: Mastery, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS, *, told: bool = False
) -> MapFluency:
    """How far a map is. `told` is whether it was said before that it is fluent."""
    days = sight_days(mastery.map_days, neck_map, numbers)
    slow, not_met = _homes_that_lack(mastery, neck_map, numbers)
    return MapFluency(
        days=days,
        days_reached=sum(day.right >= numbers.fluent_share * day.asked for day in days),
        days_needed=numbers.fluent_days,
        homes=len(neck_map.homes),
        slow=slow,
        not_met=not_met,
        told=told,
    )


def sight_days(map_days: MapDays, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> tuple[MapDay, ...]:
    """The newest days on which enough was read at first sight at the pace of a fluent map, the oldest first: on this
    map, or on one of the same name that differs in so few homes that it is the same to read.
    """
    told = days_of_map(map_days, map_key(neck_map), numbers)
    enough = [day for day in told if day.asked >= numbers.fluent_day_notes]
    return tuple(enough[-numbers.fluent_of_days :])


def days_of_map(map_days: MapDays, key: str, numbers: CoachNumbers = NUMBERS) -> tuple[MapDay, ...]:
    """All that is kept of the days on a map, or on one that differs in few homes; two of one day as one."""
    by_day: dict[int, MapDay] = {}
    for other, days in map_days.items():
        apart = homes_apart(key, other)
        if apart is not None and apart <= numbers.same_map_moves:
            for day in days:
                by_day[day.day] = by_day[day.day].plus(day) if day.day in by_day else day
    return tuple(by_day[day] for day in sorted(by_day))


def is_same_to_read(one: str, other: str, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether two maps, by their texts, differ in so few homes that they are the same to read."""
    apart = homes_apart(one, other)
    return apart is not None and apart <= numbers.same_map_moves


def _homes_that_lack(
    mastery: Mastery, neck_map: NeckMap, numbers: CoachNumbers
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    items = items_on(mastery.items, neck_map)
    met = items_by_pitch(items, neck_map, numbers)
    usual_s = usual_find_s(items, numbers, on_map=map_name(neck_map))
    quick = _found_quickly(mastery.ink, neck_map)
    slow, not_met = [], []
    for sounding, place in neck_map.places.items():
        item = met.get(sounding)
        if item is None or not _tells(item, numbers, quick=(sounding, place.string, place.fret) in quick):
            not_met.append(sounding)
        elif _is_slow(item, usual_s, numbers):
            slow.append(sounding)
    return tuple(slow), tuple(not_met)


def _tells(item: Item, numbers: CoachNumbers, *, quick: bool) -> bool:
    """Whether it was read often enough, and its finding was timed, or it was once found soon enough inside music."""
    return item.readings >= numbers.slow_readings and (item.timed > 0 or quick)


def _is_slow(item: Item, usual_s: float, numbers: CoachNumbers) -> bool:
    find_s = exp(find_time_estimate(item, usual_s, numbers).mean_log_s)
    return (item.timed > 0 and find_s > numbers.slow_find_s) or is_often_wrong(item, numbers)


def _found_quickly(inks: Inks, neck_map: NeckMap) -> frozenset[tuple[int, int, int]]:
    """Pitch, string and fret of what was found quickly at least once on a map of that name."""
    on_map, sounds = map_name(neck_map), neck_map.tuning.sounding
    return frozenset(
        (sounds(key.place), key.place.string, key.place.fret)
        for key, record in inks.items()
        if key.map_name == on_map and record.finds
    )
