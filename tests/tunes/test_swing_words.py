"""What a page asks for: swung or straight eighths."""

from xml.etree import ElementTree as ET

import pytest

from game.tunes.swing_words import swing_asked, swing_in_words
from tests.tunes.hand_written import QUARTERS, score, words


@pytest.mark.parametrize(("text", "swung"), [("Medium swing", True), ("Straight eighths", False), ("Slow", None)])
def test_swing_is_what_the_page_asks_for(read, text, swung):
    """In words."""
    assert read(score(words(text) + QUARTERS)).swung is swung


@pytest.mark.parametrize(
    ("text", "swung"),
    [
        ("Medium Swing", True), ("swung 8ths", True), ("shuffle", True), ("Even 8ths", False),
        ("straight eighths", False),
        ("Bossa nova", False), ("Latin", False), ("Latin swing", True),
        ("No swing", False), ("swing, straight 8s in the bridge", False),
        ("Swingle", None), ("Straight", None), ("", None),
    ],
)  # fmt: skip
def test_words_ask_for_swung_or_straight_eighths_or_say_nothing_of_them(text: str, swung: bool | None):
    assert swing_in_words(text) is swung


@pytest.mark.parametrize(
    ("directions", "swung"),
    [
        ("<sound><swing><first>2</first><second>1</second></swing></sound>", True),
        ("<sound><swing><straight/></swing></sound>", False),
        ("<sound tempo='90'/>", None),
    ],
)
def test_the_sign_of_musicxml_asks_for_it_too(directions: str, swung: bool | None):
    """MusicXML 4.0, the swing element."""
    assert swing_asked(ET.fromstring(f"<part><measure><direction>{directions}</direction></measure></part>")) is swung


def test_the_first_sign_or_word_counts():
    words = "<direction><direction-type><words>{}</words></direction-type></direction>"
    part = f"<part><measure>{words.format('Slow')}{words.format('Swing')}{words.format('No swing')}</measure></part>"
    assert swing_asked(ET.fromstring(part)) is True
