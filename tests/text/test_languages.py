"""Every other language says what English says, with all that is put into it."""

from string import Formatter

import pytest

from game.message import message
from game.text.catalogue import SOURCE_LANGUAGE, catalogue_in
from game.text.compile import sentences, sources, untranslated

ENGLISH = sentences(sources()[SOURCE_LANGUAGE])
OTHERS = sorted(set(sources()) - {SOURCE_LANGUAGE})


def gaps(forms):
    """The names in the gaps of a sentence, in all its forms together, and which of them are rows."""
    parts = [part for form in forms for part in Formatter().parse(form)]
    return {name.split("!")[0] for _, name, _, _ in parts if name}, {
        name for _, name, spec, _ in parts if name and (spec or "").endswith(" ")
    }


@pytest.mark.parametrize("language", OTHERS)
def test_each_sentence_has_the_gaps_of_the_english_one(language):
    """None is lost and none invented; a row is a row, and a number a number."""
    told = sentences(sources()[language])
    assert {key: gaps(told[key]) for key in told} == {key: gaps(ENGLISH[key]) for key in told}


@pytest.mark.parametrize("language", OTHERS)
def test_what_has_plural_forms_in_english_has_those_of_the_language(language):
    """Where they lack, the English ones would be taken."""
    told = sentences(sources()[language])
    assert [key for key in told if len(ENGLISH[key]) > 1 and len(told[key]) < 2] == []


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_is_english_still(language):
    """A language that is offered is whole, and a new sentence of English is said in it at once."""
    assert untranslated(language) == []


@pytest.mark.parametrize("language", OTHERS)
def test_numbers_have_their_words_and_signs(language):
    catalogue = catalogue_in(language)
    assert len({catalogue.in_words(number) for number in range(13)}) == 13
    assert catalogue.in_words(13) == "13"
    assert len(catalogue.in_figures(1234.5, ",.1f")) == len("1,234.5")


def test_the_coach_speaks_german():
    german = catalogue_in("de")
    said = {
        message("coach.some_right_at_without_a_stop", count=11, asked=12, bpm=72): (
            "Elf von zwölf richtig bei 72, ohne Anhalten."
        ),
        message("coach.all_in_time_at", count=15, bpm=60): "Alle 15 im Takt bei 60.",
        message("coach.all_right", count=1): "Die eine Note richtig.",
        message("coach.some_right", count=1, asked=8): "Eine von acht richtig.",
        message("coach.none_right", asked=8): "Keine von acht richtig.",
        message("coach.enough_for_today", count=5): "Fünfmal ist heute genug: jetzt dieselben Töne in anderen Takten.",
        message("coach.not_quick", seconds=1.2): (
            "Sicher, aber noch nicht flink: die meisten Noten in 1,2 Sekunden, dann kommt die Uhr."
        ),
        message("plan.warm_up_slow", notes=("Cis", "Es", "H")): "Zum Aufwärmen, nur der Ton: Cis, Es und H.",
        message("plan.slow_note", note=message("note.at_place", note="H", string=2, fret=0), seconds=2.25): (
            "H auf Saite 2, Bund 0 braucht bei dir am längsten, 2,2 s."
        ),
    }
    assert {told: german.tell(told) for told in said} == said
