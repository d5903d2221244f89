"""The rows of the settings sheet."""

from game.player.profiles import add_player
from game.screens.setup.setting_rows import GROUPS, rows_of
from tests.screens.table import Table


def row(name):
    return next(row for group in GROUPS for row in rows_of(group) if row.name == name)


def test_what_is_no_setting_tells_how_it_stands_too(table):
    assert row("players").value(table.context) == "the first player"
    assert row("sharing").value(table.context) == "share nothing"
    assert row("instruments").value(table.context) == "whichever plays"


def test_the_player_the_folder_and_the_instrument_are_told_by_their_names(tmp_path):
    table = Table(profile=add_player("Grace"))
    folder = tmp_path / "between us"
    folder.mkdir()
    table.context.session.sharing.share_through(folder)
    table.settle(device="blue pickup")
    assert row("players").value(table.context) == "Grace"
    assert row("sharing").value(table.context) == "between us"
    assert row("instruments").value(table.context) == "blue pickup"


def test_a_row_has_a_value_to_change_or_leads_on_and_the_tuning_does_both():
    rows = [one for group in GROUPS for one in rows_of(group)]
    assert all(one.option is not None or one.route is not None for one in rows)
    assert [one.name for one in rows if one.option is not None and one.route is not None] == ["tuning"]
