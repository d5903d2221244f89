"""What every screen does with notes, gestures, pedals and instruments that come and go."""

from game.neck.tuning import Place


def test_a_ghost_on_the_free_string_commands_nothing(table, pickup):
    table.open("F4 h, G4 h")
    for _ in range(2):
        pickup.pluck(Place(6, 0), lasts_s=0.001)
        table.wait(0.1)
    table.wait(1.0)
    assert table.screen_name == "PlacesPage"


def test_a_pedal_asks_for_help_and_ends_the_take(table, pickup):
    table.open("F4 h, G4 h")
    pickup.press_pedal()
    assert len(table.screen.view.marks) == 1
    table.play(53)
    pickup.press_pedal(times=2)
    assert table.screen_name == "ResultScreen"
