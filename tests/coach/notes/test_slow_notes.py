"""Which notes are slow: those that cost more than a fluent map allows."""

from game.coach.notes.slow_notes import slow_notes
from game.coach.numbers import NUMBERS
from game.judging.verdicts import Verdict
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.coach.judged_takes import MAP, after, judged


def read(row, find_ms=800.0, verdicts=None, takes=2, **changes):
    return after(*(judged(row, verdicts, find_ms, sighting=n, **changes) for n in range(1, takes + 1)))


def names(items, neck_map=MAP):
    return [note.key.written for note in slow_notes(items, neck_map)]


def test_notes_that_take_long_are_slow_the_costliest_first_and_quick_ones_are_not():
    items = read("F4 G4 A4 B4 C5", [1.0, 700.0, 3000.0, 4500.0, 600.0])
    assert names(items) == ["B4", "A4"]
    assert [round(note.find_s, 1) for note in slow_notes(items, MAP)] == [3.1, 2.4]


def test_a_note_that_is_often_wrong_is_slow_however_quick():
    missed = [Verdict.CLEAN, Verdict.MISSED, Verdict.CLEAN, Verdict.MISSED, Verdict.MISSED]
    items = read("F4 G4 A4 G4 G4", verdicts=missed)
    assert names(items) == ["G4"]
    assert slow_notes(items, MAP)[0].unsure


def test_of_a_player_to_whom_all_is_quick_no_note_is_called_slow():
    """Not even the least quick one."""
    assert names(read("F4 G4 A4 B4 C5", [1.0, 500.0, 900.0, 700.0, 400.0])) == []


def test_a_note_whose_search_was_never_timed_is_not_called_slow_because_others_are():
    """The first of a row: here all that is known of the player is slow."""
    assert names(read("F4 G4 A4", 4000.0)) == ["G4", "A4"]


def test_one_reading_tells_nothing():
    assert names(read("F4 G4", [1.0, 9000.0], takes=1)) == []


def test_a_pitch_is_named_once_by_the_spelling_that_costs_most():
    items = read("C4 F#4 C4 Gb4", [1.0, 3000.0, 800.0, 6000.0])
    assert names(items) == ["Gb4"]


def test_notes_of_another_map_or_of_a_home_that_was_moved_are_not_among_them():
    items = read("F4 G4", [1.0, 4000.0])
    assert names(items) == ["G4"]
    assert names(items, standard_map(position=9)) == []
    assert names(items, MAP.with_choice(Place(3, 0))) == []


def test_no_more_are_named_than_are_practised_at_once():
    row = "C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5 A5"
    assert len(names(read(row, 5000.0))) == NUMBERS.slow_notes
