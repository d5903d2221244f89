"""Whether a line was written, not played: every onset exactly on a part of the quarter note. Pure.

What a notation program exports lies on its ticks; of what a person plays only one onset in many does, by chance. The
numbers are ours.
"""

from collections.abc import Sequence
from fractions import Fraction

# Thirty-second notes; triplets of any value down to sixteenths; a hundred-and-twenty-eighth.
_GRIDS = (8, 12, 32)
# Coarse ones first: what lies on a half lies on all the others as well.
_PARTS = (1, 2, 4, 3, 8, 6, 12, 16, 32)
# Some programs are one tick off, and where ticks do not divide into a grid all of them are. That still says something
# where each part of the grid has this many ticks.
_TICKS_TO_TELL = 16
_BY_CHANCE = 1e-4
# Of two onsets of a written line closer than this, in quarter notes, the notes are a chord.
TOGETHER_AS_WRITTEN = 1 / 50
# Where more notes than this end before the next begins, short of a beat, that is how the file plays, not rests.
_MOST_RESTS = 0.25


def written_onsets(starts: Sequence[float], ticks: float) -> tuple[Fraction, ...] | None:
    """The exact onsets of `starts`, both in quarter notes of `ticks` each; None for what may have been played.

    An onset off the grid makes all of them played; so does a line too short to tell.
    """
    onsets = [_on_grid(start, ticks) for start in starts]
    exact = tuple(onset for onset in onsets if onset is not None)
    if len(exact) < len(onsets) or _share_of_ticks(ticks) ** len(set(exact)) > _BY_CHANCE:
        return None
    return exact


def written_ends(onsets: Sequence[Fraction], ends: Sequence[float], ticks: float) -> list[Fraction] | None:
    """The exact ends of notes whose onsets were written; None where the file plays its notes shorter than they are
    written, or where they end off the grid.
    """
    exact: list[Fraction] = []
    gaps = 0
    for onset, played_end, following in zip(onsets, ends, [*onsets[1:], None], strict=True):
        end = _on_grid(played_end, ticks)
        if end is None or end <= onset:
            return None
        exact.append(end if following is None else min(end, following))
        gaps += following is not None and 0 < following - end < 1
    return exact if gaps <= _MOST_RESTS * len(exact) else None


def _on_grid(at: float, ticks: float) -> Fraction | None:
    """The place of one of the grids that is meant by `at`, None where none is."""
    for part in _PARTS:
        place = Fraction(round(at * part), part)
        if abs(at - float(place)) * ticks < _tolerance_ticks(_grid_of(part), ticks):
            return place
    return None


def _grid_of(part: int) -> int:
    return next(grid for grid in _GRIDS if grid % part == 0)


def _tolerance_ticks(grid: int, ticks: float) -> float:
    """How far off a grid a place may be: less than two ticks, none where the grid is too fine to tell."""
    return 1.5 if ticks >= _TICKS_TO_TELL * grid else 0.01


def _share_of_ticks(ticks: float) -> float:
    """How many of the ticks of a quarter note count as lying on one of the grids."""
    places = {Fraction(index, grid): grid for grid in reversed(_GRIDS) for index in range(grid)}
    lying = sum(
        3 if _tolerance_ticks(grid, ticks) > 1 else (place * Fraction(ticks)).denominator == 1
        for place, grid in places.items()
    )
    return min(lying / ticks, 1.0)
