"""A whole practice from "open" to "done" without touching mouse or keyboard."""

from game.coach.stages import Stage
from game.neck.tuning import Place

FREE = Place(6, 0)


def pluck(table, times):
    for _ in range(times):
        table.play(40, FREE)
        table.wait(0.2)
    table.wait(0.7)


def test_on_the_shelf_the_free_string_opens_and_chooses(table):
    pluck(table, 2)
    assert table.screen._chosen == 1
    pluck(table, 3)
    assert table.screen._chosen == 0
    pluck(table, 1)
    assert table.screen_name == "PlacesPage"


def test_in_places_it_asks_for_help_and_is_never_a_wrong_answer(table):
    table.open("F4 h, G4 h")
    pluck(table, 1)
    assert len(table.screen.view.marks) == 1
    assert table.screen.take.tries == ()
    pluck(table, 1)
    assert table.screen.view.sketch == Place(5, 8)


def test_twice_ends_a_take(table):
    table.open("F4 h, G4 h")
    table.play(53)
    pluck(table, 2)
    assert table.screen_name == "ResultScreen"


def test_with_the_click_once_pauses_and_three_times_goes_slower(table):
    from game.screens.routes import ToPage

    request = table.open("F4 q, G4 q, A4 q, Bb4 q", "C5 w").in_stage(Stage.TIME)
    table.go(ToPage(request, chosen=True))
    pluck(table, 3)
    assert table.screen.request.tempo_bpm is not None
    table.screen.begin()
    table.wait(1.0)
    pluck(table, 1)
    assert not table.screen.running


def test_a_practice_is_driven_from_the_guitar_alone(table):
    table.settle(target_bpm=60)
    pluck(table, 1)
    page = table.screen
    assert page.request.stage is Stage.PLACES
    for note in page.take.expected:
        table.play(note.sounding)
        table.wait(0.3)
    table.wait(1.0)
    assert table.screen_name == "ResultScreen"
    first = table.screen.finished.expected[0].sounding
    table.wait(1.2)
    table.play(first)
    assert table.screen_name == "FreePage"
    page = table.screen
    for note in page.take.expected:
        table.play(first)
        table.wait(0.7 * float(note.note.length) - 0.1)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    pluck(table, 2)
    assert table.screen_name == "ShelfScreen"
