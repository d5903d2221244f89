"""A line of ABC cut into its tokens (ABC standard 2.1, quoted from memory)."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import TuneError
from game.tunes.abc.abc_tokens import (
    BarLineToken,
    BrokenRhythmToken,
    ChordToken,
    DecorationToken,
    FieldToken,
    GraceToken,
    NoteToken,
    OtherToken,
    RestToken,
    TextToken,
    Token,
    TupletToken,
    tokens_of,
)
from tests.refusing import refusal


def tokens(line: str) -> list[Token]:
    return list(tokens_of(line, 7))


def note(step: str, octave: int = 4, length: Fraction | int = 1, *, alter: int | None = None, tied: bool = False):
    return NoteToken(alter, step, octave, Fraction(length), tied)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("C", note("C")),
        ("c", note("C", 5)),
        ("c''", note("C", 7)),
        ("C,,", note("C", 2)),
        ("C,'", note("C")),
        ("^^F", note("F", alter=2)),
        ("__b", note("B", 5, alter=-2)),
        ("=e", note("E", 5, alter=0)),
        ("A3/2-", note("A", length=Fraction(3, 2), tied=True)),
        ("A/", note("A", length=Fraction(1, 2))),
        ("A///", note("A", length=Fraction(1, 8))),
        ("A/3", note("A", length=Fraction(1, 3))),
        ("z2", RestToken(Fraction(2), 0)),
        ("x", RestToken(Fraction(1), 0)),
        ("Z", RestToken(Fraction(0), 1)),
        ("Z4", RestToken(Fraction(0), 4)),
        ("(3", TupletToken(3, 0, 3)),
        ("(5:4", TupletToken(5, 4, 5)),
        ("(3:2:6", TupletToken(3, 2, 6)),
        ("(3::2", TupletToken(3, 0, 2)),
        ("(1", TupletToken(1, 1, 0)),
        (">", BrokenRhythmToken(1)),
        ("<<<", BrokenRhythmToken(-3)),
        ("|", BarLineToken("|", "")),
        ("|]", BarLineToken("|]", "")),
        ("[|]", BarLineToken("[|]", "")),
        (":||:", BarLineToken(":||:", "")),
        ("::", BarLineToken("::", "")),
        (".|", BarLineToken("|", "", dotted=True)),
        (":|2", BarLineToken(":|", "2")),
        ("|[1,3", BarLineToken("|", "1,3")),
        ("[1-3", BarLineToken("", "1-3")),
        ('"Am7"', TextToken("Am7")),
        ('"never closed', TextToken("never closed")),
        ("!trill!", DecorationToken("trill")),
        ("+fermata+", DecorationToken("fermata")),
        ("S", DecorationToken("segno")),
        ("O", DecorationToken("coda")),
        ("[K:Dm]", FieldToken("K", "Dm")),
        ("{cd}", GraceToken((note("C", 5), note("D", 5)))),
        ("{cd", GraceToken((note("C", 5), note("D", 5)))),
        ("~", OtherToken("~")),
        ("&", OtherToken("&")),
        (":", OtherToken(":")),
        ("H", OtherToken("H")),
    ],
)
def test_each_sign_is_one_token(text: str, expected: Token):
    assert tokens(text) == [expected]


def test_the_notes_of_a_chord_last_as_long_as_its_first_by_the_length_of_the_chord():
    (chord,) = tokens("[C2E4-G]3/2")
    assert chord == ChordToken((note("C", length=3), note("E", length=3, tied=True), note("G", length=3)))


def test_a_chord_without_notes_is_passed_over():
    assert tokens("[~]") == [OtherToken("[")]


def test_spaces_part_tokens_and_are_none():
    assert tokens("C  \tD") == [note("C"), note("D")]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("C0", "line 7 has a note length of 0"),
        ("C/0", "line 7 has a note length of /0"),
        ("C12345", "line 7 has a note length of 12345"),
        ("C/////", "line 7 has a note length of /////"),
        ("C,,,,,", "line 7 .*C,,,,,.* out of all octaves"),
        ("c'''''", "line 7 .*c'''''.* out of all octaves"),
    ],
)
def test_a_length_or_an_octave_that_cannot_be_is_refused_with_its_line(text: str, fault: str):
    with refusal(TuneError, fault):
        tokens(text)


LETTERS = st.text("ABCGabcgz^_=,'0123456789/-|:[](){}<>\"!+.~&SOHKM \\", max_size=60)


@given(LETTERS)
def test_whatever_stands_in_a_line_it_is_read_or_refused_and_no_token_is_without_a_letter_of_its_own(line: str):
    try:
        read = tokens(line)
    except TuneError:
        return
    assert len(read) <= len(line)


@given(LETTERS, LETTERS)
def test_a_bar_line_parts_a_line_in_two_that_are_read_apart(before: str, after: str):
    """Nothing reaches over the music between: but for quotes, brackets and braces, which may."""
    before, after = (text.translate({ord(sign): None for sign in '"[]{}()!+|:.'}) for text in (before, after))
    after = after.lstrip("0123456789,.-")
    try:
        apart = [*tokens(before), BarLineToken("|", ""), *tokens(after)]
    except TuneError:
        return
    assert tokens(f"{before}|{after}") == apart
