"""What the reading process itself does: messages on a pipe, and one answer for each request."""

import json
import os
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import TuneError
from game.message import from_plain
from game.tunes.library.compact import unpack
from game.tunes.sandbox import reading_child
from game.tunes.sandbox.kept_tune import unpacked_tune
from game.tunes.sandbox.reading_child import (
    FAULT,
    KEPT,
    MEMORY,
    REFUSED,
    SCORE,
    SEVERAL,
    ReadingRequest,
    _answer,
    read_source,
    receive,
    send,
)
from game.tunes.sandbox.tune_source import source_of
from tests.tunes.made_midi import midi_bytes, steps

ABC = b"X:1\nT:Ford\nM:4/4\nL:1/4\nK:C\nCDEF|\n"


def asked(content: bytes, **more) -> bytes:
    return ReadingRequest(name="tune.abc", **more).packed(content)


@given(st.lists(st.binary(max_size=300), max_size=5))
def test_messages_come_out_of_the_pipe_as_they_went_in(messages: list[bytes]):
    pipe = BytesIO()
    for message in messages:
        send(pipe, message)
    pipe.seek(0)
    assert [receive(pipe) for _ in messages] == messages
    assert receive(pipe) is None


@given(st.binary(min_size=1, max_size=50), st.data())
def test_a_pipe_that_closes_in_the_middle_of_a_message_gives_none(message: bytes, data):
    pipe = BytesIO()
    send(pipe, message)
    assert receive(BytesIO(pipe.getvalue()[: data.draw(st.integers(0, len(pipe.getvalue()) - 1))])) is None


def test_a_file_is_answered_with_its_score_at_the_reading_asked_for():
    answer = _answer(asked(ABC, reading="concert"))
    assert answer[:1] == SCORE
    assert (unpack(answer[1:]).title, unpack(answer[1:]).reading.value) == ("Ford", "concert")


def test_what_is_refused_is_answered_with_the_message():
    answer = _answer(asked(ABC.replace(b"CDEF", b"z4")))
    assert answer[:1] == REFUSED
    assert from_plain(json.loads(answer[1:])).key == "tune.no_notes"


def test_a_book_is_answered_with_its_tunes_and_that_they_are_tunes():
    answer = _answer(asked(ABC + b"\n" + ABC.replace(b"Ford", b"Mill")))
    sentence, are_tunes, *names = json.loads(answer[1:])
    assert (answer[:1], from_plain(sentence).key, are_tunes, names) == (
        SEVERAL,
        "abc.several_tunes",
        True,
        ["Ford", "Mill"],
    )


@pytest.mark.parametrize(
    ("fault", "answer"), [(MemoryError(), MEMORY), (KeyError("no such thing"), FAULT + b"KeyError: 'no such thing'")]
)
def test_whatever_goes_wrong_in_a_reader_is_an_answer(fault, answer, monkeypatch: pytest.MonkeyPatch):
    def broken(*_):
        raise fault

    monkeypatch.setattr(reading_child, "read_source", broken)
    assert _answer(asked(ABC)) == answer


def test_a_file_is_opened_here_by_its_path_whatever_its_name(tmp_path):
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9\n.abc"))
    path.write_bytes(ABC)
    answer = _answer(ReadingRequest(name="x", path_hex=os.fsencode(path).hex()).packed())
    assert (answer[:1], unpack(answer[1:]).title) == (SCORE, "Ford")
    answer = _answer(ReadingRequest(name="x", path_hex=os.fsencode(path).hex(), keeps=True).packed())
    kept = unpacked_tune(answer[1:])
    assert (answer[:1], kept.original, kept.entry.file_name) == (KEPT, ABC, "x")


def test_a_message_longer_than_any_should_be_is_not_taken_in():
    """Four bytes are enough to promise four gigabytes."""
    assert receive(BytesIO(b"\xff\xff\xff\xffS")) is None
    assert receive(BytesIO(b"\x00\x00\x00\x05Shelf"), most=4) is None


def test_tunes_are_read_in_this_process_by_their_format():
    assert read_source(source_of(ABC, "tune"), None, None).file_format == "abc"
    assert read_source(source_of(midi_bytes(steps(1, 1)), "tune"), None, None).file_format == "midi"
    with pytest.raises(TuneError):
        read_source(source_of(ABC + b"\n" + ABC, "tune"), 3, None)
