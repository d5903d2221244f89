"""What is read in place of a written note: other lines with their own signs, signs forgotten."""

import pytest

from game.judging.causes.cause_numbers import CAUSE_NUMBERS
from game.judging.causes.misreadings import NoteAsRead, on_ledger
from game.judging.causes.signs import signs_before
from game.judging.expected import expected_notes
from game.music.clef import Clef
from game.music.pitch import pitch
from game.neck.neck_map import standard_map
from tests.made import passage


def as_read(row: str, n: int, key: int = 0) -> NoteAsRead:
    expected = expected_notes(passage(*row.split("|"), key=key).notes, standard_map())
    note = expected[n - 1].note
    return NoteAsRead(note, note.pitch.staff_step, (key, key), signs_before(expected, n - 1))


@pytest.mark.parametrize(
    ("row", "key", "n", "name", "distance"),
    [
        ("E4 w", 2, 1, "F#4", 1),  # D major: the next space has its own sharp
        ("G4 w", -2, 1, "Eb4", -2),
        ("D5 w", -3, 1, "Bb4", -2),
        ("G#4 h, F4 h", 0, 2, "G#4", 1),  # an accidental earlier in the bar holds for the other line
        ("F#4 w", 0, 1, "G#4", 1),  # the printed sign goes with the notehead
    ],
)
def test_another_line_is_read_with_the_signs_that_hold_there(row, key, n, name, distance):
    told = dict(as_read(row, n, key).other_lines(pitch(name).midi))
    assert max(told, key=told.__getitem__) == distance
    assert told[distance] > 0.5


def test_a_line_read_without_its_signature_is_possible_and_rare():
    told = dict(as_read("E4 w", 1, 2).other_lines(pitch("F4").midi))
    assert 0 < told[1] < 0.2


def test_only_on_ledger_lines_is_more_than_a_third_miscounted():
    assert set(dict(as_read("E5 w", 1).other_lines(pitch("A5").midi))) == set()
    assert 3 in dict(as_read("A5 w", 1).other_lines(pitch("D6").midi))
    places = {name: on_ledger(pitch(name).staff_step, Clef.TREBLE) for name in ("C4", "D4", "G5", "A5")}
    assert places == {"C4": True, "D4": False, "G5": False, "A5": True}


@pytest.mark.parametrize(
    ("row", "key", "n", "alter", "forgotten"),
    [
        ("F#4 w", 1, 1, 0, 1.0),
        ("F#4 w", 1, 1, 2, 0.0),
        ("C5 w", 1, 1, 1, CAUSE_NUMBERS.sign_too_many),  # a second sharp
        ("A4 w", 0, 1, 1, 0.0),  # five sharps too many
        ("E4 w", -1, 1, -1, CAUSE_NUMBERS.sign_too_many),
        ("F#4 w", 0, 1, 0, 0.0),
    ],
)
def test_a_forgotten_signature_gives_the_bare_letter(row, key, n, alter, forgotten):
    assert as_read(row, n, key).forgot_signature(alter) == forgotten


@pytest.mark.parametrize(
    ("row", "key", "n", "alter", "forgotten"),
    [
        ("F#4 w", 0, 1, 0, 1.0),
        ("F#4 h, F#4 h", 0, 2, 0, 1.0),
        ("F4 w", 1, 1, 1, 1.0),  # the natural left out
        ("F#4 h, F4 h", 0, 2, 1, 1.0),  # the natural left out: the sharp before it goes on
        ("F#4 w|F4 w", 0, 2, 1, CAUSE_NUMBERS.lasting_sign),
        ("F#5 h, F4 h", 0, 2, 1, CAUSE_NUMBERS.lasting_sign),  # a sign of another octave
        ("G4 w", 0, 1, 1, 0.0),
    ],
)
def test_a_forgotten_accidental_gives_what_would_hold_without_it(row, key, n, alter, forgotten):
    assert as_read(row, n, key).forgot_accidental(alter) == pytest.approx(forgotten)
