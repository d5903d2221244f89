"""The next map, proposed once one is fluent: what there is to choose from, and why; and what the player said to it.

The numbers: `game.coach.numbers`. Nothing nags: it is said once, a map that was put off is proposed again after a week,
one that was declined no more.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date
from enum import Enum

from game.coach.notes.fluent_map import MapFluency
from game.coach.numbers import NUMBERS, CoachNumbers
from game.message import Message, message
from game.music.score import Reading
from game.neck.joined_maps import best_seam
from game.neck.map_figures import MapFigures
from game.neck.map_search import best_maps
from game.neck.melody_counts import MelodyCounts
from game.neck.neck_map import NeckMap, roman


class NextMapAnswer(Enum):
    """What a player says to a next map: learn it, not now, or no. As a log keeps it."""

    ACCEPTED = "accepted"
    POSTPONED = "postponed"
    DECLINED = "declined"


@dataclass(frozen=True, slots=True)
class NextMapSaid:
    """What was said, and when."""

    answer: NextMapAnswer
    day: date


class NextMapKind(Enum):
    """What kind of map comes next: the same kind elsewhere on the neck, that joined to the one that is fluent, or the
    same places read as they sound.
    """

    POSITION = "position"
    JOINED = "joined"
    CONCERT = "concert"


@dataclass(frozen=True, slots=True, kw_only=True)
class NextMap:
    """A map that may be learned next, and why, in sentences: the first says what it brings."""

    kind: NextMapKind
    neck_map: NeckMap
    reasons: tuple[Message, ...]


def is_proposed(said: NextMapSaid | None, today: date, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the next map is proposed today, after what was said last."""
    if said is None:
        return True
    return said.answer is NextMapAnswer.POSTPONED and (today - said.day).days >= numbers.postponed_days


def fluent_told(fluency: MapFluency, name: str) -> Message:
    """Why a map is fluent, in one sentence; of one whose notes were heard or came from keys, by pitch alone."""
    key = "map.fluent_told" if fluency.placed else "map.fluent_told_by_pitch"
    return message(
        key, map=name, right=fluency.right, asked=fluency.asked, days=fluency.days_reached, of=len(fluency.days)
    )


def lacking_told(fluency: MapFluency, name: str) -> Message:
    """What a map lacks until it is fluent, in one sentence."""
    values = {"map": name, "homes": fluency.homes}
    if fluency.lacking and fluency.read_fluently:
        return message("map.fluent_lacks_homes", count=fluency.lacking, **values)
    if fluency.lacking:
        return message(
            "map.fluent_lacks_both",
            count=fluency.lacking,
            reached=fluency.days_reached,
            needed=fluency.days_needed,
            **values,
        )
    return message("map.fluent_lacks_days", map=name, reached=fluency.days_reached, needed=fluency.days_needed)


def next_maps(
    neck_map: NeckMap,
    counts: MelodyCounts,
    known: Collection[NeckMap] = (),
    numbers: CoachNumbers = NUMBERS,
) -> tuple[NextMap, ...]:
    """What may be learned after `neck_map`, for the melodies counted, the first being what is advised: another
    position; that position joined to it, where some of the notes lie beyond the one and in the other; and concert
    pitch. `known` are the maps the player has already.
    """
    found: list[NextMap] = []
    if neck_map.second is None:
        figures = _best_position(neck_map, counts, known, numbers)
        if figures is not None:
            found.append(_of_position(neck_map, figures, counts))
            if _held_beyond(neck_map, figures.neck_map, counts):
                found += _joined(neck_map, figures.neck_map.position, counts)
    concert = neck_map.with_reading(Reading.CONCERT)
    if neck_map.reading is Reading.GUITAR and not any(one.reading is Reading.CONCERT for one in known):
        found.append(NextMap(kind=NextMapKind.CONCERT, neck_map=concert, reasons=(message("map.next.concert"),)))
    return tuple(found)


def _best_position(
    neck_map: NeckMap, counts: MelodyCounts, known: Collection[NeckMap], numbers: CoachNumbers
) -> MapFigures | None:
    """The position that holds most of the notes of these melodies that lie beyond all maps the player has; of equals
    the one with least movement, then the nearest one. None where all positions are known.

    At least half of its homes lie at places that are no home yet: two frets along there is little to learn.
    """
    alike = [one for one in (neck_map, *known) if one.reading is neck_map.reading and one.tuning == neck_map.tuning]
    reached = {sounding for one in alike for sounding in one.places}
    places = {place for one in alike for place in one.places.values()}

    def worth(figures: MapFigures) -> tuple[int, float, int]:
        new = figures.neck_map.places.keys() - reached
        held = sum(counts.counts.get(sounding, 0) for sounding in new)
        return held, -figures.movement, -abs(figures.neck_map.position - neck_map.position)

    searched = best_maps(
        counts,
        tuning=neck_map.tuning,
        frets=neck_map.frets,
        reading=neck_map.reading,
        hand=neck_map.hand,
        outlying=False,
    )
    taken = {position for one in alike for position in one.positions}
    others = [
        figures
        for figures in searched
        if figures.neck_map.position not in taken
        and _share_of_new(figures.neck_map, places) >= numbers.next_map_new_homes
    ]
    return max(others, key=worth, default=None)


def _share_of_new(neck_map: NeckMap, places: Collection[object]) -> float:
    homes = neck_map.homes
    return sum(home.place not in places for home in homes) / len(homes) if homes else 0.0


def _of_position(neck_map: NeckMap, figures: MapFigures, counts: MelodyCounts) -> NextMap:
    other, here = figures.neck_map, neck_map.places
    new = sorted(other.places.keys() - here.keys())
    beyond = sum(times for sounding, times in counts.counts.items() if sounding not in here)
    held, position = _held_beyond(neck_map, other, counts), roman(other.position)
    if held:
        brings = message("map.next.position_holds", position=position, held=held, beyond=beyond, count=len(new))
    elif new:
        brings = message("map.next.position_new", position=position, count=len(new))
    else:
        brings = message("map.next.position_same", position=position)
    carried = sum(other.places[sounding] == place for sounding, place in here.items() if sounding in other.places)
    known = message("map.next.letters_known", count=carried) if carried else message("map.next.letters_known_only")
    return NextMap(kind=NextMapKind.POSITION, neck_map=other, reasons=(brings, known))


def _joined(neck_map: NeckMap, position: int, counts: MelodyCounts) -> Iterator[NextMap]:
    joined = best_seam(neck_map, position, counts)
    if joined.changes:
        yield NextMap(kind=NextMapKind.JOINED, neck_map=joined.neck_map, reasons=joined.reasons)


def _held_beyond(neck_map: NeckMap, other: NeckMap, counts: MelodyCounts) -> int:
    """How many of the notes counted lie beyond a map, and on another one."""
    new = other.places.keys() - neck_map.places.keys()
    return sum(counts.counts.get(sounding, 0) for sounding in new)
