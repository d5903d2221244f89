"""The neck of a chart."""

import pytest
from matplotlib.figure import Figure

from game.music.names import NoteNames
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place, tuning_named
from game.report.chart_neck import ChartNeck, draw_homes, draw_neck, draw_positions

MAP = standard_map()


@pytest.fixture
def axes():
    return Figure().add_axes((0, 0, 1, 1))


def words(axes):
    return [text.get_text() for text in axes.texts]


@pytest.mark.parametrize(("name", "strings"), [("bass", 4), ("standard", 6), ("eight-string", 8)])
def test_it_has_as_many_strings_as_the_instrument(axes, name, strings):
    neck = ChartNeck(strings=tuning_named(name).strings, lowest=0, highest=5, unit_pt=40)
    draw_neck(axes, neck)
    rows = {tuple(line.get_ydata()) for line in axes.lines if line.get_ydata()[0] == line.get_ydata()[1]}
    assert len(rows) == strings
    assert words(axes)[:strings] == [str(number) for number in range(1, strings + 1)]


def test_for_the_left_hand_the_nut_is_on_the_right():
    neck = ChartNeck(strings=6, lowest=0, highest=12, fret_width=10)
    mirrored = ChartNeck(strings=6, lowest=0, highest=12, fret_width=10, mirrored=True)
    assert neck.x(0) < neck.x(12)
    assert mirrored.x(0) > mirrored.x(12)
    assert neck.edges == mirrored.edges
    assert neck.y(1) == mirrored.y(1) < neck.y(6)


def test_without_names_the_rings_are_there_and_empty(axes):
    neck = ChartNeck(strings=6, lowest=3, highest=10, unit_pt=40)
    draw_homes(axes, neck, MAP, None)
    assert not axes.texts
    assert len(axes.patches) == len(MAP.homes)


def test_where_there_is_no_room_for_octaves_they_are_left_out(axes):
    small = ChartNeck(strings=6, lowest=3, highest=10, unit_pt=20)
    draw_homes(axes, small, MAP, NoteNames.ENGLISH)
    assert len(axes.texts) == len(MAP.homes)
    assert not any(word.isdigit() for word in words(axes))


def test_stretches_are_broken_and_what_is_outside_has_corners(axes):
    outside = MAP.with_choice(Place(6, 0))
    neck = ChartNeck(strings=6, lowest=0, highest=10, unit_pt=40)
    draw_homes(axes, neck, outside, None)
    broken = [ring for ring in axes.patches if ring.get_linestyle() not in ("-", "solid")]
    assert len(broken) == sum(home.stretch for home in outside.homes) == 6
    assert len(axes.lines) == 1


def test_both_regions_of_a_joined_map_have_their_numerals(axes):
    joined = standard_map(second=SecondRegion(position=9, seam=65))
    draw_positions(axes, ChartNeck(strings=6, lowest=3, highest=14), joined)
    assert words(axes) == ["V", "IX"]


def test_with_a_capo_the_dots_stay_where_the_neck_has_them(axes):
    """Dots at frets 3, 5, 7, 9 and 12 of the neck (trade) are at 1, 3, 5, 7 and 10 behind a capo at fret 2."""
    draw_neck(axes, ChartNeck(strings=6, lowest=0, highest=10, unit_pt=40, capo=2))
    assert [round(dot.center[0]) for dot in axes.patches] == [1, 3, 5, 7, 10]
