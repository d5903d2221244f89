"""An ABC file as text: its tunes and their voices."""

import pytest

from game.errors import SeveralPartsError, TuneError
from game.tunes.abc.abc_text import abc_tunes, body_field, readable, title_of, voices_of
from game.tunes.sandbox.tune_source import TuneSource
from tests.refusing import refusal
from tests.tunes.abc.hand_written_abc import abc, abc_score, row
from tests.tunes.read_here import read_here
from tests.tunes.told import warnings_told


def test_of_several_tunes_one_is_chosen_by_number():
    """And all are named."""
    book = abc("C4") + b"\n" + abc("D4").replace(b"Ford", b"Mill")
    with refusal(SeveralPartsError, r"holds 2 tunes \(1 Ford, 2 Mill\); choose one with --part N") as caught:
        read_here(book, name="book.abc")
    assert caught.value.names == ("Ford", "Mill")
    assert read_here(book, name="book.abc", part=2).title == "Mill"
    with refusal(TuneError, "no tune 3; choose one of those"):
        read_here(book, name="book.abc", part=3)


def test_of_several_voices_the_first_is_read_unless_another_is_asked_for():
    """With its name, never one after another."""
    text = abc('V:1 name="High"\nC4 | D4 |\nV:2\nE,4 | F,4 |\nV:1\nG4 |')
    score = read_here(text, name="duo.abc")
    assert (row(score), score.part) == ("C4:4 | D4:4 | G4:4", "High")
    assert warnings_told(score)[0] == "Of 2 voices (1 High, 2 2) the first was read."
    assert row(read_here(text, name="duo.abc", part=2)) == "E3:4 | F3:4"
    with refusal(TuneError, r"has 2 voices .* no part 3"):
        read_here(text, name="duo.abc", part=3)


def test_inline_voices_are_kept_apart():
    """A voice may change inside a line."""
    assert row(abc_score("[V:1] C4 | [V:2] E4 | [V:1] D4 |")) == "C4:4 | D4:4"


def source(text: str, encoding: str = "utf-8") -> TuneSource:
    return TuneSource(name="tune.abc", file_format="abc", content=text.encode(encoding))


def test_an_empty_line_ends_a_tune_and_what_stands_between_tunes_is_no_music():
    one, two = abc_tunes(source("X:1\nT:One\nK:C\nCDEF\n\nA word about it.\n\nX:2\nT:Two\nK:G\nGABc\n"))
    assert [title_of(tune) for tune in (one, two)] == ["One", "Two"]
    assert [line for _, line in one.body] == ["CDEF"]


def test_an_x_ends_a_tune_without_an_empty_line_before_it():
    assert len(abc_tunes(source("X:1\nK:C\nC\nX:2\nK:C\nD\n"))) == 2


def test_a_header_before_the_first_tune_holds_for_all_but_its_title():
    one, two = abc_tunes(source("M:3/4\nT:A Book\nL:1/8\n\nX:1\nK:C\nC\n\nX:2\nM:4/4\nK:C\nD\n"))
    assert [tune.field("M") for tune in (one, two)] == ["3/4", "4/4"]
    assert [tune.field("L") for tune in (one, two)] == ["1/8", "1/8"]
    assert title_of(one) == ""


def test_of_a_field_that_stands_several_times_the_last_counts_and_of_titles_the_first():
    (tune,) = abc_tunes(source("X:1\nT:Ford\nT:The Ford\nL:1/4\nL:1/8\nK:C\nC\n"))
    assert (tune.field("T"), tune.field("L"), tune.field("Q")) == ("Ford", "1/8", "")


def test_a_header_without_a_key_is_no_tune():
    assert [title_of(tune) for tune in abc_tunes(source("X:1\nT:Lost\nX:2\nT:Kept\nK:C\nC\n"))] == ["Kept"]
    with refusal(TuneError, r"tune\.abc: is an ABC text without a tune"):
        abc_tunes(source("X:1\nT:Lost\nM:4/4\nCDEF\n"))


def test_lines_keep_their_numbers_and_lose_their_comments():
    (tune,) = abc_tunes(source("X:1\nK:C\nCD % two\n%%text kept\nEF\n"))
    assert tune.body == ((3, "CD "), (4, "%%text kept"), (5, "EF"))


def test_text_that_is_no_utf_8_is_read_as_latin_1():
    (tune,) = abc_tunes(source("X:1\nT:Été\nK:C\nC\n", "latin-1"))
    assert title_of(tune) == "Été"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (r"Andr\'e", "André"),
        (r"H\`a", "Hà"),
        (r"\"Uber", "Über"),
        (r"Ma\~nana", "Mañana"),
        (r"a\b", "ab"),
        ("A\x07", "A"),
    ],
)
def test_accents_are_composed_and_control_characters_go(text: str, shown: str):
    assert readable(text) == shown


def test_a_letter_and_a_colon_are_a_field_in_the_music_unless_they_may_be_a_note_and_a_bar_line():
    assert body_field("K: Dm ") == ("K", "Dm")
    assert body_field("G:|") is None
    assert body_field("CDEF") is None


def test_voices_without_music_are_no_voices():
    (tune,) = abc_tunes(source('X:1\nV:1\nV:2 nm="Low"\nK:C\nV:1\nw:la la\nV:2\nC,D,\n'))
    assert [voice.name for voice in voices_of(tune)] == ["Low"]
