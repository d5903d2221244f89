"""The neck of a map, with slow notes ringed."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.practice_log.queries.figure_records import NoteFigures
from game.practice_log.queries.how_held import HowHeld
from game.report.neck_picture import slow_neck
from game.report.plain_svg import ACCENT

SLOW = (
    NoteFigures(written="E5", string=2, fret=5, read=9, clean=4, timed=3, find_s=2.4),
    NoteFigures(written="D4", string=5, fret=5, read=9, clean=4),
)


def drawn(picture):
    return list(ET.fromstring(picture.svg))


def rings(picture):
    return [one for one in drawn(picture) if one.get("stroke") == ACCENT and one.tag.endswith("circle")]


def test_every_home_has_its_name_and_each_slow_note_a_ring_with_its_seconds():
    neck_map = standard_map()
    picture = slow_neck(neck_map, SLOW, NoteNames.ENGLISH)
    names = [one.text for one in drawn(picture) if one.tag.endswith("text")]
    assert len(rings(picture)) == 2
    assert "2.4" in names
    assert len([name for name in names if name and name[0] in "ABCDEFG"]) == len(neck_map.homes)
    assert "string 2 fret 5, string 5 fret 5" in picture.svg


def test_for_the_left_hand_the_neck_is_mirrored():
    left = slow_neck(standard_map(), SLOW[:1], NoteNames.ENGLISH, HowHeld(left_handed=True))
    right = slow_neck(standard_map(), SLOW[:1], NoteNames.ENGLISH)
    width = float(ET.fromstring(right.svg).get("viewBox").split()[2])
    (one,), (other,) = rings(left), rings(right)
    assert float(one.get("cx")) == pytest.approx(width - float(other.get("cx")), abs=0.2)
    assert one.get("cy") == other.get("cy")


@pytest.mark.parametrize("position", [1, 9])
def test_nothing_leaves_the_picture_on_any_position(position):
    picture = slow_neck(standard_map(position=position), (), NoteNames.ENGLISH, HowHeld(capo=2))
    _, _, width, height = map(float, ET.fromstring(picture.svg).get("viewBox").split())
    for one in drawn(picture):
        if one.tag.endswith("circle"):
            assert 0 < float(one.get("cx")) < width
            assert 0 < float(one.get("cy")) < height
    assert "no note is circled" in picture.svg


def test_ten_seconds_and_more_are_whole_ones_so_that_they_stand_between_two_places():
    slow = [replace(SLOW[0], find_s=seconds) for seconds in (9.94, 12.4)]
    told = [one.text for note in slow for one in drawn(slow_neck(standard_map(), [note], NoteNames.ENGLISH))]
    assert {"9.9", "12"} <= set(told)
    assert "12.4" not in told
