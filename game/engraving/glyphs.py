"""Outlines and boxes of musical signs, read from the faces verovio ships, without loading verovio itself.

Code points are those of SMuFL (`glyphnames.json`).
"""

import re
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from game.engraving.shapes import Box
from game.music.clef import Clef
from game.music.score import Reading

# Glyphs are drawn on an em of 1000 units, which is four staff spaces (SMuFL).
GLYPH_UNITS_PER_SPACE: Final = 250.0
_FALLBACK: Final = "Leipzig"
_CLEFS: Final = {
    (Clef.TREBLE, False): "E050",
    (Clef.TREBLE, True): "E052",
    (Clef.BASS, False): "E062",
    (Clef.BASS, True): "E064",
}
_PATH = re.compile(r'\bd="([^"]*)"')
_NUMBER = re.compile(r'\s([xywh])="([^"]*)"')


@dataclass(frozen=True, slots=True)
class Glyph:
    """An outline in glyph units, y upwards, with its box in staff spaces, y downwards from its baseline."""

    path: str
    box: Box


@cache
def glyph(face_name: str, code: str) -> Glyph:
    """The glyph `code` ("E260") of a face ("Leland"); a sign the face lacks comes from verovio's own.

    Raises `KeyError` when no face has it.
    """
    for name in (face_name, _FALLBACK):
        entry = re.search(rf'<g c="{code}" [^>]*>', _boxes(name))
        if entry:
            return Glyph(_outline(name, code), _box(entry[0]))
    raise KeyError(f"no glyph {code} in {face_name}")


@cache
def glyph_box(face_name: str, code: str) -> Box:
    """The box of a glyph in staff spaces, y downwards from its baseline."""
    return glyph(face_name, code).box


def _outline(face_name: str, code: str) -> str:
    found = _PATH.search((_faces() / face_name / f"{code}.xml").read_text(encoding="utf-8"))
    return found[1] if found else ""


def _box(entry: str) -> Box:
    number = {name: float(value) / GLYPH_UNITS_PER_SPACE for name, value in _NUMBER.findall(entry)}
    top, bottom = -(number["y"] + number["h"]), -number["y"]
    return Box(number["x"], top, number["x"] + number["w"], bottom)


@cache
def _boxes(face_name: str) -> str:
    return (_faces() / f"{face_name}.xml").read_text(encoding="utf-8")


@cache
def _faces() -> Path:
    spec = find_spec("verovio")
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError("verovio is not installed: install homefret with its dependencies")
    return Path(spec.submodule_search_locations[0]) / "data"


def clef_code(reading: Reading) -> str:
    """The code point of the clef of a page, which has its 8 where the page sounds an octave lower."""
    return _CLEFS[reading.clef, bool(reading.octaves_down)]
