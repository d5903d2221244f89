"""The staff of a chart: which notes stand on it, and how they are laid out."""

import pytest

from game.music.names import NoteNames
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import tuning_named
from game.report.chart_staff import ChartStaff, staff_for, written_homes

EIGHT = standard_map(tuning=tuning_named("eight-string"), frets=24, position=9)


def test_every_home_is_written_once_with_both_spellings_where_there_are_two():
    """Position V runs from G♯3 or A♭3 to C♯6 or D♭6 on the page, each semitone once (trade)."""
    homes = written_homes(standard_map())
    assert [home.sounding for home in homes] == list(range(44, 74))
    assert [[spelling.name for spelling in home.spellings] for home in homes[:3]] == [
        ["G#3", "Ab3"],
        ["A3"],
        ["A#3", "Bb3"],
    ]
    assert {spelling.midi - 12 for home in homes for spelling in home.spellings} == set(range(44, 74))
    assert sum(len(home.spellings) for home in homes) == 43


def test_they_are_written_as_they_are_read():
    low = written_homes(standard_map(reading=Reading.CONCERT))[0]
    assert [spelling.name for spelling in low.spellings] == ["G#2", "Ab2"]


@pytest.mark.parametrize("neck_map", [standard_map(), EIGHT])
def test_it_takes_more_rows_and_smaller_staves_where_there_is_less_room(neck_map):
    roomy = staff_for(neck_map, NoteNames.ENGLISH, 250, (200,), 4)
    narrow = staff_for(neck_map, NoteNames.ENGLISH, 110, (200,), 4)
    low = staff_for(neck_map, NoteNames.ENGLISH, 250, (60,), 4)
    assert len(narrow.rows) > len(roomy.rows)
    assert low.height_mm(4) <= 60 < roomy.height_mm(4)
    for staff in (roomy, narrow, low):
        assert staff.fits()
        assert [home for row in staff.rows for home in row] == list(written_homes(neck_map))


def test_long_names_have_their_room():
    """ "sol♯" beside "la♭" takes more than "G♯" beside "A♭"."""
    homes = written_homes(standard_map())

    def narrowest(names):
        return next(width for width in range(400) if ChartStaff(Reading.GUITAR, 1.9, width, (homes,), names).fits())

    assert narrowest(NoteNames.SOLFEGE) > narrowest(NoteNames.ENGLISH)
