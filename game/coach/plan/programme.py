"""A programme: three tunes that the player picked. When all their pages are signed, the evening is played through."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

TUNES = 3
"""So many tunes make an evening."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Programme:
    """The tunes, by their names on the shelf, in the order they are played. `played` are the days of evenings."""

    tunes: tuple[str, ...]
    played: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammeTune:
    """How far a tune of the programme has come: `signed` of its `pages`. A tune that is gone has no pages."""

    tune: str
    signed: int
    pages: int

    @property
    def ready(self) -> bool:
        """Whether every page of it is signed."""
        return 0 < self.pages == self.signed


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammeStanding:
    """A programme and how far it has come."""

    tunes: tuple[ProgrammeTune, ...]
    played: tuple[date, ...] = ()

    @property
    def ready(self) -> bool:
        """Whether the evening can be played."""
        return len(self.tunes) == TUNES and all(tune.ready for tune in self.tunes)

    @property
    def pages_left(self) -> int:
        """How many pages wait to be signed."""
        return sum(tune.pages - tune.signed for tune in self.tunes)


def with_picked(programme: Programme | None, tune: str) -> Programme:
    """The programme after a tune was picked: put at its end, taken out where it is in it already. A fourth takes the
    place of the third. Another choice of tunes is another programme, whose evening was never played.
    """
    before = () if programme is None else programme.tunes
    if tune in before:
        return Programme(tunes=tuple(other for other in before if other != tune))
    return Programme(tunes=(*before[: TUNES - 1], tune))


def programme_standing(
    programme: Programme, pages: Mapping[str, Sequence[str]], signed: frozenset[str]
) -> ProgrammeStanding:
    """How far a programme has come. `pages` are the passages of each tune that is on the shelf, by name; `signed` are
    the passages that are signed off.
    """
    return ProgrammeStanding(
        tunes=tuple(
            ProgrammeTune(
                tune=tune, signed=sum(page in signed for page in pages.get(tune, ())), pages=len(pages.get(tune, ()))
            )
            for tune in programme.tunes
        ),
        played=programme.played,
    )
