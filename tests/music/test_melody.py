"""What of a tune sounds, note after note."""

from game.music.melody import melody
from game.music.written import written_notes, written_out
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score
from tests.sampling import sample


def test_ties_are_joined_and_graces_and_rests_left_out():
    """An octave below the page (trade): E3 sounds 40. A tie without its other end joins nothing."""
    made = score("~E3 q, gB4 e, E3 q ~, r q, E3 q ~", "~E3 h, G3 q ~, A3 q", "~A3 w")
    assert melody(made) == (40, 40, 40, 43, 45, 45)


def test_they_are_the_written_notes_of_every_tune_of_the_book():
    for entry in sample(shipped_entries(), by_default=8):
        tune = open_entry(entry)
        notes = written_notes(written_out(tune).bars, tune.reading)
        assert melody(tune) == tuple(note.sounding for note in notes)
