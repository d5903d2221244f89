"""The catalogues have what the program asks for, and nothing besides."""

import pytest

from game.text import compile as compiling
from game.text.catalogue_keys import KeysAskedFor
from game.text.compile import faults, sentences, sources, untranslated

# The program is gone through once for both files that ask which keys it has.
pytestmark = pytest.mark.xdist_group("keys of the catalogue")


def test_the_catalogues_hold_every_sentence_asked_for_no_other_and_no_strange_gap():
    """If not: `python -m game.text.compile` tells the same."""
    assert faults() == []


def test_english_is_whole():
    assert untranslated("en") == []


@pytest.fixture
def desk(tmp_path, monkeypatch):
    """A small catalogue in two languages, of which the program is held to ask for two sentences."""
    english = 'msgid ""\nmsgstr "Language: en\\n"\n\nmsgid "a.one"\nmsgstr "{count} of {all:,}"\n\n'
    german = 'msgid ""\nmsgstr "Language: de\\n"\n\nmsgid "a.one"\nmsgstr "{n} von {all}"\n\nmsgid "a.two"\nmsgstr ""\n'
    (tmp_path / "en.po").write_text(english + 'msgid "a.two"\nmsgstr "Two."\n', encoding="utf-8")
    (tmp_path / "de.po").write_text(german, encoding="utf-8")
    monkeypatch.setattr(compiling, "shipped", lambda *_: tmp_path)
    return tmp_path


@pytest.mark.usefixtures("desk")
def test_a_key_that_is_not_there_one_too_many_and_a_strange_gap_are_told(monkeypatch):
    asked = KeysAskedFor(frozenset({"a.one", "a.three"}), frozenset(), frozenset(), frozenset())
    monkeypatch.setattr(compiling, "keys_asked_for", lambda: asked)
    assert faults() == [
        "en.po lacks a.three",
        "en.po has a.two, which nobody asks for",
        "de.po: a.one has a gap {n} that the English has not",
    ]


@pytest.mark.usefixtures("desk")
def test_what_a_language_has_no_words_for_yet_is_untranslated():
    assert sentences(sources()["de"]) == {"a.one": ("{n} von {all}",)}
    assert untranslated("de") == ["a.two"]


def test_compiling_writes_every_language_and_ends_with_1_where_something_is_wrong(desk, capsys):
    assert compiling.main() == 1
    assert sorted(path.name for path in desk.glob("*.mo")) == ["de.mo", "en.mo"]
    assert "de.po: 1 sentences are still English, from a.two to a.two" in capsys.readouterr().out
