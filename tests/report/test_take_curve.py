"""The tempo of a passage from take to take."""

import xml.etree.ElementTree as ET
from datetime import date, timedelta

from game.practice_log.classes.need import PassageTake
from game.report.plain_svg import ACCENT, READ
from game.report.take_curve import take_curve

DAY = date(2026, 11, 20)


def take(at, bpm, *, clean=False):
    return PassageTake(
        day=DAY + timedelta(days=at), stage="time", tempo_bpm=bpm, notes=8, clean=8, in_time=8, is_clean=clean
    )


def dots(picture):
    return [one for one in ET.fromstring(picture.svg) if one.tag.endswith("circle")]


def test_each_take_has_a_dot_higher_the_faster_and_full_where_clean():
    picture = take_curve([take(0, 60.0, clean=True), take(0, 72.0), take(2, 66.0), take(3, None)], 80)
    drawn = dots(picture)
    assert [one.get("fill") == READ for one in drawn] == [True, False, False]
    heights = [float(one.get("cy")) for one in drawn]
    assert heights[1] < heights[2] < heights[0]
    target = [one for one in ET.fromstring(picture.svg) if one.get("stroke") == ACCENT]
    assert float(target[0].get("y1")) < heights[1]
    said = ET.fromstring(picture.svg).get("aria-label")
    assert said == "3 takes, from 60 to 66 beats a minute; 1 of them clean. The target is 80."


def test_takes_at_one_tempo_lie_in_the_middle_and_nothing_is_drawn_of_none():
    (one,) = dots(take_curve([take(0, 60.0)], None))
    assert 60 < float(one.get("cy")) < 130
    assert take_curve([take(0, None)], 80) is None
    assert "target" not in take_curve([take(0, 60.0)], None).svg
