"""The text catalogue: everything said can be set in the faces we ship."""

import gettext
from datetime import date
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from game.desk.typography import Face
from game.message import Message, message
from game.paths import shipped
from game.text.catalogue import all_in_english, catalogue_in, chosen, in_figures, on_day, readable, tell, tell_all
from game.text.compile import compiled, sentences, sources
from game.text.pseudo import CLOSING, OPENING

LANGUAGES = sources()


@pytest.mark.parametrize("face", Face)
def test_every_character_of_the_catalogue_has_a_glyph_in_each_face(face):
    """A missing glyph measures like any other, so the font's own character map is asked."""
    cmap = TTFont(shipped("content", "fonts", f"{face.value}.ttf")).getBestCmap()
    said = "".join(form for source in LANGUAGES.values() for forms in sentences(source).values() for form in forms)
    needed = set(said + OPENING + CLOSING + "♭♯♮♩0123456789ABCDEFGäöüßéèçñ–…’“”←→↑↓")
    assert {character for character in needed if ord(character) not in cmap} == set()


@pytest.mark.parametrize("source", LANGUAGES.values(), ids=lambda path: path.stem)
def test_the_compiled_catalogue_is_that_of_its_source(source):
    """If not: run `python -m game.text.compile` and commit."""
    with source.with_suffix(".mo").open("rb") as file:
        shipped_texts = gettext.GNUTranslations(file)._catalog
    texts = gettext.GNUTranslations(BytesIO(compiled(source)))._catalog
    assert {**shipped_texts, "": None} == {**texts, "": None}


def test_numbers_up_to_twelve_are_written_in_words():
    assert [chosen().in_words(n) for n in (0, 1, 12, 13)] == ["no", "one", "twelve", "13"]


@pytest.mark.parametrize(
    ("clean", "asked", "said"), [(3, 12, "Three of twelve, 12 in all"), (3, 13, "3 of 13, 13 in all")]
)
def test_numbers_of_one_sentence_are_all_words_or_all_figures(monkeypatch, clean, asked, said):
    """Where the sentence wants them alike."""
    english = catalogue_in("en")
    monkeypatch.setattr(english, "_sentence", lambda *_: "{clean:Alike} of {asked:alike}, {asked} in all")
    assert english.say("any", clean=clean, asked=asked) == said


def test_numbers_and_days_alone_are_those_of_a_sentence():
    assert (in_figures(1234.5, ",.1f"), in_figures(0.96, ".0%")) == ("1,234.5", "96%")
    assert (on_day(date(2026, 3, 14)), on_day(date(2026, 9, 3), "short")) == ("14 March 2026", "3 Sep")


def test_a_day_in_a_gap_is_told_with_its_year_or_without(monkeypatch):
    english = catalogue_in("en")
    texts = {"date.long": "d MMMM y", "date.short": "d MMM", "said": "{day}, {day:short}"}
    monkeypatch.setattr(english, "_template", lambda key, _count=None: texts[key])
    assert english.tell(message("said", day=date(2026, 12, 1))) == "1 December 2026, 1 Dec"


def test_several_sentences_follow_one_another():
    said = (message("coach.as_you_wish"), message("coach.begin_at.time", bpm=60))
    assert tell_all(said) == all_in_english(said) == "As you wish. Now with the metronome, at 60."
    assert tell_all(()) == ""


@pytest.mark.parametrize(
    "strange",
    [
        Message("coach.of_years_to_come"),
        Message("coach.new_day"),
        Message("verbatim"),
        message("coach.not_quick", seconds="a few"),
        message("coach.new_day", bpm=Message("coach.of_years_to_come")),
        message("coach.new_day", bpm=(Message("coach.of_years_to_come"),)),
    ],
)
def test_a_message_of_a_file_for_which_there_are_no_words_says_so(strange):
    assert tell(readable(strange)).startswith("This was written by another version of the program")


def test_a_message_of_a_file_for_which_there_are_words_stays_what_it_is():
    assert readable(message("coach.new_day", bpm=60)) == message("coach.new_day", bpm=60)
