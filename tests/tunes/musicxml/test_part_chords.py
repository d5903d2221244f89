"""The chord symbols of a part in their places, from bars as real programs write them (MusicXML 4.0)."""

import pytest

from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, note, score, words
from tests.tunes.told import warnings_told


def harmony(root: str, kind: str = "major", more: str = "", *, attributes: str = "") -> str:
    return f"<harmony{attributes}><root><root-step>{root}</root-step></root><kind>{kind}</kind>{more}</harmony>"


def shown(tune) -> list[str]:
    """The symbols of each bar with their places."""
    return [" ".join(f"{chord.text}@{chord.onset}" for chord in bar.chords) for bar in tune.bars]


def told(tune) -> list[str]:
    return [said for said in warnings_told(tune) if "hord" in said]


WHOLE = note("C4", 16)
BEHIND = "Chord symbols at or behind the end of their bar were moved to the nearest place for them (bar {})."


def test_several_symbols_before_one_note_share_it_and_it_is_said(read):
    tune = read(
        score(harmony("C") + harmony("G") + WHOLE, harmony("A") + harmony("D") + harmony("G") + WHOLE, QUARTERS)
    )
    assert shown(tune) == ["C@0 G@2", "A@0 D@2 G@3", ""]
    assert told(tune) == ["Several chord symbols stood on one note: they were spread over its beats (bars 1, 2)."]


def test_a_rest_is_shared_as_well_and_grace_notes_between_change_nothing(read):
    grace = note("D4", 0, before="<grace/>")
    rest = "<note><rest/><duration>8</duration><type>half</type></note>"
    tune = read(score(note("C4", 8) + harmony("C") + harmony("G") + rest, harmony("F") + grace + harmony("G") + WHOLE))
    assert shown(tune) == ["C@2 G@3", "F@0 G@2"]


def test_a_symbol_with_an_offset_stands_where_that_says(read):
    """In divisions from the writing position, as MusicXML 4.0 has it."""
    tune = read(score(harmony("C") + harmony("G", more="<offset>12</offset>") + WHOLE))
    assert (shown(tune), told(tune)) == (["C@0 G@3"], [])


def test_the_same_symbol_twice_in_one_place_is_one(read):
    tune = read(score(harmony("C") + harmony("C") + WHOLE))
    assert (shown(tune), told(tune)) == (["C@0"], [])


def test_symbols_beside_a_second_voice_are_not_spread_over_its_notes(read):
    """All notes, then back to the beginning, and the symbols between `forward`."""
    back, on = "<backup><duration>16</duration></backup>", "<forward><duration>8</duration></forward>"
    tune = read(score(QUARTERS + back + harmony("C") + on + harmony("G") + on))
    assert (shown(tune), told(tune)) == (["C@0 G@2"], [])


def test_a_symbol_written_behind_the_last_note_is_meant_for_it(read):
    """So some programs write what was put on the page afterwards."""
    tune = read(score(WHOLE + words("Dm7(b5)"), note("C4", 8) + harmony("G") + note("D4", 8) + harmony("C"), QUARTERS))
    assert shown(tune) == ["Dm7(b5)@0", "G@2 C@3", ""]
    assert BEHIND.replace("(bar {})", "(bars 1, 2)") in told(tune)


def test_grace_notes_behind_the_last_note_do_not_count_for_it(read):
    tune = read(score(note("C4", 8) + note("D4", 8) + harmony("C") + note("E4", 0, before="<grace/>"), QUARTERS))
    assert shown(tune) == ["C@2", ""]


def test_a_symbol_whose_offset_leads_behind_its_bar_stands_in_the_next(read):
    tune = read(score(harmony("C") + harmony("G", more="<offset>16</offset>") + WHOLE, WHOLE))
    assert (shown(tune), told(tune)) == (["C@0", "G@0"], [BEHIND.format(1)])


def test_words_that_are_symbols_are_read_and_said_and_words_beside_a_symbol_only_repeat_it(read):
    tune = read(score(words("N.C.") + note("C4", 8) + words("Gm7") + note("D4", 8), words("C7") + harmony("C") + WHOLE))
    assert shown(tune) == ["N.C.@0 Gm7@2", "C@0"]
    assert told(tune) == ["Words that are chord symbols were read as such (bar 1)."]


@pytest.mark.parametrize(
    ("element", "said"),
    [
        (
            "<harmony><numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind></harmony>",
            "Chords named by numerals of the key were left out (bar 1).",
        ),
        (
            "<harmony><function>V</function><kind>dominant</kind></harmony>",
            "Chords named by numerals of the key were left out (bar 1).",
        ),
        (harmony("H"), "Chord symbols whose root cannot be named were left out (bar 1)."),
        (
            harmony("G", attributes=' type="alternate"'),
            "Chord symbols given as alternatives to others were left out (bar 1).",
        ),
    ],
)
def test_what_cannot_be_shown_as_a_symbol_is_left_out_and_said(read, element, said):
    tune = read(score(harmony("C") + element + WHOLE))
    assert (shown(tune), told(tune)) == (["C@0"], [said])


def test_a_hidden_symbol_is_not_shown(read):
    assert shown(read(score(harmony("C", attributes=' print-object="no"') + WHOLE))) == [""]


def test_in_an_empty_bar_symbols_share_the_bar(read):
    """Some programs leave an empty bar out of the notes."""
    assert shown(read(score(QUARTERS, harmony("C") + harmony("F")))) == ["", "C@0 F@2"]
    waltz = ATTRIBUTES.replace("<beats>4</beats>", "<beats>3</beats>")
    assert shown(read(score(harmony("C") + harmony("F") + note("C4", 12), attributes=waltz))) == ["C@0 F@2"]
