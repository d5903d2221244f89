"""Which words name a section. The names are those that stand on printed lead sheets (trade)."""

import pytest

from game.tunes.section_words import LONGEST_SECTION, section_in


@pytest.mark.parametrize(
    ("words", "section"),
    [
        ("Chorus", "Chorus"),
        ("CHORUS:", "CHORUS"),
        ("(Instrumental)", "Instrumental"),
        ("1st Chorus", "1st Chorus"),
        ("Verse 2", "Verse 2"),
        ("Verses 1, 2 & 3", "Verses 1, 2 & 3"),
        ("Middle Eight", "Middle Eight"),
        ("Pre-Chorus", "Pre-Chorus"),
        ("2. Strophe", "2. Strophe"),
        ("Kehrreim", "Kehrreim"),
        ("Überleitung", "Überleitung"),
        ("Teil B", "Teil B"),
        ("1er couplet", "1er couplet"),
        ("Estribillo", "Estribillo"),
        ("Introdução", "Introdução"),
        ("Refräng", "Refräng"),
        ("[Bridge]", "Bridge"),
    ],
)
def test_a_name_of_a_section_is_kept_as_it_is_printed(words, section):
    assert section_in(words) == section


@pytest.mark.parametrize(
    "words",
    [
        "",
        "Slowly",
        "Chorus slowly",
        "go to Interlude",
        "to Verse 3",
        "Repeat Head in/out",
        "Variant for Theme A",
        "Coda",
        "rit.",
        "N.C.",
        "solo con sordino",
        "verse and chorus, then a great deal more that nobody would print in a box",
        "A",
        "Gm7",
    ],
)
def test_other_words_name_no_section(words):
    assert section_in(words) == ""


@pytest.mark.parametrize(
    ("words", "section"), [("A", "A"), ("(B)", "B"), ("C2", "C2"), ("A'", "A'"), ("Am", ""), ("K", "")]
)
def test_a_letter_is_a_section_where_the_file_shows_that_it_is_no_chord(words, section):
    assert section_in(words, letters_too=True) == section
    assert section_in(words) == ""


def test_the_longest_text_is_looked_at_in_no_time_and_none_is_longer_than_is_kept():
    assert section_in("verse " * 100_000) == ""
    assert len(section_in("Verses 1, 2, 3, 4, 5, 6 & 7")) <= LONGEST_SECTION
