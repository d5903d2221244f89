"""The staff in a report: every note read, shaded, and words for those who cannot see it."""

import re
from xml.etree import ElementTree as ET

from game.music.score import Reading
from game.practice_log.queries.figure_records import NoteFigures
from game.report.staff_picture import slow_on_the_staff

SVG = "{http://www.w3.org/2000/svg}"


def figures(written, find_s):
    return NoteFigures(written=written, string=2, fret=5, read=9, clean=8, timed=5, find_s=find_s)


def heads(picture):
    """The fills of the inner heads from left to right."""
    return [path.get("fill") for path in ET.fromstring(picture.svg).iter(f"{SVG}path") if path.get("fill")]


def test_each_note_is_drawn_the_quicker_the_darker():
    picture = slow_on_the_staff([figures("G4", 0.5), figures("A4", 2.9)], (), Reading.GUITAR)
    clef, _, quick, _, slow = heads(picture)
    assert quick == "#1e4284"
    assert int(slow[1:3], 16) > 180
    assert clef == "#201d1a"
    assert "Ringed" not in picture.caption


def test_slow_notes_are_ringed_with_their_seconds_and_told_in_words():
    slow = [figures("Bb4", 2.94)]
    picture = slow_on_the_staff([*slow, figures("G4", 0.5)], slow, Reading.GUITAR)
    root = ET.fromstring(picture.svg)
    assert root.get("aria-label") == "A staff with the 2 notes that were read. Ringed: B♭4 2.9 s."
    assert [text.text for text in root.iter(f"{SVG}text")] == ["2.9"]
    assert len(list(root.iter(f"{SVG}polyline"))) == 1


def test_all_print_lies_in_the_picture():
    names = ["E3", "F#3", "A4", "C6", "E6"]
    root = ET.fromstring(slow_on_the_staff([figures(name, 1.0) for name in names], (), Reading.GUITAR).svg)
    left, top, width, height = map(int, root.get("viewBox").split())
    placed = re.findall(r"translate\((-?\d+),(-?\d+)\)", ET.tostring(root, encoding="unicode"))
    assert len(placed) == 2 * len(names) + 2
    assert all(left <= int(x) < left + width and top < int(y) < top + height for x, y in placed)


def test_without_notes_there_is_no_picture():
    assert slow_on_the_staff((), (), Reading.CONCERT) is None
