"""One voice read sign by sign (ABC standard 2.1, quoted from memory)."""

import pytest

from game.errors import TuneError
from game.music.written import written_notes, written_out
from tests.refusing import refusal
from tests.tunes.abc.hand_written_abc import abc_score, row
from tests.tunes.told import warnings_told

ROWS = [
    ("octaves", "C, C c c'", "C3:1 C4:1 C5:1 C6:1"),
    ("lengths", "C2 D/ E/4 F3/4 G3/2", "C4:2 D4:1/2 E4:1/4 F4:3/4 G4:3/2"),
    ("slashes", "C/ C// D2 z/", "C4:1/2 C4:1/4 D4:2 z1/2"),
    ("accidentals", "^C _D =E ^^F", "C#4:1 Db4:1 E4:1 F##4:1"),
    ("an accidental holds to the bar line in every octave", "^F f F2 | F4", "F#4:1 F#5:1 F#4:2 | F4:4"),
    ("broken rhythm", "C>D E<F | C>>D E2", "C4:3/2 D4:1/2 E4:1/2 F4:3/2 | C4:7/4 D4:1/4 E4:2"),
    ("broken rhythm with spaces and graces", "C > {g}D E2", "C4:3/2 {G5} D4:1/2 E4:2"),
    ("triplets", "(3CDE F2 G", "C4:2/3 D4:2/3 E4:2/3 F4:2 G4:1"),
    ("a triplet of two notes", "(3:2:2C2D F2", "C4:4/3 D4:2/3 F4:2"),
    ("quintuplet in two beats", "(5CDEFG A2", "C4:2/5 D4:2/5 E4:2/5 F4:2/5 G4:2/5 A4:2"),
    ("ties over the bar line", "C4- | C2 D2", "C4:4~ | C4:2 D4:2"),
    ("a tie carries its accidental", "^F4- | F2 F2", "F#4:4~ | F#4:2 F4:2"),
    ("a tie to another pitch is a slur", "C2-D2", "C4:2 D4:2"),
    ("graces", "{CD}E4", "{C4} {D4} E4:4"),
    ("the top note of a chord", "[CEG]2 [Ce]2", "G4:2 E5:2"),
    ("lengths of a chord", "[C2E2]2", "E4:4"),
    ("rests", "z2 C2 | z4 | Z2 | x2 C2", "z2 C4:2 | z4 | z4 | z4 | z2 C4:2"),
    ("slurs, decorations and spaces are passed over", "(C.D) ~E !trill!F y", "C4:1 D4:1 E4:1 F4:1"),
    ("a length no value prints becomes tied heads", "C5/4 D11/4", "C4:1~ C4:1/4 D4:2~ D4:3/4"),
    ("a second voice over the first is left out", "C2 D2 & E4 | F4", "C4:2 D4:2 | F4:4"),
    ("a line that ends on a full bar ends it", "CDEF\nGABc", "C4:1 D4:1 E4:1 F4:1 | G4:1 A4:1 B4:1 C5:1"),
    (
        "decorations, fingers and words among the notes of a chord",
        '[+slide+DD] ["Am"!3!C!5!E] !slide!F2',
        "D4:1 E4:1 F4:2",
    ),
    ("decorations among grace notes", "{!slide!g}F4", "{G5} F4:4"),
    (
        "notes at once between plus signs, as older text has them",
        "+CE+ +A e +c/2z/2 +f+F",
        "E4:1 E5:1 C5:1/2 z1/2 F4:1",
    ),
    ("the length of such a chord is that of its first note", "+B3g/2++Bg+", "G5:3 G5:1"),
    ("an exclamation mark that only ended a line of text", "!C D E! F", "C4:1 D4:1 E4:1 F4:1"),
    ("a second voice over several bars", "(& C4 | D4 & E4 | F4 &) | G4", "C4:4 | D4:4 | G4:4"),
    ("words to be printed", "C4 |\n%%begintext\nA bad beggar\n\nGABc|\n%%endtext\nD4", "C4:4 | D4:4"),
    ("words under the music, comments and fields between", "C4 |\nw: la\n% no\nN:no\nD4", "C4:4 | D4:4"),
]


