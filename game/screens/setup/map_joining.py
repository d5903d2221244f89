"""A second region is joined to a map: in which position, and at which seam. Pure."""

from dataclasses import dataclass, replace

from game.errors import MapError
from game.neck.joined_maps import HomeChange, JoinedMap, best_seam, joined_at
from game.neck.melody_counts import MelodyCounts
from game.neck.neck_map import NeckMap

_APART = 4
"""The first that is proposed begins where the hand of the other ends (ours)."""


@dataclass(frozen=True, slots=True)
class MapJoining:
    """`alone` is the map without a second region, `proposed` how the region of `position` is joined best, `joined` how
    it is looked at: the same, or with another seam.
    """

    alone: NeckMap
    counts: MelodyCounts
    position: int
    proposed: JoinedMap
    joined: JoinedMap

    @property
    def neck_map(self) -> NeckMap:
        """The joined map."""
        return self.joined.neck_map

    @property
    def changes(self) -> tuple[HomeChange, ...]:
        """The homes that are others than before."""
        return self.joined.changes

    @property
    def seam(self) -> int:
        """The lowest sounding pitch of the higher region."""
        second = self.neck_map.second
        assert second is not None
        return second.seam

    @property
    def as_proposed(self) -> bool:
        """Whether the seam is the one that was found best."""
        return self.joined == self.proposed

    def to_position(self, by: int) -> "MapJoining":
        """The next position but that of the map, round the ends, with its own best seam."""
        others = _others(self.alone)
        return _joined(self.alone, self.counts, others[(others.index(self.position) + by) % len(others)])

    def to_seam(self, by: int) -> "MapJoining":
        """The seam so many semitones up, as far as both regions have notes."""
        homes = self.neck_map.homes
        return self.at_seam(min(max(self.seam + by, homes[0].sounding + 1), homes[-1].sounding))

    def at_seam(self, seam: int) -> "MapJoining":
        """The same with another seam, which may be the proposed one."""
        second = self.proposed.neck_map.second
        if second is not None and second.seam == seam:
            return replace(self, joined=self.proposed)
        return replace(self, joined=joined_at(self.alone, self.position, seam, self.counts))


def begin_joining(neck_map: NeckMap, counts: MelodyCounts) -> MapJoining:
    """Look at a map with a second region: the one it has, else the next one up the neck, or down where there is none.
    Raises `MapError` where the neck is too short for two.
    """
    alone = neck_map.remade(second=None)
    if neck_map.second is not None:
        begun = _joined(alone, counts, neck_map.second.position)
        return begun.at_seam(neck_map.second.seam)
    others = _others(alone)
    if not others:
        raise MapError("maps.no_second_region", frets=alone.frets)
    wanted = alone.position + _APART if alone.position + _APART <= max(others) else alone.position - _APART
    return _joined(alone, counts, min(others, key=lambda one: abs(one - wanted)))


def _joined(alone: NeckMap, counts: MelodyCounts, position: int) -> MapJoining:
    found = best_seam(alone, position, counts)
    return MapJoining(alone, counts, position, found, found)


def _others(neck_map: NeckMap) -> tuple[int, ...]:
    highest = neck_map.highest_position
    return tuple(one for one in range(1, highest + 1) if one != neck_map.position)
