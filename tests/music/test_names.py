"""Names of notes in the player's language. English, fixed do and German with H are common practice (trade)."""

import pytest

from game.music.names import NoteNames, Spelling, keys_of, name_in, step_for_key


@pytest.mark.parametrize(
    ("step", "alter", "english", "solfege", "german"),
    [
        ("C", 0, "C", "do", "C"),
        ("F", 1, "F♯", "fa♯", "Fis"),
        ("B", -1, "B♭", "si♭", "B"),
        ("B", 0, "B", "si", "H"),
        ("B", 1, "B♯", "si♯", "His"),
        ("E", -1, "E♭", "mi♭", "Es"),
        ("A", -1, "A♭", "la♭", "As"),
        ("G", -1, "G♭", "sol♭", "Ges"),
        ("C", 2, "C♯♯", "do♯♯", "Cisis"),
    ],
)
def test_notes_are_called_as_players_call_them(step, alter, english, solfege, german):
    spelling = Spelling(step, alter)
    assert [name_in(spelling, names) for names in NoteNames] == [english, solfege, german]


@pytest.mark.parametrize("names", NoteNames)
def test_each_language_has_seven_keys_for_seven_letters(names):
    steps = [step_for_key(key, names) for key, _ in keys_of(names)]
    assert {spelling.step for spelling in steps} == set("CDEFGAB")
    assert all(spelling.alter == 0 for spelling in steps)


def test_german_b_is_b_flat_and_h_is_b():
    assert step_for_key("b", NoteNames.GERMAN) == Spelling("B", -1)
    assert step_for_key("h", NoteNames.GERMAN) == Spelling("B", 0)
    assert step_for_key("h", NoteNames.ENGLISH) is None


def test_no_two_spellings_share_a_name():
    for names in NoteNames:
        called = [name_in(Spelling(step, alter), names) for step in "CDEFGAB" for alter in range(-2, 3)]
        assert len(set(called)) == 35
