"""Bars are known by what they hold."""

from dataclasses import replace

import pytest

from game.music.passage import Passage, whole_tune
from game.practice_log.rows.passage_key import passage_key
from tests.made import bar, passage, score

ROWS = ("F4 q, G4 q, A4 h ~", "~A4 q, r q, gE4 e, F#4 h")


def test_the_key_of_bars_does_not_change_from_version_to_version():
    # Worked out by hand from the text it is made of, with sha256sum.
    assert passage_key(passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h", key=-1)) == "b1529965eb79159fba6663b5bb73ea7d"


def test_the_same_bars_in_another_tune_under_other_numbers_have_the_same_key():
    alone = passage(*ROWS)
    longer = score("C5 w", "D5 w", *ROWS, title="Another Tune")
    assert passage_key(Passage(score=longer, start=2, stop=4)) == passage_key(alone)


@pytest.mark.parametrize(
    "rows",
    [
        ("F4 q, G4 q, A4 h ~", "~A4 q, r q, gE4 e, Gb4 h"),
        ("F4 q, G4 q, A4 h", "A4 q, r q, gE4 e, F#4 h"),
        ("F4 q, G4 q, A4 h ~", "~A4 q, r q, F#4 h"),
        ("F4 q, G4 q, A4 h ~", "~A4 q, gE4 e, F#4 h, r q"),
        ("F5 q, G4 q, A4 h ~", "~A4 q, r q, gE4 e, F#4 h"),
        ("F4 q, G4 q, A4 h ~",),
    ],
)
def test_other_spelling_ties_graces_onsets_octaves_and_bars_make_another_key(rows):
    assert passage_key(passage(*rows)) != passage_key(passage(*ROWS))


def test_another_key_signature_makes_another_key():
    assert passage_key(passage(*ROWS, key=1)) != passage_key(passage(*ROWS))


def test_the_metre_counts_and_the_printed_number_does_not():
    tune = score(*ROWS)
    renumbered = replace(tune, bars=tuple(replace(bar, number="17") for bar in tune.bars))
    assert passage_key(whole_tune(renumbered)) == passage_key(whole_tune(tune))
    waltz = replace(tune, bars=(bar("F4 q, G4 q, A4 h ~", meter=replace(tune.bars[0].meter, beats=2)), tune.bars[1]))
    assert passage_key(whole_tune(waltz)) != passage_key(whole_tune(tune))
