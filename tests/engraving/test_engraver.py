"""The one verovio toolkit."""

import re
import subprocess
import sys

import pytest

from game.engraving import engraver
from game.engraving.engraver import UNITS_PER_SPACE, EngravedFace, endless_svg, page_svg, prepare
from game.engraving.notation import musicxml
from game.music.score import Reading

BY_VEROVIO = engraver._svg


@pytest.fixture(autouse=True)
def nothing_kept(monkeypatch):
    """Verovio itself is asked each time, and not what was engraved before."""
    monkeypatch.setattr(engraver, "_svg", BY_VEROVIO)
    monkeypatch.setattr(sys.modules[__name__], "endless_svg", endless_svg.__wrapped__)
    monkeypatch.setattr(sys.modules[__name__], "page_svg", page_svg.__wrapped__)


def test_the_signs_are_those_of_smufl(bar):
    """SMuFL `glyphnames.json`: gClef8vb E052, heads E0A2-E0A4, flat to double flat E260-E264; gClef E050, fClef
    E062, fClef8vb E064.
    """
    bars = (bar("C#5:1 Cb5:1 C5:2"), bar("C##5:1 Cbb5:1 C5:2"), bar("C5:4"))
    clefs = {Reading.GUITAR: "E052", Reading.CONCERT: "E050", Reading.BASS: "E064", Reading.CONCERT_BASS: "E062"}
    for reading, clef in clefs.items():
        used = set(re.findall(r'href="#(E[0-9A-F]{3})-', endless_svg(musicxml(bars, reading), EngravedFace.ENGRAVED)))
        assert {clef, "E0A2", "E0A3", "E0A4", "E260", "E261", "E262", "E263", "E264"} <= used


def test_what_verovio_cannot_read_is_an_error():
    with pytest.raises(ValueError, match="cannot engrave"):
        endless_svg("<nothing/>", EngravedFace.ENGRAVED)


def test_verovio_is_not_loaded_before_something_is_engraved():
    """Its library and faces cost tens of milliseconds, which the first frame does not have."""
    code = (
        "import sys, game.engraving.staff, game.engraving.still_page, game.engraving.outlines;"
        "from game.engraving.glyphs import glyph; glyph('Leland', 'E260');"
        "sys.exit('verovio' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert done.returncode == 0, done.stderr


def test_options_of_one_call_do_not_stay_for_the_next(bar):
    """A page between two endless lines, in another face, leaves them as they were."""
    notation = musicxml((bar("C5:4"), bar("D5:4")), Reading.GUITAR)
    before = endless_svg(notation, EngravedFace.ENGRAVED)
    page_svg(notation, EngravedFace.HANDWRITTEN, 30, least_spread=0)
    assert endless_svg(notation, EngravedFace.ENGRAVED) == before


def test_a_page_is_as_wide_as_it_was_asked_to_be(bar):
    svg = page_svg(musicxml((bar("C5:4"),) * 4, Reading.GUITAR), EngravedFace.ENGRAVED, 60, least_spread=0)
    width = re.search(r'viewBox="0 0 (\d+)', svg)
    assert int(width[1]) / UNITS_PER_SPACE == pytest.approx(60, abs=0.1)


def test_music_that_moves_is_spaced_more_evenly_than_a_printed_page(bar):
    """A half note beside eighths: in proportion to time it would take four times the room."""
    notation = musicxml((bar("C5:2 C5:1/2 C5:1/2 C5:1/2 C5:1/2"),), Reading.GUITAR)
    ratios = []
    for moving in (True, False):
        svg = endless_svg(notation, EngravedFace.ENGRAVED, moving=moving)
        x = [float(found) for found in re.findall(r'href="#E0A[34]-[^"]*" transform="translate\((\d+)', svg)]
        ratios.append((x[1] - x[0]) / (x[2] - x[1]))
    assert ratios[0] > ratios[1] > 1


@pytest.mark.parametrize("face", list(EngravedFace))
def test_a_face_can_be_loaded_before_it_is_needed(face):
    prepare(face)


def test_the_same_notation_is_engraved_once(monkeypatch):
    """Each size and face of it by itself."""
    asked = []
    monkeypatch.setattr(engraver, "_svg", lambda notation, options: asked.append(options["font"]) or notation)
    for face in (*EngravedFace, *EngravedFace):
        engraver.endless_svg("<never-engraved/>", face)
        engraver.page_svg("<never-engraved/>", face, 31, least_spread=0)
    assert asked == ["Leland", "Leland", "Petaluma", "Petaluma"]
    engraver.endless_svg.cache_clear()
    engraver.page_svg.cache_clear()
