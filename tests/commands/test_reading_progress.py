"""How far the reading has come, for whoever looks at it."""

import io

import pytest

from game.commands import reading_progress
from game.commands.reading_progress import tell_progress


class Screen(io.StringIO):
    """What standard error is."""

    def __init__(self, *, terminal: bool) -> None:
        super().__init__()
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal


@pytest.fixture
def told(monkeypatch):
    def all_of(numbers, count, *, terminal=True):
        screen = Screen(terminal=terminal)
        monkeypatch.setattr(reading_progress.sys, "stderr", screen)
        for number in numbers:
            tell_progress(number, count)
        return screen.getvalue()

    return all_of


def test_each_file_takes_the_place_of_the_one_before_and_the_end_leaves_nothing(told):
    last = "Reading 10 of 10 …"
    assert told((9, 10, 11), 10) == f"\rReading 9 of 10 …\r{last}\r{' ' * len(last)}\r"


def test_nothing_is_told_where_nobody_looks_or_there_is_one_file(told):
    assert told((1, 2, 3), 2, terminal=False) == ""
    assert told((1, 2), 1) == ""
