"""What a map means for the tunes on the shelf: how many lie wholly on it, what of their notes has no home or needs a
stretch, and how much the hand moves. Pure, once the shelf was read.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from game.neck.map_figures import cost_of_moving, figures_of
from game.neck.melody_counts import MelodyCounts, counted_together
from game.neck.neck_map import NeckMap, Reach
from game.neck.tuning import Place
from game.screens.setup.map_choice import other_places
from game.tunes.library.library import with_pairs
from game.tunes.library.shelf_entry import ShelfEntry

_KEPT_FIGURES = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfFigures:
    """Counts over the tunes of the shelf: those `wholly` on a map of all `tunes`; their `notes` in order of play, the
    `homeless` ones among them, and those that need a stretch or a `shift` to a home outside. `movement` is the mean
    cost of a note (see `game.neck.movement_costs`).
    """

    tunes: int
    wholly: int
    notes: int
    homeless: int
    stretches: int
    shifts: int
    movement: float

    @property
    def stretch_share(self) -> float:
        """The stretches among all notes, from 0 to 1."""
        return self.stretches / self.notes if self.notes else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveCost:
    """What it costs when a place becomes the home of its pitch: how often the pitch is played, how the place is
    reached, how the home of before is, None for none, and the share by which all movement grows, negative for less.
    """

    place: Place
    times: int
    reach: Reach
    reach_now: Reach | None
    growth: float


class MapShelf:
    """The tunes of a shelf, as a player with this map reads them."""

    def __init__(self, entries: Sequence[ShelfEntry], neck_map: NeckMap) -> None:
        homes = neck_map.places
        melodies = [with_pairs(entry).melody(neck_map.reading, homes) for entry in entries]
        self._pitches = tuple(frozenset(melody.counts) for melody in melodies)
        self.counts: MelodyCounts = counted_together(melodies)
        # A picture asks for the same maps again and again.
        self._figures: list[tuple[NeckMap, ShelfFigures]] = []

    def figures(self, neck_map: NeckMap) -> ShelfFigures:
        """What a map means for these tunes."""
        for known, figures in self._figures:
            if known == neck_map:
                return figures
        figures = self._counted(neck_map)
        self._figures = [*self._figures[1 - _KEPT_FIGURES :], (neck_map, figures)]
        return figures

    def _counted(self, neck_map: NeckMap) -> ShelfFigures:
        homes = {home.sounding: home for home in neck_map.homes}
        counts = self.counts.counts
        of_reach = dict.fromkeys(Reach, 0)
        for sounding, home in homes.items():
            of_reach[home.reach] += counts.get(sounding, 0)
        return ShelfFigures(
            tunes=len(self._pitches),
            wholly=sum(pitches <= homes.keys() for pitches in self._pitches),
            notes=self.counts.notes,
            homeless=sum(count for sounding, count in counts.items() if sounding not in homes),
            stretches=of_reach[Reach.STRETCH],
            shifts=of_reach[Reach.OUTLYING],
            movement=figures_of(neck_map, self.counts).movement,
        )

    def moved(self, before: NeckMap, after: NeckMap) -> int:
        """How many notes have another home after a change, or one at last, or none any more."""
        homes, others = before.places, after.places
        moved = {sounding for sounding in homes | others if homes.get(sounding) != others.get(sounding)}
        return sum(self.counts.counts.get(sounding, 0) for sounding in moved)

    def cost_of(self, neck_map: NeckMap, place: Place) -> MoveCost:
        """What it costs when a place becomes the home of its pitch."""
        sounding, movement = neck_map.tuning.sounding(place), self.figures(neck_map).movement
        now, then = neck_map.home_of(sounding), neck_map.with_choice(place).home_of(sounding)
        assert then is not None
        change = cost_of_moving(neck_map, place, self.counts)
        return MoveCost(
            place=place,
            times=self.counts.counts.get(sounding, 0),
            reach=then.reach,
            reach_now=now.reach if now else None,
            growth=change / movement if movement else 0.0,
        )

    def costs_of(self, neck_map: NeckMap, sounding: int) -> tuple[MoveCost, ...]:
        """What each other place of a pitch would cost, those nearest to the hand first."""
        return tuple(self.cost_of(neck_map, place) for place in other_places(neck_map, sounding))
