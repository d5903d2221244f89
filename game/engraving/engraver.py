"""The one verovio toolkit: made when first needed, and told every option on every call, because options
persist.
"""

import threading
from enum import Enum
from functools import cache, lru_cache
from typing import Any, Final

# 180 units of verovio's SVG are one staff space (its `unit` of 9, times 10 for its scale, times 2).
UNITS_PER_SPACE: Final = 180.0


class EngravedFace(Enum):
    """The music faces, by the names verovio gives them."""

    ENGRAVED = "Leland"
    HANDWRITTEN = "Petaluma"


_OPTIONS: Final[dict[str, Any]] = {
    "adjustPageHeight": True,
    "header": "none",
    "footer": "none",
    "pageMarginLeft": 0,
    "pageMarginRight": 0,
    "pageMarginTop": 0,
    "pageMarginBottom": 0,
    "pageHeight": 60000,
    "scale": 100,
    "unit": 9.0,
    "smuflTextFont": "none",
    "svgBoundingBoxes": False,
    "svgFormatRaw": True,
    "svgAdditionalAttribute": ["tie@startid", "tie@endid"],
    "xmlIdSeed": 1,
    # The least there is: so fine is the room that `game.engraving.chord_room` can ask for.
    "lyricSize": 2.0,
    # An accidental must not touch the head before it (in half spaces; verovio's default is 1).
    "leftMarginAccid": 1.8,
    "leftMarginNote": 1.7,
}
# Spaced nearly in proportion to time, so that at a steady tempo the staff moves at a nearly steady speed.
_MOVING: Final = {"spacingNonLinear": 0.8, "spacingLinear": 0.12}
# Closer, as on a printed page.
_PRINTED: Final = {"spacingNonLinear": 0.6, "spacingLinear": 0.16}
_ENDLESS: Final = {"breaks": "none", "adjustPageWidth": True, "pageWidth": 2100}
_BROKEN: Final = {
    "breaks": "encoded",
    "adjustPageWidth": False,
    "justifyVertically": False,
}
# Enough for verovio to fetch its face: a rest and a clef.
_SMALLEST: Final = (
    '<score-partwise><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">'
    '<measure number="1"><attributes><clef><sign>G</sign><line>2</line></clef></attributes>'
    '<note><rest measure="yes"/><duration>1</duration></note></measure></part></score-partwise>'
)
_LOCK: Final = threading.Lock()
# The same bars are laid out again when a take begins anew, for its result, and by a window that gets its size back.
_KEPT: Final = 16


@lru_cache(maxsize=_KEPT)
def endless_svg(musicxml: str, face: EngravedFace, *, moving: bool = True) -> str:
    """The notation as SVG on one endless line, spaced to move or, otherwise, as a page prints it.

    Raises `ValueError` when verovio cannot read it.
    """
    spacing = _MOVING if moving else _PRINTED
    return _svg(musicxml, {**_OPTIONS, **spacing, **_ENDLESS, "font": face.value})


@lru_cache(maxsize=_KEPT)
def page_svg(musicxml: str, face: EngravedFace, width_spaces: float, *, least_spread: float) -> str:
    """The notation as SVG on lines `width_spaces` staff spaces wide, broken where the notation says so.

    The last line is spread over the width where it fills more than the share `least_spread` of it, 0 to 1.
    Raises `ValueError` when verovio cannot read it.
    """
    width = round(width_spaces * UNITS_PER_SPACE / 10)
    last = {"pageWidth": width, "minLastJustification": least_spread}
    return _svg(musicxml, {**_OPTIONS, **_PRINTED, **_BROKEN, "font": face.value, **last})


def prepare(face: EngravedFace = EngravedFace.ENGRAVED) -> None:
    """Load verovio and a face now, so that the first staff does not wait for them; after the first frame,
    say.
    """
    endless_svg(_SMALLEST, face)


@cache
def _toolkit() -> Any:
    import verovio  # noqa: PLC0415 - costs tens of milliseconds and megabytes: not before the first frame

    verovio.enableLog(verovio.LOG_OFF)
    return verovio.toolkit()


def _svg(musicxml: str, options: dict[str, Any]) -> str:
    with _LOCK:
        toolkit = _toolkit()
        toolkit.setOptions(options)
        _load(toolkit, musicxml)
        return str(toolkit.renderToSVG(1))


def _load(toolkit: Any, musicxml: str) -> None:
    if not toolkit.loadData(musicxml) or toolkit.getPageCount() < 1:
        raise ValueError(f"verovio cannot engrave this notation: {toolkit.getLog() or 'no reason given'}")
