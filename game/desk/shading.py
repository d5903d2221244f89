"""Notes by how quickly they are found, for the neck and the staff, on screen and on paper. Pure."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Protocol

from game.music.pitch import pitch

QUICK_S, SLOW_S = 0.6, 2.5
"""From here a note is found at once, and from here on the hand is looking for it. Ours: the bridge of `places`."""

PALEST = 0.15
"""Shade of a note that is looked for, or whose time is not known."""


class TimedNote(Protocol):
    """What is known of a written note at one home: its median time to find, and how often it was timed and read."""

    @property
    def written(self) -> str:
        """As on the page: "F#4"."""
        ...

    @property
    def find_s(self) -> float | None:
        """None where nothing is known."""
        ...

    @property
    def timed(self) -> int:
        """How often its time to find was taken."""
        ...

    @property
    def read(self) -> int:
        """How often it was read."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadedNote:
    """A written note: `shade` from `PALEST` to 1 for one found at once, `find_s` its median time to find or None, and
    whether it is `ringed` in pencil, as the slowest are.
    """

    written: str
    shade: float
    find_s: float | None
    ringed: bool = False


def shade_of(find_s: float | None) -> float:
    """The darker the quicker."""
    if find_s is None:
        return PALEST
    return min(1.0, max(PALEST, (SLOW_S - find_s) / (SLOW_S - QUICK_S)))


def shaded(notes: Iterable[TimedNote], ringed: Collection[str] = ()) -> tuple[ShadedNote, ...]:
    """The notes by pitch, lowest first, each once: where one has had several homes, the one timed most often. `ringed`
    are written names.
    """
    by_name: dict[str, TimedNote] = {}
    for note in notes:
        known = by_name.get(note.written)
        if known is None or (note.timed, note.read) > (known.timed, known.read):
            by_name[note.written] = note
    ordered = sorted(by_name.values(), key=lambda note: (pitch(note.written).midi, pitch(note.written).staff_step))
    return tuple(
        ShadedNote(written=note.written, shade=shade_of(note.find_s), find_s=note.find_s, ringed=note.written in ringed)
        for note in ordered
    )
