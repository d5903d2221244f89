"""The same tune read at another octave. Octave clef and transposition: MusicXML 4.0; neither of them: trade."""

from dataclasses import replace

from game.music.at_reading import at_reading
from game.music.score import Reading
from game.music.written import written_notes
from tests.made import score


def first(made):
    note = written_notes(made.bars, made.reading)[0]
    return note.pitch.name, note.sounding


def test_a_lead_sheet_that_says_nothing_keeps_its_page_and_sounds_elsewhere():
    plain = score("G4 w")
    assert first(plain) == ("G4", 55)
    assert first(at_reading(plain, Reading.CONCERT)) == ("G4", 67)


def test_where_the_file_settles_the_sound_the_page_moves():
    fixed = replace(score("G4 w"), sound_fixed=True)
    assert first(at_reading(fixed, Reading.CONCERT)) == ("G3", 55)


def test_reading_at_the_other_octave_and_back_is_the_same_tune():
    for made in (score("G4 h, r h"), replace(score("G4 h, A4 h"), sound_fixed=True)):
        assert at_reading(at_reading(made, Reading.CONCERT), Reading.GUITAR) == made
