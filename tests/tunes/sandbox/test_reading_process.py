"""The reading process: asked, limited, and ended when it takes too long."""

import json
import os
import sys
from pathlib import Path

import pytest

from game.errors import TuneError
from game.message import message, to_plain
from game.music.score import Reading
from game.tunes.library.shelf_entry import tune_name
from game.tunes.read_tune import read_tune
from game.tunes.sandbox import reading_process
from game.tunes.sandbox.reading_child import MOST_ANSWER_BYTES
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.refusing import refusal
from tests.tunes.hand_written import QUARTERS, score

HEADER = b"X:1\nT:T\nM:4/4\nL:1/4\nK:C\n"
ABC = HEADER + b"C4"


def test_a_reader_that_takes_too_long_is_ended():
    """The wall limit ends the process, and the sentence says so; whatever the format."""
    for content in (score(QUARTERS), ABC):
        with ReadingProcess(wall_s=0.01) as process, refusal(TuneError, "could not be read within"):
            process.read(content)


def test_after_a_process_that_was_ended_the_next_file_is_read_by_another(monkeypatch):
    """And nothing of the first is left: no process that nobody asks how it ended."""
    with ReadingProcess(wall_s=0.01) as process:
        with refusal(TuneError, "could not be read within"):
            process.read(ABC)
        assert process._process is None
        monkeypatch.setattr(process, "_wall_s", 60)
        assert len(process.read(ABC).bars) == 1
        pid = process._process.pid
    with pytest.raises(ChildProcessError):
        os.waitpid(pid, 0)


def test_a_process_that_other_files_wore_out_costs_the_next_file_nothing():
    """It may die between two files, or with the next in its hands: a fresh one is asked then."""
    with ReadingProcess() as process:
        process.read(ABC)
        first = process._process
        first.kill()
        assert len(process.read(ABC).bars) == 1
        assert process._process is not first


def test_under_a_large_program_files_share_a_process_as_under_a_small_one():
    """On Linux a process counts what its parent held as its own most memory, across `exec`."""
    large = bytes(b"x" * 400_000_000)
    with ReadingProcess() as process:
        process.read(ABC)
        first = process._process
        process.read(ABC)
        process.read(ABC)
        assert process._process is first
    assert len(large) == 400_000_000


def test_a_file_has_its_own_processor_time_and_all_memory_that_there_is_for_one():
    """30 s from now on, however long the process has run; 1 GB (where the system has such limits)."""
    resource = pytest.importorskip("resource")
    with ReadingProcess() as process:
        process.read(score(QUARTERS))
        pid = process._process.pid
        assert resource.prlimit(pid, resource.RLIMIT_AS) == (1_000_000_000, 1_000_000_000)
        soft, _ = resource.prlimit(pid, resource.RLIMIT_CPU)
        assert 30 <= soft <= 40


def test_a_process_that_cannot_be_started_is_a_sentence(monkeypatch):
    """No more processes, no memory for one."""

    def no_process(*_, **__):
        raise BlockingIOError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(reading_process.subprocess, "Popen", no_process)
    with ReadingProcess() as process, refusal(TuneError, "could not be started"):
        process.read(ABC)


def told(said: object) -> bytes:
    return json.dumps(said).encode()


GARBAGE = {
    "nothing": b"",
    "half a length": b"\x00\x00",
    "less than was promised": b"\x00\x00\x01\x00S",
    "four gigabytes": b"\xff\xff\xff\xff" + b"S" * 1_000_000,
    "more than any answer": (MOST_ANSWER_BYTES + 1).to_bytes(4, "big") + b"S" * (MOST_ANSWER_BYTES + 1),
    **{
        name: len(answer).to_bytes(4, "big") + answer
        for name, answer in {
            "an empty answer": b"",
            "a score that is none": b"S[1, 2]",
            "a kept tune": b"K\x00\x00\x00\x02{}",
            "no letter we know": b"\xff\xfe\x00",
            "no JSON": b"E{",
            "no message": b"E[1, 2]",
            "a message nobody has words for": b"E" + told({"key": "no.such_key", "values": {}}),
            "a message without its values": b"E" + told({"key": "tune.too_large", "values": {}}),
            "a message in a message, and so on": b"E" + b'{"key":"verbatim","values":{"text":' * 50_000,
            "names that are none": b"P" + told([to_plain(message("tune.empty", file="x")), False, 1, None, {}]),
            "nothing where names should be": b"P[]",
            "names that are paths": b"N" + told(["../../../etc/passwd", "0" * 24]),
            "a name with a line of its own": b"N" + told(["0" * 24 + "\n"]),
            "letters that cannot be": b"F\xed\xa0\x80\x1b[2J",
        }.items()
    },
}


