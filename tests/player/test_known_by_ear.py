"""Which tunes the player knows by ear: told by the melody as a whole, kept by player, forgiving a damaged file."""

import hashlib
from dataclasses import replace

import pytest

from game.music.passage import passages_of, whole_tune
from game.player.known_by_ear import EAR_FILE, read_known_by_ear, tune_id, write_known_by_ear
from tests.made import score

TUNE = ("F4 h, G4 h", "A4 w", "G4 q, A4 q, Bb4 h", "C5 w", "F4 w")


def mark(*rows, **changes):
    return tune_id(whole_tune(replace(score(*rows), **changes)))


def test_the_mark_is_of_the_tune_wherever_in_it_the_passage_is():
    first, second, *_ = passages_of(score(*TUNE, *TUNE))
    assert tune_id(first) == tune_id(second) == mark(*TUNE, *TUNE)


def test_the_ear_does_not_mind_key_and_octave_and_title():
    assert mark("D4 h, E4 h", "F#4 w", "E4 q, F#4 q, G4 h", "A4 w", "D4 w") == mark(*TUNE)
    assert mark("F5 h, G5 h", "A5 w", "G5 q, A5 q, Bb5 h", "C6 w", "F5 w", title="Another name") == mark(*TUNE)


@pytest.mark.parametrize("other", [("F4 h, G4 h", "A4 w"), ("F4 h, Ab4 h", *TUNE[1:]), ("F4 q, G4 q, r h", *TUNE[1:])])
def test_other_notes_or_another_rhythm_are_another_tune(other):
    assert mark(*other) != mark(*TUNE)


def test_the_mark_lasts():
    """Files hold it: by hand, F4 and G4 as halves are onset 0 length 2 step 0, onset 2 length 2 step 2."""
    assert mark("F4 h, G4 h") == hashlib.sha256(b"0:2:0 2:2:2").hexdigest()[:32]


def test_marks_are_kept_and_a_damaged_file_is_passed_over(tmp_path):
    assert read_known_by_ear(tmp_path) == frozenset()
    marks = frozenset((mark(*TUNE), mark("F4 w")))
    write_known_by_ear(marks, tmp_path / "new")
    assert read_known_by_ear(tmp_path / "new") == marks
    (tmp_path / EAR_FILE).write_bytes(b"\xff\xfe nonsense\n" + mark("F4 w").encode() + b"\n../etc\n")
    assert read_known_by_ear(tmp_path) == {mark("F4 w")}


def test_a_disk_that_refuses_changes_nothing(tmp_path):
    (tmp_path / "file").write_text("")
    write_known_by_ear(frozenset((mark(*TUNE),)), tmp_path / "file")
    assert (tmp_path / "file").read_text() == ""
