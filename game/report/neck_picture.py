"""The neck of a map with its slow notes ringed, as a small picture for a page of a class: as in chord charts, string 1
on top, the nut on the left, or on the right for left-handed players.
"""

from collections.abc import Iterator, Sequence

from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.neck.neck_map import Home, NeckMap
from game.neck.tuning import INLAYS
from game.practice_log.queries.figure_records import NoteFigures
from game.practice_log.queries.how_held import USUAL_HOLD, HowHeld
from game.report.figure_words import place_said
from game.report.plain_svg import ACCENT, INK, LIGHT, PAPER, QUIET, Picture, dot, line, svg_of, words
from game.text.catalogue import as_sentence, in_figures, say, tell

_FRET, _STRING, _RADIUS = 60.0, 39.0, 16.0
_BESIDE, _ABOVE, _BELOW = 30.0, 26.0, 38.0
_NAMES, _LONG_NAME = {1: 18.0, 2: 17.0, 3: 15.0}, 11.5
"""How large the names of so many signs are, and longer ones."""

_SECONDS, _NUMBER = 15.0, 16.0
_FEWEST_FRETS = 7
_LONG_S = 9.95
_TWELFTH = 12


def slow_neck(
    neck_map: NeckMap, slow: Sequence[NoteFigures], names: NoteNames, held: HowHeld = USUAL_HOLD
) -> Picture | None:
    """The map with slow or unsure notes ringed, and their seconds beside; None for a map without homes."""
    if not neck_map.homes:
        return None
    neck = _Neck(neck_map, held)
    parts = [*neck.drawn(), *(part for home in neck_map.homes for part in neck.home(home, names))]
    for note in {(note.string, note.fret): note for note in reversed(slow)}.values():
        parts += neck.ringed(note)
    said = say("report.map.none_circled")
    if slow:
        places = ", ".join(place_said(note.string, note.fret) for note in slow)
        said = say("report.map.circled", homes=len(slow), places=places)
    said = " ".join((said, *(as_sentence(tell(one)) for one in held.told)))
    return Picture(svg=svg_of(neck.width, neck.height, parts, said), caption=say("report.map.caption"))


class _Neck:
    """Where places lie in the picture."""

    def __init__(self, neck_map: NeckMap, held: HowHeld) -> None:
        self._map, self._held = neck_map, held
        frets = [home.place.fret for home in neck_map.homes]
        self._lowest = max(0, min(frets) - 1)
        self._highest = max(max(frets) + 1, self._lowest + _FEWEST_FRETS - 1)
        self._strings = len(neck_map.tuning.open_strings)
        self.width = 2 * _BESIDE + (self._highest - self._lowest + 1) * _FRET
        self.height = _ABOVE + (self._strings - 1) * _STRING + _BELOW

    def drawn(self) -> Iterator[str]:
        """Strings, wires, dots, and the numbers of frets below."""
        left, right = _BESIDE, self.width - _BESIDE
        top, bottom = self._y(1), self._y(self._strings)
        for fret in range(self._lowest, self._highest + 1):
            yield from self._inlays(fret + self._held.capo, self._x(fret), (top + bottom) / 2)
            yield words(str(fret), self._x(fret), bottom + 32, _NUMBER, QUIET, anchor="middle")
            wire = self._x(fret + 0.5)
            yield line(wire, top, wire, bottom, QUIET, 4.0 if fret == 0 else 1.2)
        for string in range(1, self._strings + 1):
            yield line(left, self._y(string), right, self._y(string), QUIET, 0.8 + 0.2 * string)
            yield words(str(string), left - 10, self._y(string) + 4, _NUMBER, QUIET, anchor="middle")

    def home(self, home: Home, names: NoteNames) -> Iterator[str]:
        """A home with the name that its note has on the page."""
        written = spelled(home.sounding + 12 * self._map.reading.octaves_down, Key(0))
        name = name_in(spelling_of(written), names)
        x, y = self._x(home.place.fret), self._y(home.place.string)
        yield dot(x, y, _RADIUS, PAPER, INK, 1.0)
        size = _NAMES.get(len(name), _LONG_NAME)
        yield words(name, x, y + size / 3, size, INK, anchor="middle")

    def ringed(self, note: NoteFigures) -> Iterator[str]:
        """A ring, and the seconds it takes."""
        x, y = self._x(note.fret), self._y(note.string)
        yield dot(x, y, _RADIUS + 2.5, "none", ACCENT, 3.0)
        if note.find_s is not None:
            # High enough that neither this ring nor the next one is in the way.
            said = in_figures(note.find_s, ".1f" if note.find_s < _LONG_S else ".0f")
            yield words(said, x + _FRET / 2, y - 8, _SECONDS, ACCENT, anchor="middle", bold=True)

    def _inlays(self, fret: int, x: float, y: float) -> Iterator[str]:
        if fret in INLAYS:
            apart = _STRING if fret % _TWELFTH == 0 else 0.0
            for side in {-apart, apart}:
                yield dot(x, y + side, 6.0, LIGHT, LIGHT)

    def _x(self, fret: float) -> float:
        steps = self._highest - fret if self._held.left_handed else fret - self._lowest
        return _BESIDE + (steps + 0.5) * _FRET

    def _y(self, string: int) -> float:
        return _ABOVE + (string - 1) * _STRING
