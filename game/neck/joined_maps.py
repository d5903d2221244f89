"""A second region joined to a map, at the seam that serves given tunes best, and what that changes."""

from dataclasses import dataclass

from game.message import Message, message
from game.music.keys import Key, spelled
from game.neck.map_figures import MapFigures, figures_of
from game.neck.melody_counts import MelodyCounts
from game.neck.movement_costs import COSTS, MovementCosts
from game.neck.neck_map import NeckMap, SecondRegion, new_map, roman
from game.neck.tuning import Place


@dataclass(frozen=True, slots=True)
class HomeChange:
    """A pitch whose home is another, or that has one now (`before` is None then), by its sounding MIDI number."""

    sounding: int
    before: Place | None
    after: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedMap:
    """A map with a second region, its figures, the homes that change, and why the hand shifts there, in sentences."""

    figures: MapFigures
    changes: tuple[HomeChange, ...]
    reasons: tuple[Message, ...]

    @property
    def neck_map(self) -> NeckMap:
        """The map itself."""
        return self.figures.neck_map


def best_seam(neck_map: NeckMap, position: int, counts: MelodyCounts, costs: MovementCosts = COSTS) -> JoinedMap:
    """`neck_map` joined with the region of `position` at the seam that costs the melodies counted least; of equals the
    one that leaves most homes where they are. Places chosen by hand stay. Raises `MapError` for a position that the
    neck has not.
    """
    alone = _with(neck_map, None)
    other = _with(neck_map, None, position=position)
    low, high = sorted((alone, other), key=lambda one: one.position)
    pitches = [home.sounding for home in (*low.homes, *high.homes)]
    seams = range(min(pitches), max(pitches) + 2)
    joined = [_with(neck_map, SecondRegion(position=position, seam=seam)) for seam in seams]
    best = min(
        (figures_of(one, counts, costs) for one in joined),
        key=lambda one: (one.movement, len(_changes(alone, one.neck_map))),
    )
    return _told_of(alone, best, counts, costs, "map.seam.over")


def joined_at(
    neck_map: NeckMap, position: int, seam: int, counts: MelodyCounts, costs: MovementCosts = COSTS
) -> JoinedMap:
    """`neck_map` joined with the region of `position` at a seam of one's own: the lowest pitch (sounding MIDI number)
    of the higher region. Raises `MapError` as `best_seam` does.
    """
    joined = _with(neck_map, SecondRegion(position=position, seam=seam))
    return _told_of(_with(neck_map, None), figures_of(joined, counts, costs), counts, costs, "map.seam.over_own")


def _told_of(alone: NeckMap, joined: MapFigures, counts: MelodyCounts, costs: MovementCosts, over: str) -> JoinedMap:
    changes = _changes(alone, joined.neck_map)
    return JoinedMap(figures=joined, changes=changes, reasons=_reasons(alone, joined, changes, counts, costs, over))


def _with(neck_map: NeckMap, second: SecondRegion | None, position: int | None = None) -> NeckMap:
    return new_map(
        position=position or neck_map.position,
        tuning=neck_map.tuning,
        frets=neck_map.frets,
        reading=neck_map.reading,
        choices=neck_map.choices,
        hand=neck_map.hand,
        second=second,
    )


def _changes(before: NeckMap, after: NeckMap) -> tuple[HomeChange, ...]:
    known = before.places
    return tuple(
        HomeChange(home.sounding, known.get(home.sounding), home.place)
        for home in after.homes
        if known.get(home.sounding) != home.place
    )


def _reasons(
    before: NeckMap,
    best: MapFigures,
    changes: tuple[HomeChange, ...],
    counts: MelodyCounts,
    costs: MovementCosts,
    over: str,
) -> tuple[Message, ...]:
    """`over` is the sentence that tells how many notes cross the seam: of the best one, or of another."""
    second = best.neck_map.second
    assert second is not None
    seam = spelled(second.seam + 12 * before.reading.octaves_down, Key(0)).name
    lower, higher = best.neck_map.positions
    crossing = sum(
        times for (one, other), times in counts.pairs.items() if (one < second.seam) != (other < second.seam)
    )
    new = sum(change.before is None for change in changes)
    told = [message("map.seam.where", note=seam, lower=roman(lower), higher=roman(higher))]
    if counts.notes:
        alone = figures_of(before, counts, costs)
        told.append(message(over, count=crossing, notes=counts.notes) if crossing else message(f"{over}_none"))
        told.append(_movement_told(alone.movement, best.movement))
    if new:
        told.append(message("map.seam.new", count=new))
    if len(changes) > new:
        told.append(message("map.seam.moved", count=len(changes) - new))
    return tuple(told)


def _movement_told(before: float, after: float) -> Message:
    """What a note costs now; that it costs as much, where no figure that is told would differ."""
    if round(before, 2) == round(after, 2):
        return message("map.seam.movement_same")
    return message("map.seam.movement", before=before, after=after)
