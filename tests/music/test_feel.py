"""What words of tempo and feel ask of whoever accompanies."""

from dataclasses import replace

import pytest

from game.music.accompanying import Manner
from game.music.feel import is_latin, suited_manner
from tests.made import score


@pytest.mark.parametrize(
    ("words", "latin"),
    [
        ("Bossa Nova", True), ("Medium Bossa", True), ("SAMBA", True), ("Latin, even 8ths", True), ("Rhumba", True),
        ("Cha-cha-cha", True), ("Baião", True),
        ("Medium swing", False), ("Waltz", False), ("Sambal", False), ("", False),
    ],
)  # fmt: skip
def test_a_bossa_and_its_kin_are_known_by_whole_words(words, latin):
    assert is_latin(words) is latin


@pytest.mark.parametrize(
    ("feel", "swung", "manner"),
    [
        ("Medium Bossa", False, Manner.BOSSA),
        ("Latin", None, Manner.BOSSA),
        ("Latin / Swing", True, Manner.BY_TUNE),
        ("Medium swing, in 2", True, Manner.TWO_BEAT),
        ("Two-beat", None, Manner.TWO_BEAT),
        ("Swing (in four)", True, Manner.FOUR_BEAT),
        ("2 feel, then in 4", True, Manner.BY_TUNE),
        ("Bright", None, Manner.BY_TUNE),
        ("", None, Manner.BY_TUNE),
    ],
)
def test_a_tune_that_says_how_it_goes_goes_so(feel, swung, manner):
    assert suited_manner(Manner.BY_TUNE, replace(score("F4 w"), feel=feel, swung=swung)) is manner


def test_what_the_player_chose_holds_for_every_tune():
    tune = replace(score("F4 w"), feel="Bossa nova")
    assert suited_manner(Manner.FOUR_BEAT, tune) is Manner.FOUR_BEAT
