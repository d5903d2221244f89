"""The pages of a tune that was corrected since."""

from game.music.passage import passages_of
from game.music.written import written_out
from game.player.corrected_pages import corrected_pages
from game.tunes.library.corrected import as_before
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score

ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "A4 q, G4 q, F4 h", "G4 q, A4 q, Bb4 q, C5 q", "A4 w")


def test_the_page_with_another_note_and_the_whole_tune_are_told_of_and_no_others():
    before, now = score(*ROWS, *ROWS), score(*ROWS, "F4 q, G4 q, A4 q, B4 q", *ROWS[1:])
    found = list(corrected_pages(before, now))
    assert [(page.was.start, page.was.stop, page.is_now.stop) for page in found] == [(4, 8, 8), (0, 8, 8)]
    assert list(corrected_pages(now, now)) == []


def test_of_every_corrected_tune_each_page_has_the_bars_it_had():
    corrected = 0
    for entry in shipped_entries():
        if (before := as_before(entry)) is not None:
            was, now = written_out(before), written_out(open_entry(entry))
            assert [(page.start, page.stop) for page in passages_of(was)] == [
                (page.start, page.stop) for page in passages_of(now)
            ]
            found = list(corrected_pages(was, now))
            assert found[-1].is_now.whole
            assert len(found) > 1
            corrected += 1
    assert corrected >= 9
