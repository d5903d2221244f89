"""A tune file opened: its format told by its content."""

import pytest

from game.errors import TuneError
from game.tunes.read_tune import read_tune
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
