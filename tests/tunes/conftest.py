"""One reading process for the tests that read many small texts."""

import pytest

from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess


@pytest.fixture(scope="session")
def reading_process():
    with ReadingProcess() as process:
        yield process


@pytest.fixture
def read(reading_process):
    """`read(text, part=..., read=...)`: the Score of a MusicXML text."""

    def reading(text, **choices):
        return read_tune(text, process=reading_process, **choices)

    return reading
