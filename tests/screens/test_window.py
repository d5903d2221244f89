"""The window shows one sentence for a while."""

from pathlib import Path

from game.screens.window import MESSAGE_S, PROGRESS_EVERY_S, Window
from game.text.catalogue import say
from game.tunes.library.import_results import ImportProgress, ImportRefused


def test_a_sentence_is_shown_for_seven_seconds():
    window = Window()
    assert not window.message_shown(0.0)
    window.say("A tune is on the shelf.", 100.0)
    assert window.message_shown(100.0)
    assert window.message_shown(99.9 + MESSAGE_S)
    assert not window.message_shown(100.0 + MESSAGE_S)


def test_a_later_sentence_takes_the_place_of_the_one_before():
    window = Window()
    window.say("first", 100.0)
    window.say("second", 105.0)
    assert (window.message, window.message_shown(110.0)) == ("second", True)


def test_no_sentence_is_never_shown():
    window = Window()
    window.say("", 100.0)
    assert not window.message_shown(100.0)


class Imports:
    """Files that are read as the test says: what `poll` tells next, and what goes on."""

    def __init__(self, *told, going_on=None):
        self.told, self.going_on = list(told), going_on

    def poll(self):
        return self.told.pop(0) if self.told else None


def progress(number):
    return ImportProgress(path=Path(f"{number}.abc"), number=number, count=500)


def test_how_far_the_reading_is_is_told_four_times_a_second_at_most_and_its_end_at_once():
    """The page would be drawn anew for each file."""
    window = Window(imports=Imports(progress(1), progress(2), progress(3), ImportRefused()))
    assert window.look_at_imports(100.0)
    assert window.message == "Reading 1 of 500: 1.abc …"
    assert not window.look_at_imports(100.1)
    assert window.look_at_imports(100.0 + PROGRESS_EVERY_S)
    assert window.message == "Reading 3 of 500: 3.abc …"
    assert window.look_at_imports(100.3)
    assert window.message == say("shelf.nothing_there")
    assert not window.look_at_imports(100.4)


def test_a_file_that_takes_its_time_stays_told_as_long_as_it_is_read():
    window = Window(imports=Imports(progress(7), going_on=progress(7)))
    window.look_at_imports(100.0)
    assert not window.look_at_imports(101.0)
    window.say("something else", 102.0)
    assert not window.look_at_imports(103.0)
    assert window.look_at_imports(102.0 + MESSAGE_S)
    assert window.message == "Reading 7 of 500: 7.abc …"
