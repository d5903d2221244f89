"""Files and folders that a command names, read one after another whatever is wrong with some."""

import pytest

from game.commands.tunes_of_files import tunes_of
from game.text.catalogue import tell
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts

ABC = b"X:1\nT:Ford\nM:4/4\nL:1/4\nK:F\nFGAB|\n"
DUO = parts(*[(name, measure(ATTRIBUTES + note("C4", 16))) for name in ("Flute", "Bass")])


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "a.abc").write_bytes(b"strings")
    (tmp_path / "b.abc").write_bytes(ABC + b"\n" + ABC.replace(b"Ford", b"Mill"))
    (tmp_path / "c.xml").write_bytes(DUO)
    (tmp_path / "d.abc").write_bytes(ABC)
    return tmp_path


def test_a_file_that_cannot_be_read_is_named_and_the_others_are_read(folder):
    """All tunes of a book, and of a score with parts the first."""
    scores, (unread,) = tunes_of([folder], None)
    assert [score.title or score.part for score in scores] == ["Ford", "Mill", "Flute", "Ford"]
    assert (unread.path.name, tell(unread.fault)[:30]) == ("a.abc", "a.abc: is not a music file we ")


def test_of_one_score_alone_it_is_asked_which_part_is_meant(folder):
    scores, (unread,) = tunes_of([folder / "c.xml"], None)
    assert not scores
    assert "Flute" in tell(unread.fault)


def test_what_is_not_there_is_named_too(folder):
    scores, unread = tunes_of([folder / "nowhere.abc", folder / "d.abc"], None)
    assert len(scores) == 1
    assert [one.path.name for one in unread] == ["nowhere.abc"]
