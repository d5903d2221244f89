"""Where the columns of several maps stand."""

import pytest

from game.neck.neck_map import standard_map
from game.player.map_facts import LONGEST_MAP_NAME
from game.screens.routes import ToMaps
from game.screens.setup.maps_sheet import MapsSheet
from tests.screens.drawn_text import written_texts


def test_the_chosen_column_is_always_in_sight_and_found_again_where_it_stands(table):
    for position in range(6, 12):
        table.context.session.maps.keep(f"map {position}", standard_map(position=position))
    table.go(ToMaps())
    columns = table.screen.columns
    for chosen in range(len(columns)):
        sheet = MapsSheet(width=1280, foot=600, columns=columns, chosen=chosen)
        assert sheet.first <= chosen < sheet.first + sheet.shown
        at = sheet.left_of(chosen) + sheet.column_width / 2, 300
        assert sheet.column_at(at) == chosen


@pytest.mark.parametrize("count", [2, 4])
def test_a_long_name_stands_whole_in_two_lines(table, monkeypatch, count):
    name = "for the big stage, with all the shifts"
    assert len(name) <= LONGEST_MAP_NAME - 2
    names = [f"{name} {at}" for at in range(1, count)]
    for at, one in enumerate(names):
        table.context.session.maps.keep(one, standard_map(position=6 + at))
    table.go(ToMaps())
    texts = written_texts(monkeypatch)
    table.picture()
    shown = " ".join(texts)
    assert all(one in shown for one in names)
