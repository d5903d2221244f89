"""A tune file opened: its format told by its content."""

import os

import pytest

from game.errors import TuneError
from game.tunes.limits import MAX_FILE_BYTES
from game.tunes.read_tune import read_tune
from game.tunes.sandbox import tune_source
from game.tunes.sandbox.tune_source import bytes_of, source_of
from tests.refusing import refusal
from tests.tunes.abc.hand_written_abc import abc, row
from tests.tunes.hand_written import CONTAINER, QUARTERS, pitch_names, score, zipped
from tests.tunes.read_here import read_here


@pytest.mark.parametrize(
    "container",
    [
        {"META-INF/container.xml": CONTAINER % b"tune.xml"},
        {"META-INF/container.xml": CONTAINER % b"elsewhere.xml"},
        {"META-INF/container.xml": b"<container><broken"},
        {},
    ],
    ids=["named", "misnamed", "broken", "none"],
)
def test_a_compressed_score_is_found_whatever_its_container_says(read, container):
    """Failing a good container, the one score there is."""
    content = zipped(*container.items(), ("tune.xml", score(QUARTERS)))
    assert pitch_names(read(content)) == ["C4", "D4", "E4", "F4"]


def test_the_format_is_told_by_content_not_by_name(tmp_path):
    """An .mxl that calls itself .xml."""
    path = tmp_path / "tune.xml"
    path.write_bytes(zipped(("tune.xml", score(QUARTERS))))
    assert len(read_tune(path).bars) == 1


def test_members_with_paths_out_of_the_archive_are_never_written_anywhere(read, tmp_path, monkeypatch):
    """A member called ../../evil.xml is read in memory like any other."""
    monkeypatch.chdir(tmp_path)
    content = zipped(("../../evil.xml", score(QUARTERS)), ("/etc/other.txt", b""))
    assert len(read(content).bars) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_missing_file_and_a_folder_are_said_plainly(tmp_path):
    """No traceback for a slip of the finger."""
    for path in (tmp_path / "nowhere.xml", tmp_path):
        with refusal(TuneError, "there is no such file"):
            read_tune(path)


def test_a_hostile_file_name_is_cleaned_before_it_is_shown(tmp_path):
    """Control characters of the name stay out of the message."""
    path = tmp_path / "a\x1b[31m\nb.xml"
    path.write_bytes(b"nothing")
    with refusal(TuneError, r"^a\[31m b\.xml: is not a music file"):
        read_tune(path)


def test_abc_is_known_by_its_content():
    """Whatever it is called, with or without X:, after a file header or a mark of version."""
    headed = b"L:1/4\nM:4/4\n\nX:1\nT:Ford\nK:C\nC4\n"
    bare = b"T:Ford\nM:4/4\nL:1/4\nK:C\nC4\n"
    plain = abc("C4")
    for text in (plain, b"%abc-2.1\n\n" + plain, bare, b"\xef\xbb\xbf" + plain, plain.replace(b"\n", b"\r\n"), headed):
        score = read_here(text, name="x.musicxml")
        assert (row(score), score.title, score.file_format) == ("C4:4", "Ford", "abc")


def test_no_more_of_a_file_is_read_than_tells_that_it_is_too_large(tmp_path):
    (tmp_path / "large").write_bytes(bytes(MAX_FILE_BYTES + 100))
    assert len(bytes_of(tmp_path / "large")) == MAX_FILE_BYTES + 1
    with refusal(TuneError, "none"):
        bytes_of(tmp_path / "none")


def test_a_file_that_may_not_be_opened_and_one_that_fails_while_it_is_read_are_said_plainly(tmp_path, monkeypatch):
    """A file of somebody else's; a disk that is pulled out."""
    (tmp_path / "a.abc").write_bytes(abc("C4"))
    for reason in (PermissionError(13, "Permission denied"), OSError(5, "Input/output error")):

        def failing(*_, reason=reason):
            raise reason

        monkeypatch.setattr(tune_source.os, "open", failing)
        with refusal(TuneError, rf"^a\.abc: cannot be read \({reason.strerror}\)"):
            bytes_of(tmp_path / "a.abc")


def test_a_file_that_became_a_pipe_after_it_was_looked_at_is_refused(tmp_path, monkeypatch):
    """What is opened is looked at once more."""
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "a.abc").write_bytes(abc("C4"))
    opened = os.open
    monkeypatch.setattr(tune_source.os, "open", lambda path, flags: opened(path.with_name("pipe"), flags))
    with refusal(TuneError, r"^a\.abc is a pipe"):
        bytes_of(tmp_path / "a.abc")
    monkeypatch.undo()


def damaged_archives():
    """The same good archive, damaged in ways that `zipfile` and its packers each answer with another exception."""
    good = zipped(("tune.xml", score(QUARTERS)))
    body, directory = good.index(b"tune.xml") + 8, good.index(b"PK\x01\x02")
    yield (
        "its packed bytes",
        good[: body + 5] + bytes(byte ^ 0xFF for byte in good[body + 5 : body + 40]) + good[body + 40 :],
    )
    for name, local, central, value in (
        ("encrypted", 6, 8, b"\x01"),
        ("packed in a way nobody knows", 8, 10, b"\x63"),
        ("packed with LZMA, it says", 8, 10, b"\x0e"),
        ("packed with bzip2, it says", 8, 10, b"\x0c"),
        ("a sum that is another", 14, 16, b"\x99"),
        ("of a later version", 4, 6, b"\xff"),
        ("larger than it is", 22, 24, b"\xff\xff\xff"),
        ("a name that is no UTF-8", 30, 46, b"\xff\xfe"),
        ("patched data", 6, 8, b"\x20"),
    ):
        content = bytearray(good)
        content[local : local + len(value)] = value
        content[directory + central : directory + central + len(value)] = value
        yield name, bytes(content)
    yield "a place beyond its end", good[: directory + 42] + b"\xff\xff\xff\x7f" + good[directory + 46 :]


ARCHIVES = dict(damaged_archives())


@pytest.mark.parametrize("content", ARCHIVES.values(), ids=ARCHIVES)
def test_a_damaged_archive_is_read_or_refused_in_a_sentence_whatever_its_unpacker_raises(content):
    """`zlib.error` is none of `zipfile`'s own."""
    try:
        came: object = source_of(content, "a.mxl").content
    except TuneError as refused:
        came = refused.message.key
    assert came in {score(QUARTERS), "tune.cannot_be_unpacked", "tune.no_score_inside", "tune.locked"}
