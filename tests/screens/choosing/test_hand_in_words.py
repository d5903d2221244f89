"""Where the hand goes in a tune, as it is said before the tune is opened."""

from dataclasses import replace

import pytest

from game.music.score import BarMarks
from game.neck.neck_map import standard_map
from game.screens.choosing.hand_in_words import hand_told
from game.text.catalogue import tell
from tests.made import bar, score
from tests.speaking import speaking

MAP = standard_map()
HOME, LOW, HIGH = "A4 q, C5 q, E5 q, A4 q", "A4 q, F3 q, A4 q, C5 q", "D6 q, E6 q, D6 q, E6 q"


def told(*rows, neck_map=MAP, most=4):
    found = hand_told(score(*rows), neck_map, most)
    return None if found is None else tell(found)


def test_of_a_tune_in_the_position_of_the_map_nothing_is_said():
    assert told(HOME, HOME) is None


def test_each_shift_is_said_with_its_bar_and_the_way_back_as_one():
    assert told(HOME, HIGH, HIGH, HOME) == "The hand: V, bar 2 to IX, bar 4 back to V"


def test_two_shifts_of_one_bar_name_it_once():
    assert told(HOME, LOW) == "The hand: V, bar 2 to I, back to V"


def test_of_many_shifts_the_first_are_said_and_how_many_follow():
    assert told(*[HOME, LOW] * 4, most=2) == "The hand: V, bar 2 to I, back to V and 6 more"
    assert told(HOME, LOW, HIGH, most=2) == "The hand: V, bar 2 to I, back to V and one more shift"


def test_a_tune_that_lies_elsewhere_as_a_whole_says_where():
    assert told(HIGH) == "The hand is in position IX throughout"


def test_bars_are_called_as_the_page_calls_them_repeats_and_pickup_included():
    tune = score(HOME, HOME, HIGH, HOME)
    repeated = replace(tune.bars[1], marks=BarMarks(repeat_end=2))
    tune = replace(tune, bars=(tune.bars[0], repeated, *tune.bars[2:]))
    assert tell(hand_told(tune, MAP)) == "The hand: V, bar 3 to IX, bar 4 back to V"
    pickup = bar("A4 q, F3 q", number="0", pickup=True)
    assert tell(hand_told(replace(tune, bars=(pickup, *tune.bars[:2])), MAP)) == (
        "The hand: V, pickup bar to I, bar 1 back to V"
    )


@pytest.mark.parametrize("language", ["en", "de"])
def test_it_is_said_in_every_language_with_the_numerals(language):
    with speaking(language):
        assert all(numeral in told(HOME, HIGH, HIGH, HOME) for numeral in ("V", "IX", "2", "4"))


def test_in_german_it_is_a_german_sentence():
    with speaking("de"):
        assert told(HOME, HIGH, HIGH, HOME) == "Die Hand: V, in Takt 2 nach IX, in Takt 4 zurück nach V"


def test_another_map_says_otherwise():
    assert told(HOME, HIGH, neck_map=standard_map(position=9)) != told(HOME, HIGH)
