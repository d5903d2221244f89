"""The reading process: asked, limited, and ended when it takes too long."""

import pytest

from game.errors import TuneError
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess
from game.tunes.sandbox.tune_source import source_of
from tests.refusing import refusal
from tests.tunes.hand_written import QUARTERS, score


def test_a_reader_that_takes_too_long_is_ended():
    """The wall limit ends the process, and the sentence says so."""
    with ReadingProcess(wall_s=0.01) as process, refusal(TuneError, "could not be read within"):
        process.read_part(score(QUARTERS), "tune.xml")


def test_a_reader_that_fails_is_reported_in_one_sentence():
    """What music21 raises is worded for the player; the process goes on."""
    with ReadingProcess() as process:
        with refusal(TuneError, "its notes make no sense to the reader"):
            process.read_part(b"<nothing", "tune.xml")
        assert len(process.read_part(score(QUARTERS), "tune.xml").bars) == 1


def test_the_reader_may_not_take_all_memory():
    """The limit of 1 GB holds in the reading process (where the system has such limits)."""
    resource = pytest.importorskip("resource")
    with ReadingProcess() as process:
        process.read_part(score(QUARTERS), "tune.xml")
        pid = process._process.pid
        assert resource.prlimit(pid, resource.RLIMIT_AS) == (1_000_000_000, 1_000_000_000)
        assert resource.prlimit(pid, resource.RLIMIT_CPU) == (30, 30)


HEADER = b"X:1\nT:T\nM:4/4\nL:1/4\nK:C\n"


def test_abc_and_midi_are_read_under_the_limits_too():
    """A reader of ours that takes for ever, or all memory, ends in one sentence: both in a process of their own."""
    with ReadingProcess(wall_s=0.01) as process:
        source = source_of(HEADER + b"C4", "tune.abc")
        with refusal(TuneError, "could not be read within"):
            process.read_file(source, None, None)
    assert len(read_tune(HEADER + b"C4", name="tune.abc").bars) == 1
