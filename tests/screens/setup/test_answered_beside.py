"""What takes its time is worked out beside the picture."""

from threading import Event

import pytest

from game.screens.setup.answered_beside import AnsweredBeside


def test_it_is_there_once_it_was_worked_out():
    may_end = Event()
    asked = AnsweredBeside(lambda: may_end.wait(60))
    assert not asked.there
    may_end.set()
    assert asked.answer() is True
    assert asked.there


def test_what_went_wrong_is_raised_to_whoever_asks():
    def work():
        raise OSError("no such device")

    with pytest.raises(OSError, match="no such device"):
        AnsweredBeside(work).answer()
