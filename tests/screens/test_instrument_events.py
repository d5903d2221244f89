"""What is played and plugged in comes to the screen that is there."""

from game.judging.verdicts import Verdict
from game.player.settings import DeviceSettings, Settings
from tests.screens.plugged_in import NAME, Plugged


def test_a_guitar_nobody_has_set_up_is_told_how(pickup):
    assert "I on the shelf sets it up" in pickup.table.context.window.message


def test_what_was_set_up_is_how_notes_are_read(table):
    pickup = Plugged(table, channels=(16, 15, 14, 13, 12, 11))
    device = DeviceSettings(channels=(16, 15, 14, 13, 12, 11))
    table.context.change_settings(Settings(devices={NAME: device}))
    table.open("F4 h, G4 h")
    home = table.context.settings.neck_map().home_of(53).place
    pickup.pluck(home)
    assert [verdict.verdict for verdict in table.screen.take.answered] == [Verdict.CLEAN]