@pytest.mark.parametrize("answer", GARBAGE.values(), ids=GARBAGE)
def test_also_an_answer_is_not_trusted(answer, tmp_path, monkeypatch):
    """A process that a hostile file took over may say anything: it comes to one sentence."""
    (tmp_path / "answer").write_bytes(answer)
    say = "import sys; sys.stdout.buffer.write(open(sys.argv[1], 'rb').read()); sys.stdout.buffer.flush()"
    started = reading_process.subprocess.Popen

    def other(_command, **more):
        return started([sys.executable, "-I", "-c", say, str(tmp_path / "answer")], **more)

    monkeypatch.setattr(reading_process.subprocess, "Popen", other)
    with ReadingProcess() as process, refusal(TuneError, ".") as refused:
        process.read(ABC, name="x.abc")
    assert "\n" not in str(refused.value)
    with ReadingProcess() as process, refusal(TuneError, "."):
        process.names_in(tmp_path / "x.abc")


def test_the_names_of_tunes_in_a_library_are_told_without_reading_them(tmp_path):
    """One for each tune of a book; by the content, the part and the octave asked for, as the library names them."""
    (tmp_path / "one.xml").write_bytes(score(QUARTERS))
    (tmp_path / "two.abc").write_bytes(ABC + b"\n\n" + ABC)
    with ReadingProcess() as process:
        assert process.names_in(tmp_path / "one.xml") == (tune_name(score(QUARTERS), None, None),)
        book = (tmp_path / "two.abc").read_bytes()
        assert process.names_in(tmp_path / "two.abc", read=Reading.CONCERT) == tuple(
            tune_name(book, number, Reading.CONCERT) for number in (1, 2)
        )
        with refusal(TuneError, "there is no such file"):
            process.names_in(tmp_path / "three.abc")


def test_pipes_and_devices_are_not_waited_for(tmp_path):
    """A pipe that nobody writes to, a device without an end, a link to itself: each said at once."""
    os.mkfifo(tmp_path / "pipe.abc")
    (tmp_path / "zero.abc").symlink_to("/dev/zero")
    (tmp_path / "round.abc").symlink_to("round.abc")
    with ReadingProcess() as process:
        for name, why in (
            ("pipe.abc", "is a pipe, no file"),
            ("zero.abc", "is a device, no file"),
            ("round.abc", "cannot be read"),
            ("x\0y.abc", "there is no such file|cannot be read"),
            ("x" * 300, "cannot be read"),
        ):
            with refusal(TuneError, why):
                process.read(tmp_path / name)


def test_abc_is_read_by_the_same_door():
    assert len(read_tune(ABC, name="tune.abc").bars) == 1
    assert len(read_tune(Path(__file__).parents[3] / "content/tunes/01-au-clair-de-la-lune.musicxml").bars) > 1


def test_after_an_interruption_nothing_more_is_asked():
    """Whoever leaves the reading waits for no file, neither the one at hand nor another."""
    with ReadingProcess() as process:
        process.read(ABC)
        process.interrupt()
        with refusal(TuneError, "could not be read within"):
            process.read(ABC)
    assert process.ended


@pytest.mark.skipif(not hasattr(os, "nice"), reason="this system lowers no process")
def test_it_steps_back_behind_the_game():
    with ReadingProcess() as process:
        process.read(ABC)
        assert os.getpriority(os.PRIO_PROCESS, process._process.pid) == min(19, os.getpriority(os.PRIO_PROCESS, 0) + 10)
