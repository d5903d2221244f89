"""The text catalogue: everything said can be set in the faces we ship."""

import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

import game
from game.desk.type import Face, musical
from game.paths import shipped
from game.text.catalogue import catalogue, counted

_SOURCES = "\n".join(path.read_text(encoding="utf-8") for path in Path(game.__file__).parent.rglob("*.py"))


@pytest.mark.parametrize("face", Face)
def test_every_character_of_the_catalogue_has_a_glyph_in_each_face(face):
    """A missing glyph measures like any other, so the font's own character map is asked."""
    cmap = TTFont(shipped("content", "fonts", f"{face.value}.ttf")).getBestCmap()
    needed = set("".join(catalogue().values()) + "♭♯♮♩0123456789ABCDEFGäöüßéèçñ–…’“”←→↑↓")
    assert {character for character in needed if ord(character) not in cmap} == set()


def test_every_sentence_the_program_asks_for_is_there():
    asked = set(re.findall(r'say\(\s*"([a-z_.0-9]+)"', _SOURCES))
    assert asked - set(catalogue()) == set()


def test_every_sentence_of_the_catalogue_is_asked_for():
    """By its own name, or as one of a family such as f"cause.{...}"."""
    families = {prefix for prefix in re.findall(r'f"([a-z_.]*)\{', _SOURCES) if "." in prefix}
    named = set(re.findall(r'"([a-z_]+\.[a-z_.0-9]+)"', _SOURCES))
    unused = [key for key in catalogue() if key not in named and not key.startswith(tuple(families))]
    endings = set(re.findall(r'\}(\.[a-z]+)"', _SOURCES))
    assert [key for key in unused if not key.endswith(tuple(endings))] == []


def test_numbers_up_to_twelve_are_written_in_words():
    assert [counted(n) for n in (0, 1, 12, 13)] == ["no", "one", "twelve", "13"]


@pytest.mark.parametrize(
    ("plain", "shown"),
    [("Bb7", "B♭7"), ("F#m7b5", "F♯m7♭5"), ("Ebmaj7/Bb", "E♭maj7/B♭"), ("Db", "D♭"), ("sub", "sub"), ("Bbb", "B♭♭")],
)
def test_chord_names_are_shown_with_musical_signs(plain, shown):
    assert musical(plain) == shown
