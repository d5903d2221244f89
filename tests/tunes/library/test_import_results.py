"""What became of files that were dropped, as values."""

from game.message import verbatim
from game.tunes.library.import_results import ImportDone
from game.tunes.library.library import shipped_entries

ONE, OTHER, *_ = shipped_entries()


def test_several_are_more_than_one_file_or_a_book_of_tunes():
    assert not ImportDone(entries=(ONE,), files=1).several
    assert ImportDone(entries=(ONE, OTHER), files=1).several
    assert ImportDone(entries=(ONE,), files=2, faults=(verbatim("b.abc: is empty"),)).several
