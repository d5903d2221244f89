"""The minutes of four weeks, day by day."""

import xml.etree.ElementTree as ET
from datetime import date, timedelta

from game.practice_log.queries.figure_records import DayFigures
from game.report.days_strip import DAYS, days_strip

TODAY = date(2026, 11, 30)


def day(ago, minutes):
    return DayFigures(day=TODAY - timedelta(days=ago), minutes=minutes, takes=1, read=0, clean=0, found=0, found_s=0.0)


def bars(picture):
    return [one for one in ET.fromstring(picture.svg) if one.tag.endswith("rect")]


def test_each_day_of_practice_has_a_bar_in_its_place_as_high_as_its_minutes():
    drawn = bars(days_strip([day(28, 90.0), day(27, 10.0), day(1, 20.0), day(0, 40.0)], TODAY))
    assert len(drawn) == 3
    width = float(ET.fromstring(days_strip([], TODAY).svg).get("viewBox").split()[2])
    assert [int(float(one.get("x")) / (width / DAYS)) for one in drawn] == [0, 26, 27]
    heights = [float(one.get("height")) for one in drawn]
    assert heights[2] == max(heights)
    assert abs(heights[1] - heights[2] / 2) < 0.2


def test_an_empty_month_and_the_shortest_practice_can_be_drawn():
    assert bars(days_strip([], TODAY)) == []
    assert "practised on 0 of 28 days" in days_strip([], TODAY).svg
    assert "&lt;1" in days_strip([day(0, 0.1)], TODAY).svg