# Each field of the standard that may stand in a tune, with words that are notes if it is taken for music.
FIELDS = (
    "A:Cadiz",
    "B:Bagge",
    "D:Face",
    "F:abc.abc",
    "G:group",
    "H:Added",
    "I:abc",
    "N:bad",
    "O:Eire",
    "R:reel",
    "S:Bea",
    "Z:Ed",
)


@pytest.mark.parametrize("field", FIELDS)
def test_a_field_between_the_music_is_no_music_whatever_its_letter(field):
    assert row(abc_score(f"C2 D2 |\n{field}\nE2 F2 |")) == "C4:2 D4:2 | E4:2 F4:2"


@pytest.mark.parametrize(("music", "expected"), [case[1:] for case in ROWS], ids=[case[0] for case in ROWS])
def test_signs_of_abc_come_out_as_the_standard_has_them(music, expected):
    """Pitch and length of each notehead."""
    assert row(abc_score(music)) == expected


def test_accidentals_of_a_key_that_is_no_usual_signature_stand_at_the_notes():
    """G with a flat seventh and a sharp fourth."""
    score = abc_score("F ^f B c", key="A phr ^c")
    assert row(score) == "F4:1 F#5:1 Bb4:1 C#5:1"
    assert any("not the usual one" in said for said in warnings_told(score))


def test_metres_keys_and_lengths_change_in_mid_tune():
    """On a line, and inside brackets."""
    score = abc_score("C4 | [M:3/4][K:G] F3 |\nM:6/8\nL:1/8\nK:F\nB6 |")
    assert [(bar.meter.text, bar.key.fifths) for bar in score.bars] == [("4/4", 0), ("3/4", 1), ("6/8", -1)]
    assert row(score) == "C4:4 | F#4:3 | Bb4:3"


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ("", "F#4:1 F#4:1 F#5:1 G4:1"),
        ("%%propagate-accidentals pitch\n", "F#4:1 F#4:1 F#5:1 G4:1"),
        ("%%propagate-accidentals octave\n", "F#4:1 F#4:1 F5:1 G4:1"),
        ("%%propagate-accidentals not\n", "F#4:1 F4:1 F5:1 G4:1"),
    ],
)
def test_how_far_an_accidental_holds_is_what_the_file_asks_for(asked: str, expected: str):
    assert row(abc_score("^F F f G", more=asked)) == expected


def test_a_fault_is_told_with_its_line():
    with refusal(TuneError, r"tune\.abc: line 7 has a note length of 0"):
        abc_score("CDEF |\nC0")


def test_an_accidental_holds_on_where_a_line_of_text_ends_the_bar():
    """There is no bar line in the text."""
    assert row(abc_score("^F3 G\nF4")) == "F#4:3 G4:1 | F#4:4"


@pytest.mark.parametrize(
    ("music", "played"),
    [
        ("|: D3 D |1 E3 D- :|2 E4 |]", "D3 D1 E3 D4 D1 E4"),
        ("|: C3 D |1 E3 D- :|2 E4 |]", "C3 D1 E3 D1 C3 D1 E4"),
        ("A4 |: D3 E |1 F3 D- :|2 D4 |]", "A4 D3 E1 F3 D4 E1 D4"),
        ("|: D3 E | F3 D- :| E4 |]", "D3 E1 F3 D4 E1 F3 D1 E4"),
        ("|: D3 E | F3 D- :| D4 |]", "D3 E1 F3 D4 E1 F3 D5"),
        ("C4 :| D3 E | F3 D- :|", "C4 C4 D3 E1 F3 D4 E1 F3 D1"),
        ("|: z3 D |1 E3 D- :|2 D4 |]", "D1 E3 D1 D1 D4"),
    ],
)
def test_a_tie_over_a_closing_repeat_sign_leads_back_to_the_beginning(music, played):
    """The first time nothing is tied there; a tie out of a first ending never leads into the second."""
    score = abc_score(music)
    notes = written_notes(written_out(score).bars, score.reading)
    assert " ".join(f"{note.pitch.step}{note.length}" for note in notes) == played


