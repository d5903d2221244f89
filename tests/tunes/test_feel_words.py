"""The words of tempo and feel at the head of a page."""

from xml.etree import ElementTree as ET

import pytest

from game.tunes.feel_words import LONGEST_FEEL, feel_in_fields, feel_of_part
from tests.tunes.hand_written import QUARTERS, score, words

OVER = "<direction><direction-type><words>{}</words></direction-type></direction>"
IN_FIGURES = OVER.replace("</direction>", "<direction-type><metronome/></direction-type></direction>")
GENRE = (
    "<identification><miscellaneous><miscellaneous-field name='Genre'>{}</miscellaneous-field>"
    "</miscellaneous></identification>"
)


def feel(*bars: str, credited: tuple[str, ...] = (), genre: str = "", title: str = "A tune") -> str:
    """Of a part with these directions, one a bar."""
    head = "".join(f"<credit page='1'><credit-words>{one}</credit-words></credit>" for one in credited)
    part = "".join(f"<measure>{bar}</measure>" for bar in bars)
    root = ET.fromstring(f"<score-partwise>{GENRE.format(genre)}{head}<part>{part}</part></score-partwise>")
    return feel_of_part(root, root.find("part"), title=title)


@pytest.mark.parametrize(
    "said", ["Medium Bossa", "Slowly, with feeling", "Fast Waltz", "Latin", "Moderato", "Very gently, but not dragging"]
)
def test_words_over_the_first_bars_are_kept_as_they_are_printed(said):
    assert feel(OVER.format(said)) == said
    assert feel("", OVER.format(said)) == said, "behind a pickup"


@pytest.mark.parametrize("said", ["Chorus", "N.C.", "D.S. al Coda", "Gm7", "(Instrumental)", ""])
def test_words_of_other_things_are_none(said):
    assert feel(OVER.format(said)) == ""


def test_words_beside_a_tempo_in_figures_are_of_it_whatever_they_say():
    assert feel(IN_FIGURES.format("With abandon")) == "With abandon"


def test_words_further_on_are_of_a_section():
    assert feel("", "", OVER.format("Bossa nova")) == ""


def test_a_credit_is_one_where_it_says_nothing_else_and_is_not_the_title():
    assert feel("", credited=("Moten Swing", "Jitterbug Waltz", "From the Latin", "Swing Low")) == ""
    assert feel("", credited=("A. Composer", "Med.Swing")) == "Med.Swing"
    assert feel("", credited=("Samba",), title="Samba") == ""


def test_what_is_credited_says_how_eighths_go_where_no_word_over_the_staff_does(read):
    credit = b"<credit><credit-words>A. Composer</credit-words><credit-words>Med.Swing</credit-words></credit>"
    tune = read(score(QUARTERS).replace(b"<part-list>", credit + b"<part-list>"))
    assert (tune.feel, tune.swung) == ("Med.Swing", True)
    straight = read(score(words("Even 8ths") + QUARTERS).replace(b"<part-list>", credit + b"<part-list>"))
    assert straight.swung is False


def test_the_genre_of_the_file_comes_last():
    assert feel("", genre="Bossa Nova") == "Bossa Nova"
    assert feel(OVER.format("Ballad"), genre="Bossa Nova") == "Ballad"


def test_of_abc_the_words_beside_its_tempo_and_its_rhythm_are_kept():
    assert feel_in_fields('"Medium bossa" 1/4=120', "") == "Medium bossa"
    assert feel_in_fields("1/4=120", "samba") == "samba"
    assert feel_in_fields('"Easy"', "waltz") == "Easy, waltz"


def test_a_page_of_text_is_cut():
    assert len(feel(OVER.format("slow " * 400))) == LONGEST_FEEL


def test_a_tune_that_is_read_has_them(read):
    tune = read(score(words("Bossa nova") + QUARTERS))
    assert (tune.feel, tune.swung) == ("Bossa nova", False)
