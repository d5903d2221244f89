"""Makes the shipped fonts: `python -m game.desk.bake_fonts FOLDER_WITH_VOLLKORN`. For developers, needs fontTools.

Vollkorn (SIL Open Font License 1.1) is cut down to the letters of European languages, and musical signs are added from
the outlines of Bravura (OFL 1.1, as shipped with verovio), so that one face sets "B♭, ♩ = 76" in one go. The figures
face has lining numerals of one width for tempo, frets and chord symbols; the text faces have lining numerals too,
for Vollkorn's old-style 1 reads as a Roman I beside a position. Modified versions carry names of their own, as the
licence asks.
"""

import re
import sys
from pathlib import Path
from typing import Any

import verovio
from defusedxml import ElementTree
from fontTools import subset
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.svgLib.path import parse_path
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._c_m_a_p import CmapSubtable

from game.paths import shipped

# MusicXML and SMuFL: flat, natural, sharp, quarter note, half note, eighth note. Code point: SMuFL glyph, scale, lift.
# Scale brings SMuFL's em of four staff spaces to a sign a little taller than a capital letter.
_SIGNS = {
    0x266D: ("E260", 1.2, 195),
    0x266E: ("E261", 1.05, 340),
    0x266F: ("E262", 1.05, 340),
    0x2669: ("E1D5", 0.75, 100),
    0x1D15E: ("E1D3", 0.75, 100),
    0x266A: ("E1D7", 0.75, 100),
}
_FACES = {
    "Regular": ("Homefret Text", "HomefretText-Regular", ("lnum",)),
    "Italic": ("Homefret Text Italic", "HomefretText-Italic", ("lnum",)),
    "SemiBold": ("Homefret Text SemiBold", "HomefretText-SemiBold", ("lnum",)),
    "Medium": ("Homefret Figures", "HomefretFigures", ("lnum", "tnum")),
}
_UNICODES = [*range(0x20, 0x7F), *range(0xA0, 0x180), 0x218, 0x219, 0x21A, 0x21B, *range(0x2010, 0x2027), 0x2032,
             0x2190, 0x2191, 0x2192, 0x2193, 0x2212]  # fmt: skip
_SIDE_BEARING = 30
_SIGNS_NOTICE = "musical signs from Bravura, Copyright (c) Steinberg Media Technologies GmbH"


def bake(vollkorn: Path, target: Path) -> None:
    """Write the four faces into `target` from the TrueType files in `vollkorn`."""
    for weight, (family, file_name, features) in _FACES.items():
        font = TTFont(vollkorn / f"Vollkorn-{weight}.ttf")
        for feature in features:
            _apply_single_substitutions(font, feature)
        options = subset.Options()
        options.layout_features = ["kern", "mark", "ccmp"]
        options.hinting = False
        cutter = subset.Subsetter(options)
        cutter.populate(unicodes=_UNICODES)
        cutter.subset(font)
        _add_full_map(font)
        for code_point, (smufl, scale, lift) in _SIGNS.items():
            _add_sign(font, code_point, smufl, scale, lift)
        _rename(font, family)
        font.save(target / f"{file_name}.ttf")


def _apply_single_substitutions(font: Any, feature: str) -> None:
    """Point the character map at what an OpenType feature would show; pygame cannot switch features on."""
    gsub = font["GSUB"].table
    lookups = {
        index
        for record in gsub.FeatureList.FeatureRecord
        if record.FeatureTag == feature
        for index in record.Feature.LookupListIndex
    }
    for index in sorted(lookups):
        for table in gsub.LookupList.Lookup[index].SubTable:
            real = getattr(table, "ExtSubTable", table)
            for cmap in font["cmap"].tables:
                if not cmap.isUnicode():
                    continue
                for code_point, glyph in list(cmap.cmap.items()):
                    if 0x30 <= code_point <= 0x39 and glyph in real.mapping:
                        cmap.cmap[code_point] = real.mapping[glyph]


def _add_full_map(font: Any) -> None:
    """A character map of format 12: those of format 4 end at U+FFFF, and the half note lies beyond."""
    if font.getBestCmap() and not any(cmap.format == 12 for cmap in font["cmap"].tables):
        full = CmapSubtable.newSubtable(12)
        full.platformID, full.platEncID, full.language = 3, 10, 0
        full.cmap = dict(font.getBestCmap())
        font["cmap"].tables.append(full)


def _add_sign(font: Any, code_point: int, smufl: str, scale: float, lift: int) -> None:

    data, advance = _outline(smufl)
    pen = TTGlyphPen(None)
    moved = TransformPen(Cu2QuPen(pen, max_err=1.0, reverse_direction=True), (scale, 0, 0, scale, _SIDE_BEARING, lift))
    parse_path(data, moved)
    name = f"uni{code_point:04X}"
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = pen.glyph()
    font["hmtx"][name] = (round(advance * scale) + 2 * _SIDE_BEARING, _SIDE_BEARING)
    for cmap in font["cmap"].tables:
        if cmap.isUnicode() and (code_point <= 0xFFFF or cmap.format == 12):
            cmap.cmap[code_point] = name


def _outline(smufl: str) -> tuple[str, float]:
    """Path data (y upwards, an em of 1000) and advance width of a glyph that verovio ships."""
    data_folder = Path(verovio.__file__).parent / "data"
    root = ElementTree.parse(data_folder / "Bravura" / f"{smufl}.xml").getroot()
    path = None if root is None else root.find("path")
    table = (data_folder / "Bravura.xml").read_text(encoding="utf-8")
    found = re.search(rf'<g c="{smufl}"[^>]*?h-a-x="([\d.]+)"', table)
    if path is None or found is None:
        raise ValueError(f"verovio has no glyph {smufl}")
    return path.get("d", ""), float(found.group(1))


def _rename(font: Any, family: str) -> None:
    for record in font["name"].names:
        if record.nameID in (1, 4, 16):
            record.string = family
        elif record.nameID in (3, 6):
            record.string = family.replace(" ", "")
        elif record.nameID == 0:
            record.string = f"{record.toUnicode()}; {_SIGNS_NOTICE}"


if __name__ == "__main__":
    bake(Path(sys.argv[1]), shipped("content", "fonts"))
