"""Why a pitch was wrong, where it can be told. The order of the causes is ours, from teachers' practice."""

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import cause_of
from game.judging.expected import expected_notes
from game.judging.verdicts import Cause
from game.music.pitch import pitch
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.made import passage

MAP = standard_map()


@pytest.mark.parametrize(
    ("row", "key", "n", "name", "cause"),
    [
        ("Bb4 w", -1, 1, "B4", Cause.SIGNATURE),
        ("F#4 w", 2, 1, "F4", Cause.SIGNATURE),
        ("F#4 h, F#4 h", 0, 2, "F4", Cause.ACCIDENTAL),
        ("F#4 w", 0, 1, "F4", Cause.ACCIDENTAL),
        ("B4 w", -1, 1, "Bb4", Cause.ACCIDENTAL),
        ("G4 w", 0, 1, "G5", Cause.OCTAVE),
        ("G4 w", 0, 1, "A4", Cause.NEIGHBOUR),
        ("G4 w", 0, 1, "F4", Cause.NEIGHBOUR),
        ("E4 w", 0, 1, "F4", Cause.NEIGHBOUR),
        ("A3 w", 0, 1, "C4", Cause.LEDGER),
        ("A3 w", 0, 1, "B3", Cause.LEDGER),
        ("C6 w", 0, 1, "A5", Cause.LEDGER),
        ("G4 w", 0, 1, "G#4", Cause.SLIP),
        ("G4 w", 0, 1, "C5", Cause.SLIP),
        ("G4 w", 0, 1, "Eb5", Cause.UNKNOWN),
    ],
)
def test_the_cause_is_told_from_what_was_played(row, key, n, name, cause):
    expected = expected_notes(passage(row, key=key).notes, MAP)[n - 1]
    sounding = pitch(name).midi - 12
    home = MAP.home_of(sounding)
    assert cause_of(expected, PlayedNote(started_s=0, sounding=sounding, place=home.place)) is cause


def test_a_slip_is_only_told_where_the_place_is_known():
    expected = expected_notes(passage("G4 w").notes, MAP)[0]
    assert expected.home.place == Place(4, 5)
    assert cause_of(expected, PlayedNote(started_s=0, sounding=56, place=None)) is Cause.UNKNOWN
    assert cause_of(expected, PlayedNote(started_s=0, sounding=56, place=Place(4, 6))) is Cause.SLIP
