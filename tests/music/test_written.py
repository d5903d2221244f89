"""Written notes in order of play."""

from dataclasses import replace
from fractions import Fraction

from game.music.score import NO_MARKS, BarLine, BarMarks, Reading
from game.music.written import HeadId, written_notes, written_out
from tests.made import passage, score


def test_ties_are_joined_into_one_note_with_both_heads():
    notes = passage("G4 h., A4 q ~", "~A4 h, B4 h").notes
    assert [(note.pitch.name, note.onset, note.length) for note in notes] == [
        ("G4", 0, 3), ("A4", 3, 3), ("B4", 6, 2),
    ]  # fmt: skip
    assert notes[1].heads == (HeadId(0, 1), HeadId(1, 0))


def test_a_tie_without_its_beginning_is_read_as_a_note():
    assert [note.onset for note in passage("~A4 h, B4 h").notes] == [0, 2]


def test_a_tie_to_another_pitch_joins_nothing():
    assert len(passage("A4 h ~, B4 h").notes) == 2


def test_grace_notes_and_rests_are_not_asked_for():
    notes = passage("gB4 e, A4 q, r q, C5 h").notes
    assert [note.pitch.name for note in notes] == ["A4", "C5"]
    assert notes[1].onset == Fraction(2)


def test_the_guitar_sounds_an_octave_below_the_page():
    """Open low E is written E3 and sounds 40, high E written E5 and sounds 64 (trade; clef-octave-change -1)."""
    low, high = passage("E3 h, E5 h").notes
    assert (low.sounding, high.sounding) == (40, 64)


def test_the_middle_line_sounds_b3_at_guitar_octave_and_b4_at_concert_pitch():
    assert passage("B4 w").notes[0].sounding == 59
    assert passage("B4 w", reading=Reading.CONCERT).notes[0].sounding == 71


def test_onsets_start_at_zero_where_the_music_starts():
    assert written_notes(score("r q, G4 h.").bars, Reading.GUITAR)[0].onset == 1


def test_repeats_are_written_out_and_a_double_bar_line_stands_where_the_music_goes_back():
    made = score("G4 w", "A4 w")
    repeated = replace(made, bars=(made.bars[0], replace(made.bars[1], marks=BarMarks(repeat_end=2))))
    played = written_out(repeated)
    assert [bar.number for bar in played.bars] == ["1", "2", "1", "2"]
    double = BarMarks(bar_line=BarLine.DOUBLE)
    assert [bar.marks for bar in played.bars] == [NO_MARKS, double, NO_MARKS, NO_MARKS]
    assert written_out(played) == played


def test_words_of_sections_and_double_bar_lines_stay_where_they_stand():
    """A final bar line within the tune, as before a coda, is a double one now that the music goes on."""
    made = score("G4 w", "A4 w", "B4 w")
    marks = BarMarks(section="Chorus"), BarMarks(bar_line=BarLine.FINAL, coda=True), BarMarks(bar_line=BarLine.FINAL)
    played = written_out(replace(made, bars=tuple(replace(b, marks=m) for b, m in zip(made.bars, marks, strict=True))))
    assert [bar.marks for bar in played.bars] == [marks[0], BarMarks(bar_line=BarLine.DOUBLE), NO_MARKS]
