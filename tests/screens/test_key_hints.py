"""How keys are told at the foot of a page."""

from game.screens.key_hints import key_hints
from game.text.pseudo import PSEUDO
from tests.speaking import speaking


def test_what_stands_on_a_key_stays_and_words_are_those_of_the_language():
    keys = ("F1", "keys.neck"), ("keys.escape", "keys.stop")
    assert key_hints(*keys) == (("F1", "neck"), ("Esc", "stop"))
    with speaking(PSEUDO):
        assert key_hints(*keys) == (("F1", "«neck»"), ("«Esc»", "«stop»"))


def test_no_keys_are_none():
    assert key_hints() == ()
