"""What is settled about a song before its pitches."""

from dataclasses import dataclass

from game.lines.degree_chords import Chord
from game.lines.form import Unit
from game.lines.line_request import LineRequest
from game.lines.line_weights import Idiom
from game.lines.manners import SongManner
from game.lines.spots import Spot


@dataclass(frozen=True, slots=True)
class SongPlan:
    """The units of a song with the onsets of each, its notes and rests, and for each bar the chord in mind."""

    request: LineRequest
    manner: SongManner
    idiom: Idiom
    units: tuple[Unit, ...]
    onsets: tuple[tuple[int, ...], ...]
    spots: tuple[Spot, ...]
    chords: tuple[Chord, ...]

    @property
    def struck(self) -> tuple[Spot, ...]:
        """Its notes, without rests."""
        return tuple(spot for spot in self.spots if not spot.rest)
