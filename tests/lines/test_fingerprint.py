"""What tells one line from another."""

import hashlib
from dataclasses import replace

from game.lines.fingerprint import fingerprints
from tests.made import score

LINE = score(*["G4 q, A4 q, B4 h", "C5 w"] * 4)


def test_a_line_has_a_mark_of_its_own_and_one_for_each_four_bars():
    assert len(fingerprints(score("G4 w", "A4 w"))) == 1
    assert len(fingerprints(score("G4 w", "A4 w", "B4 w", "C5 w", "D5 w", "E5 w", "F5 w", "G5 w"))) == 3


def test_a_passage_within_a_line_has_the_mark_of_the_passage_alone():
    first = replace(LINE, bars=LINE.bars[:4])
    assert fingerprints(first) < fingerprints(LINE)


def test_key_metre_rhythm_and_spelling_are_told_apart_and_titles_are_not():
    plain = fingerprints(score("G4 h, F#4 h"))
    assert fingerprints(score("G4 h, Gb4 h")) != plain
    assert fingerprints(score("G4 q, F#4 h.")) != plain
    assert fingerprints(score("G4 h, F#4 h", key=1)) != plain
    assert fingerprints(score("G4 h, F#4 h", title="Another")) == plain


def test_a_mark_is_the_first_half_of_sha_256_over_the_written_notes():
    """FIPS 180-4; marks are kept in players' files, so what goes into them must not change."""
    text = "4/4 -1 0:2:G4 2:2:Bb4"
    assert fingerprints(score("G4 h, Bb4 h", key=-1)) == {hashlib.sha256(text.encode()).hexdigest()[:32]}
