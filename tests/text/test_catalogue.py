"""The text catalogue: everything said can be set in the faces we ship."""

import gettext
import re
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.pofile import read_po
from fontTools.ttLib import TTFont

import game
from game.desk.type import Face, musical
from game.paths import shipped
from game.text.catalogue import counted
from game.text.compile import compiled

LANGUAGES = sorted(shipped("content", "text").glob("*.po"), key=lambda path: path.stem)


def catalogue(language: str = "en") -> dict[str, str]:
    """The sentences of a language by their keys, plural forms one after another."""
    with shipped("content", "text", f"{language}.po").open("rb") as file:
        entries = [entry for entry in read_po(file) if entry.id]
    return {
        entry.id if isinstance(entry.id, str) else entry.id[0]: " ".join(entry.string)
        if isinstance(entry.string, tuple)
        else entry.string
        for entry in entries
    }


_SOURCES = "\n".join(path.read_text(encoding="utf-8") for path in Path(game.__file__).parent.rglob("*.py"))


@pytest.mark.parametrize("face", Face)
def test_every_character_of_the_catalogue_has_a_glyph_in_each_face(face):
    """A missing glyph measures like any other, so the font's own character map is asked."""
    cmap = TTFont(shipped("content", "fonts", f"{face.value}.ttf")).getBestCmap()
    needed = set("".join(catalogue().values()) + "♭♯♮♩0123456789ABCDEFGäöüßéèçñ–…’“”←→↑↓")
    assert {character for character in needed if ord(character) not in cmap} == set()


@pytest.mark.parametrize("source", LANGUAGES, ids=lambda path: path.stem)
def test_the_compiled_catalogue_is_that_of_its_source(source):
    """If not: run `python -m game.text.compile` and commit."""
    with source.with_suffix(".mo").open("rb") as file:
        shipped_texts = gettext.GNUTranslations(file)._catalog
    texts = gettext.GNUTranslations(BytesIO(compiled(source)))._catalog
    assert {**shipped_texts, "": None} == {**texts, "": None}


def test_every_sentence_the_program_asks_for_is_there():
    asked = set(re.findall(r'(?:\bsay|\bmessage|Error)\(\s*"([a-z_]+\.[a-z_.0-9]+)"', _SOURCES))
    assert asked - set(catalogue()) == set()


def test_every_sentence_of_the_catalogue_is_asked_for():
    """By its own name, or as one of a family such as f"cause.{...}"."""
    families = {prefix for prefix in re.findall(r'f"([a-z_.]*)\{', _SOURCES) if "." in prefix}
    named = set(re.findall(r'"([a-z_]+\.[a-z_.0-9]+)"', _SOURCES))
    unused = [key for key in catalogue() if key not in named and not key.startswith(tuple(families))]
    endings = set(re.findall(r'\}(\.[a-z]+)"', _SOURCES))
    ours = {"number.words", "number.signs", "row.last", "faults"}
    assert [key for key in unused if not key.endswith(tuple(endings)) and key not in ours] == []


def test_numbers_up_to_twelve_are_written_in_words():
    assert [counted(n) for n in (0, 1, 12, 13)] == ["no", "one", "twelve", "13"]


@pytest.mark.parametrize(
    ("plain", "shown"),
    [("Bb7", "B♭7"), ("F#m7b5", "F♯m7♭5"), ("Ebmaj7/Bb", "E♭maj7/B♭"), ("Db", "D♭"), ("sub", "sub"), ("Bbb", "B♭♭")],
)
def test_chord_names_are_shown_with_musical_signs(plain, shown):
    assert musical(plain) == shown
