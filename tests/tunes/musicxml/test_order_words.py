"""Words that steer the order of play."""

import pytest

from game.music.score import BarMarks, Jump, Until
from game.tunes.musicxml.order_words import is_instruction, names_coda, times_in_words, with_instruction


@pytest.mark.parametrize(
    ("text", "marks"),
    [
        ("D.C.", BarMarks(jump=Jump.DA_CAPO, jump_words="D.C.")),
        ("d. c. al fine", BarMarks(jump=Jump.DA_CAPO, until=Until.FINE)),
        ("Da Capo al Coda", BarMarks(jump=Jump.DA_CAPO, until=Until.CODA, jump_words="Da Capo al Coda")),
        ("D.S. al Coda", BarMarks(jump=Jump.DAL_SEGNO, until=Until.CODA)),
        ("Dal Segno", BarMarks(jump=Jump.DAL_SEGNO, jump_words="Dal Segno")),
        ("del segno al fine", BarMarks(jump=Jump.DAL_SEGNO, until=Until.FINE, jump_words="del segno al fine")),
        ("To Coda", BarMarks(to_coda=True)),
        ("da coda", BarMarks(to_coda=True)),
        ("(Coda)", BarMarks(coda=True)),
        ("Segno", BarMarks(segno=True)),
        ("il fine", BarMarks(fine=True)),
        ("Fine.", BarMarks(fine=True)),
        ("D.C.alfine", BarMarks(jump=Jump.DA_CAPO, until=Until.FINE)),
        ("D.C.alCoda", BarMarks(jump=Jump.DA_CAPO, until=Until.CODA)),
        ("D.S. al \ue048", BarMarks(jump=Jump.DAL_SEGNO, until=Until.CODA)),
        ("Menuetto da Capo", BarMarks(jump=Jump.DA_CAPO, jump_words="Menuetto da Capo")),
        ("To \U0001d10c", BarMarks(to_coda=True)),
        ("\U0001d10c Coda", BarMarks(coda=True)),
        ("\U0001d10b", BarMarks(segno=True)),
        ("D.S. al 2nd ending", BarMarks(jump=Jump.DAL_SEGNO, jump_words="D.S. al 2nd ending")),
        ("morendo.", BarMarks()),
        ("Finale", BarMarks()),
        ("A fine tune", BarMarks()),
        ("Codas of old", BarMarks()),
        ("Slowly", BarMarks()),
        ("", BarMarks()),
    ],
)
def test_words_ask_for_a_jump_or_its_end_or_for_nothing(text: str, marks: BarMarks):
    """A jump keeps its words, unless they say in another spelling what ours say."""
    assert with_instruction(BarMarks(), text) == marks
    assert is_instruction(text) == (marks != BarMarks())


@pytest.mark.parametrize(
    ("words", "often"),
    [("3x", 3), ("x4", 4), ("play 3 times", 3), ("3 repeats then D.C. al Fine", 3), ("1x", None), ("Fine", None)],
)
def test_words_may_say_how_often(words, often):
    assert times_in_words(words) == often


def test_the_name_of_the_coda_is_nothing_but_that():
    assert [words for words in ("Coda", "(CODA)", "\ue048", "to Coda", "Codas of old") if names_coda(words)] == [
        "Coda",
        "(CODA)",
        "\ue048",
    ]
