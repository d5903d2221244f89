"""Which tune is known by ear is told by the melody as a whole."""

import hashlib
from dataclasses import replace

import pytest

from game.music.passage import passages_of, whole_tune
from game.player.known_by_ear import tune_id
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
