"""Which language is spoken."""

from datetime import date

import pytest

from game.message import message
from game.text import catalogue
from game.text.catalogue import Catalogue, catalogue_in, chosen, say
from game.text.language import LANGUAGE_VARIABLE, choose_language, languages, wanted_language
from game.text.pseudo import BracketedCatalogue


@pytest.mark.parametrize(
    ("setting", "environment", "language"),
    [
        ("", {}, "en"),
        ("", {"LANG": "de_DE.UTF-8"}, "de"),
        ("", {"LANG": "de_DE.UTF-8", "LC_ALL": "C"}, "en"),
        ("", {"LANG": "en_GB", "LC_MESSAGES": "de_AT@euro"}, "de"),
        ("", {"LANG": "de_DE", "LC_MESSAGES": "fr_FR", "LC_ALL": ""}, "en"),
        ("en", {"LANG": "de_DE.UTF-8"}, "en"),
        ("de", {"LANG": "C"}, "de"),
        ("fr", {"LANG": "de_DE.UTF-8"}, "en"),
        ("en", {LANGUAGE_VARIABLE: "de", "LANG": "en_GB"}, "de"),
        ("de", {LANGUAGE_VARIABLE: "en"}, "en"),
        ("de", {LANGUAGE_VARIABLE: "klingon"}, "en"),
        ("de", {LANGUAGE_VARIABLE: "pseudo"}, "pseudo"),
        ("", {LANGUAGE_VARIABLE: "", "LANG": "DE"}, "de"),
    ],
)
def test_the_variable_goes_before_the_setting_and_that_before_the_locale(setting, environment, language):
    assert wanted_language(setting, environment) == language


def test_there_are_english_and_german():
    assert languages() == ("de", "en")


def test_german_has_its_own_signs_and_names():
    german = catalogue_in("de")
    assert german.in_figures(1234.5, ",.1f") == "1.234,5"
    assert german.in_figures(0.96, ".0%") == "96\N{NO-BREAK SPACE}%"
    assert [german.on_day(date(2026, 3, 14), form) for form in ("long", "short")] == ["14. März 2026", "14. März"]
    assert german.say("bars.one", number=3) == "Takt 3"


def test_what_a_language_has_no_words_for_is_said_in_english():
    german = Catalogue("de")
    del german._texts._catalog["bars.one"]
    assert german.say("bars.one", number=3) == "bar 3"


def test_a_language_once_chosen_is_spoken_until_another_is(monkeypatch):
    monkeypatch.setattr(catalogue._Chosen, "catalogue", None)
    monkeypatch.delenv(LANGUAGE_VARIABLE, raising=False)
    monkeypatch.setenv("LC_ALL", "C")
    choose_language()
    assert chosen().language == "en"


def test_in_the_language_of_brackets_every_sentence_and_every_part_of_one_stands_in_brackets(monkeypatch):
    monkeypatch.setattr(catalogue._Chosen, "catalogue", None)
    monkeypatch.setenv(LANGUAGE_VARIABLE, "pseudo")
    choose_language("en")
    assert isinstance(chosen(), BracketedCatalogue)
    assert say("bars.one", number=3) == "«bar »3"
    assert say("bars.with_pickup", bars=message("bars.one", number=3)) == "«bar »3« with the pickup»"
    assert say("verbatim", text="Ode to Joy") == "Ode to Joy"
