"""From parts to one line."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from game.errors import TuneError
from game.tunes.midi.midi_file import MidiNote, MidiPart
from game.tunes.midi.midi_line import chosen_line, top_line
from tests.refusing import refusal
from tests.tunes.made_midi import midi_score, row, steps
from tests.tunes.told import warnings_told


def test_of_chords_and_of_what_sounds_under_a_held_note_the_top_is_read():
    """And how many were left out is said."""
    score = midi_score([(0, 1, 48), (0, 1, 52), (0.01, 1, 55), (1, 2, 60), (1.5, 0.5, 48), (3, 1, 53)])
    assert row(score) == "G4:1 C5:2 F4:1"
    assert "Of notes that sound together the top one was read: 3 notes were left out." in warnings_told(score)


def test_the_highest_line_is_taken_for_the_melody_unless_a_part_is_chosen():
    """Chords and a bass are there too; which was taken is said."""
    chords = [(at, 2, midi) for at in (0, 2) for midi in (64, 67, 72)]
    tracks = (steps(1, 1, 1, 1, first=36), chords, steps(1, 1, 1, 1, first=48))
    names = ("bass", "piano", "flute")
    score = midi_score(*tracks, names=names)
    assert (row(score), score.part) == ("C4:1 D4:1 E4:1 F4:1", "flute")
    assert warnings_told(score)[0] == "Of 3 parts (1 bass, 2 piano, 3 flute) flute was taken for the melody."
    assert row(midi_score(*tracks, names=names, part=1)) == "C3:1 D3:1 E3:1 F3:1"
    with refusal(TuneError, r"has 3 parts .*, no part 4; choose one of those"):
        midi_score(*tracks, names=names, part=4)


notes = st.builds(
    lambda start, length, midi: MidiNote(start / 4, (start + length) / 4, midi),
    st.integers(0, 30), st.integers(1, 8), st.integers(40, 80),
)  # fmt: skip


@given(st.lists(notes, min_size=1, max_size=20))
def test_of_a_line_no_two_notes_begin_together_and_none_lies_under_the_one_before(played: list[MidiNote]):
    line, left_out = top_line(played)
    assert len(line) + left_out == len(played)
    for before, after in pairwise(line):
        assert before.start < after.start
        assert after.midi >= before.midi or after.end > before.end


@given(st.lists(notes, min_size=1, max_size=20))
def test_what_is_one_line_stays_as_it_is(played: list[MidiNote]):
    line, _ = top_line(played)
    assert top_line(line) == (line, 0)


def test_a_part_called_melody_goes_before_a_higher_line():
    low, high = (MidiNote(0.0, 1.0, 50),), (MidiNote(0.0, 1.0, 80),)
    parts = [MidiPart(name="Flute", notes=high), MidiPart(name="Lead vocal", notes=low)]
    assert chosen_line(parts, None, "tune.mid", ticks=480).part.name == "Lead vocal"
    assert chosen_line(parts, 1, "tune.mid", ticks=480).part.name == "Flute"
    assert chosen_line(parts, 1, "tune.mid", ticks=480).warnings == ()
