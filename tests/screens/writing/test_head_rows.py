"""The head of the page: every row says what holds, and its arrows go through what can be."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.music.keys import Key
from game.music.meter import Meter
from game.music.names import NoteNames
from game.screens.writing.head_rows import (
    HEAD_ROWS,
    LONGEST_TITLE,
    METERS,
    head_in_words,
    key_in_words,
    pickup_in_words,
    stepped_in,
    tempo_in_words,
    typed_in,
)
from game.tunes.entering.draft import Draft
from game.tunes.entering.entering import Entering
from tests.speaking import speaking

ROWS = {row.name.removeprefix("writing.row."): row for row in HEAD_ROWS}
ENGLISH = NoteNames.ENGLISH


def stepped(name, *steps, draft=None):
    state = Entering(draft=draft or Draft())
    for by in steps:
        state = stepped_in(state, ROWS[name], by)
    return state.draft


def test_the_signature_goes_from_seven_flats_to_seven_sharps():
    assert stepped("signs", *[-1] * 20).key == Key(-7)
    assert stepped("signs", *[1] * 20).key == Key(7)
    assert ROWS["signs"].words(stepped("signs", -1, -1, -1), ENGLISH) == "3 ♭"
    assert ROWS["signs"].words(Draft(), ENGLISH) == "none"


def test_the_same_signature_is_a_major_or_a_minor_key():
    assert key_in_words(stepped("key", 1).key, ENGLISH) == "A minor"
    assert stepped("key", 1, 1).key == Key()


@pytest.mark.parametrize(
    ("key", "names", "words"),
    [
        (Key(-2), NoteNames.ENGLISH, "B♭ major"),
        (Key(-2), NoteNames.SOLFEGE, "si♭ major"),
        (Key(2, minor=True), NoteNames.ENGLISH, "B minor"),
    ],
)
def test_keys_are_called_as_the_player_calls_notes(key, names, words):
    assert key_in_words(key, names) == words


def test_german_keys_are_german():
    with speaking("de"):
        assert key_in_words(Key(-2), NoteNames.GERMAN) == "B-Dur"


def test_metres_go_round():
    assert [stepped("meter", *[1] * count).meter for count in range(len(METERS))] == list(METERS)
    assert stepped("meter", *[1] * len(METERS)).meter == Meter()


def test_a_pickup_grows_by_eighths_and_is_shorter_than_its_bar():
    assert stepped("pickup", 1, 1, 1).pickup == Fraction(3, 2)
    assert stepped("pickup", *[1] * 30).pickup == Fraction(7, 2)
    assert stepped("pickup", -1).pickup == 0
    assert [pickup_in_words(stepped("pickup", *[1] * count)) for count in range(4)] == [
        "none", "one eighth", "one quarter", "3 eighths",
    ]  # fmt: skip
    assert pickup_in_words(Draft(meter=Meter(6, 8), pickup=Fraction(1))) == "2 eighths"


def test_a_metre_that_is_too_short_for_the_pickup_has_none():
    long = replace(Draft(), pickup=Fraction(3), settled=Fraction(-3))
    assert stepped("meter", 1, 1, draft=long).pickup == 0


def test_eighths_are_unsaid_straight_or_swung():
    assert [stepped("eighths", *[1] * count).swung for count in range(4)] == [None, False, True, None]
    assert [ROWS["eighths"].words(Draft(swung=swung), ENGLISH) for swung in (None, False, True)] == [
        "nothing said", "straight", "swung",
    ]  # fmt: skip


def test_the_click_keeps_within_what_can_be_tapped():
    assert (stepped("tempo", *[-1] * 99).tempo_bpm, stepped("tempo", *[1] * 99).tempo_bpm) == (30, 240)
    assert tempo_in_words(Draft(meter=Meter(6, 8))) == "♩. = 80"


def test_the_octave_is_that_of_the_page():
    assert [ROWS["octave"].words(stepped("octave", *steps), ENGLISH) for steps in ((), (1,), (-1, -1, -1))] == [
        "as played", "an octave higher", "2 octaves lower",
    ]  # fmt: skip


def test_text_is_typed_where_there_is_text_and_has_a_bound():
    state = typed_in(Entering(draft=Draft()), ROWS["title"], "x" * 300)
    assert len(state.draft.title) == LONGEST_TITLE
    assert typed_in(Entering(draft=Draft()), ROWS["composer"], "A. B.").draft.composer == "A. B."
    assert typed_in(Entering(draft=Draft()), ROWS["meter"], "5/4").draft == Draft()
    assert ROWS["title"].text(Draft(title="A")) == "A"
    assert stepped("title", 1) == Draft()


def test_the_head_in_one_line_tells_the_pickup_only_where_there_is_one():
    assert head_in_words(Draft(), ENGLISH) == "C major, 4/4, ♩ = 80"
    assert "pickup one quarter" in head_in_words(Draft(pickup=Fraction(1)), ENGLISH)
