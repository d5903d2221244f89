"""Where the columns of several maps stand."""

from game.neck.neck_map import standard_map
from game.screens.routes import ToMaps
from game.screens.setup.maps_sheet import MapsSheet


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
