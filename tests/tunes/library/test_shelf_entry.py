"""What the shelf shows of a tune, and the name it has in the library."""

from dataclasses import replace

from game.music.melody import melody
from game.music.score import BarMarks, Reading
from game.neck.melody_counts import melody_counts
from game.tunes.library.shelf_entry import entry_of, tune_name
from tests.made import score


def test_graces_count_for_no_note_and_repeats_only_for_what_is_played():
    """An octave below the page (trade): E3 sounds 40, G4 55."""
    once = score("E3 q, gB4 e, E3 q, G4 h", "E3 w")
    twice = replace(once, bars=(once.bars[0], replace(once.bars[1], marks=BarMarks(repeat_end=2))))
    shown = entry_of(twice, name="", file_name="two bars.abc")
    assert (shown.bars, shown.plays, shown.notes, shown.lowest, shown.highest) == (2, 4, 4, 40, 55)
    assert shown.counts == ((40, 3), (55, 1))


def test_a_tune_without_a_title_goes_by_its_file():
    """The shelf always has something to show."""
    assert entry_of(score("E3 w", title=""), name="", file_name="morning.xml").title == "morning"


def test_pairs_are_counted_as_the_tune_is_played_and_moved_with_the_reading():
    tune = score("E3 q, G3 q, A3 h", "E3 h, G3 h")
    shown = entry_of(tune, name="", file_name="pairs.abc")
    counts = shown.melody(shown.reading)
    assert counts == melody_counts([melody(tune)])
    octave_up = shown.melody(Reading.CONCERT)
    assert octave_up.notes == counts.notes
    assert set(octave_up.counts) == {sounding + 12 for sounding in counts.counts}


def test_its_name_is_made_of_content_part_and_reading_and_is_no_path():
    """What lies in libraries stays where it is. SHA-256 of `../../x|1|`, by sha256sum of GNU coreutils."""
    assert tune_name(b"../../x", None, None) == "7135696be5a86046bd5592eb"
    names = {tune_name(b"x", part, read) for part in (1, 2) for read in (None, *Reading)}
    assert len(names) == 2 * (1 + len(Reading))
    assert all(len(name) == 24 and set(name) <= set("0123456789abcdef") for name in names)
    assert tune_name(b"x", 1, None) == tune_name(b"x", None, None)