@pytest.mark.parametrize(
    ("music", "played"),
    [
        ("|: D3 E- |1 E4 :|2 E3 F |]", "D3 E5 D3 E4 F1"),
        ("|: D3 E- |1 F4 :|2 E3 F |]", "D3 E1 F4 D3 E4 F1"),
        ("|: D3 E- |1 E4 :|2 F4 |]", "D3 E5 D3 E1 F4"),
        ("|: D3 E- |1 E4 :|2 z3 E |]", "D3 E5 D3 E1 E1"),
        ("|: D3 E- |1 E4 :|2 E4 :|3 E3 F |]", "D3 E5 D3 E5 D3 E4 F1"),
        ("|: D3 E- |1 E3 F- :|2 E3 F |]", "D3 E4 F1 D3 E4 F1"),
    ],
)
def test_a_tie_that_stands_open_where_the_endings_begin_leads_into_each_of_them(music, played):
    """As engravers print it: half a tie before the second ending (trade)."""
    score = abc_score(music)
    notes = written_notes(written_out(score).bars, score.reading)
    assert " ".join(f"{note.pitch.step}{note.length}" for note in notes) == played


def test_a_tie_into_the_second_ending_carries_its_accidental():
    assert row(abc_score("D3 ^F- |1 F4 :|2 F4 |]")) == "D4:3 F#4:1~ | F#4:4 | F#4:4"


def symbols(score) -> list[str]:
    return [" ".join(f"{chord.text}@{chord.onset}" for chord in bar.chords) for bar in score.bars]


def test_several_chord_symbols_on_one_note_share_it_and_it_is_said():
    score = abc_score('"C""G7"C4 | "Am""D7"{e}"G"D2 E2 |')
    assert symbols(score) == ["C@0 G7@2", "Am@0 D7@1 G@3/2"]
    told = "Several chord symbols stood on one note: they were spread over its beats (bars 1, 2)."
    assert warnings_told(score) == (told,)


def test_a_chord_symbol_before_a_bar_line_is_kept():
    """It begins the next bar, or shares the last note when that has its own."""
    score = abc_score('"C"C4 "G7" | D4 | "C"E4 "F"| "G"G4 |')
    assert symbols(score) == ["C@0", "G7@0", "C@0 F@2", "G@0"]
    assert "Chord symbols at or behind the end" in warnings_told(score)[0]


def test_chord_symbols_among_the_notes_of_a_chord_and_no_chord_as_an_annotation_are_read():
    assert symbols(abc_score('["Am"CE]2 "^N.C."D2 |')) == ["Am@0 N.C.@2"]


@pytest.mark.parametrize(
    ("music", "sections"),
    [
        ("P:A\nC4 | D4 ||\nP:B\nE4 |", ["A", "", "B"]),
        ("P:Chorus\nC4 | [P:Verse 2] D4 |", ["Chorus", "Verse 2"]),
        ('"^A"C4 | "^Bridge" D4 |', ["A", "Bridge"]),
        ('"_[B]"C4 | D3 "^Chorus" z | E4', ["B", "", "Chorus"]),
        ('"A"C4 | C2 "^B" D2 | "^slowly" E4', ["", "", ""]),
        ("P:Coda\nC4 |", [""]),
    ],
)
def test_parts_and_annotations_that_name_a_section_are_kept(music, sections):
    """`P:` in the body, and annotations with a sign of place (ABC 2.1); a letter without one is a chord."""
    assert [bar.marks.section for bar in abc_score(music).bars] == sections


def test_a_jump_keeps_its_words():
    bars = abc_score('C4 | D4 "^D.S. al 2nd ending" | !D.C.alfine! E4 | !dacapo! F4 | !D.S.! G4').bars
    assert [bar.marks.jump_words for bar in bars] == ["", "D.S. al 2nd ending", "", "D.C.", "D.S."]
