"""The same tune read at another octave. Octave clef and transposition: MusicXML 4.0; neither of them: trade."""

from collections import Counter
from dataclasses import replace

import pytest

from game.music.at_reading import at_reading, octaves_moved
from game.music.clef import Clef
from game.music.score import Reading
from game.music.written import written_notes
from game.text.catalogue import tell
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


LEAD_SHEET = score("C4 q, E4 q, G4 q, C5 q", "F5 q, D5 q, A4 q, C6 q")
# What position V of a bass in E A D G reaches, four fingers and a stretch each way: C sharp 2 less a fret on the E
# string to C sharp 4 on the G string (calc: open strings 28 33 38 43, frets 4 to 9).
BASS_MAP = range(32, 53)


def test_a_lead_sheet_read_on_a_bass_goes_where_most_of_it_lies_on_the_map():
    read = at_reading(LEAD_SHEET, Reading.BASS, BASS_MAP)
    # C4 to C6 becomes C3 to C5 in the bass clef; one octave further down half of it would be lower than the map.
    assert (first(read), read.reading.clef) == (("C3", 36), Clef.BASS)
    assert tell(read.octave_reason).startswith("For your bass clef the page goes an octave down")


def test_low_positions_of_a_bass_bring_a_high_lead_sheet_further_down():
    high = score("A5 q, C6 q, D6 q, F6 q")
    assert first(at_reading(high, Reading.BASS, range(28, 48)))[0] == "A2"
    assert "three octaves down" in tell(at_reading(high, Reading.BASS, range(28, 48)).octave_reason)


def test_in_another_clef_a_file_that_settles_the_sound_keeps_it_where_the_map_has_it():
    fixed = replace(score("E3 h, A3 h"), sound_fixed=True)
    assert first(at_reading(fixed, Reading.CONCERT_BASS, range(40, 60))) == ("E2", 40)
    assert first(at_reading(fixed, Reading.BASS, range(40, 60))) == ("E3", 40)
    assert first(at_reading(fixed, Reading.BASS, BASS_MAP)) == ("E3", 40)
    # The open E of the guitar is no note of this map, the E an octave below it is: most notes with a home go first.
    assert first(at_reading(fixed, Reading.BASS, range(26, 36))) == ("E2", 28)


def test_a_bass_part_is_brought_up_for_who_reads_the_treble_clef():
    part = replace(score("E2 q, G2 q, A2 q, D3 q"), reading=Reading.BASS)
    read = at_reading(part, Reading.GUITAR, range(44, 74))
    assert (read.reading, first(read)[1]) == (Reading.GUITAR, 52)


def test_between_the_two_ways_to_read_the_bass_clef_the_page_stands():
    part = replace(score("E2 q, G2 q"), reading=Reading.BASS)
    assert first(at_reading(part, Reading.CONCERT_BASS)) == ("E2", 40)
    assert first(at_reading(replace(part, sound_fixed=True), Reading.CONCERT_BASS)) == ("E1", 28)


@pytest.mark.parametrize("after", Reading)
@pytest.mark.parametrize("before", Reading)
@pytest.mark.parametrize("fixed", [False, True])
def test_the_counts_of_the_shelf_move_as_the_page_does(before, after, fixed):
    page = replace(LEAD_SHEET, reading=before, sound_fixed=fixed)
    sounds = Counter(note.sounding for note in written_notes(page.bars, before))
    read = at_reading(page, after, BASS_MAP)
    up = octaves_moved(sounds.items(), before, after, BASS_MAP, sound_fixed=fixed)
    assert Counter(note.sounding for note in written_notes(read.bars, after)) == Counter(
        {sounding + 12 * up: count for sounding, count in sounds.items()}
    )
