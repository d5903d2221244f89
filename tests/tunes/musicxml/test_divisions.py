"""Parts that say too late, or not at all, how many divisions a quarter note has."""

from xml.etree import ElementTree as ET

import pytest

from game.errors import TuneError
from game.tunes.musicxml.divisions import say_divisions
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, note, score

UNSAID = ATTRIBUTES.replace("<divisions>4</divisions>", "")


def divisions_of(*measures: str) -> list[str]:
    """What the part says of divisions, bar by bar, after it has been looked at."""
    part = ET.fromstring("<part>" + "".join(f"<measure>{content}</measure>" for content in measures) + "</part>")
    say_divisions(part, "this file")
    return [said.text for said in part.iter("divisions")]


@pytest.mark.parametrize(
    ("notes", "divisions"),
    [
        (note("C4", 480, value="quarter"), "480"),
        (note("C4", 720, "<dot/>", value="quarter"), "480"),
        (note("C4", 4, value="16th") + note("C4", 4, value="16th") + note("C4", 7, value="16th"), "16"),
        (
            note("C4", 2, "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
            "</time-modification>", value="eighth"),
            "6",
        ),
        (note("C4", 1, value="half"), "0.500000"),
        ("<note><rest measure='yes'/><duration>9</duration></note>" + note("C4", 3, value="quarter"), "3"),
    ],
)  # fmt: skip
def test_the_note_values_say_them(notes, divisions):
    """What most of them say: one may have been entered wrong."""
    assert divisions_of(notes) == [divisions]


def test_what_is_said_in_time_stands():
    said = "<attributes><divisions>8</divisions></attributes>"
    assert divisions_of(said + note("C4", 4)) == ["8"]
    assert divisions_of("<attributes/>", said + note("C4", 4)) == ["8"]
    assert divisions_of(note("C4", 3, value="quarter"), said + note("C4", 4)) == ["3", "8"]
    assert divisions_of("") == []


def test_a_part_without_any_is_read_by_its_note_values(read):
    tune = read(score(QUARTERS, attributes=UNSAID))
    assert [note.length for note in tune.bars[0].notes] == [1, 1, 1, 1]


def test_where_no_note_says_its_value_either_it_is_refused(read):
    with refusal(
        TuneError, r"^x\.musicxml: does not say how its durations are counted \(divisions\), nor do its notes"
    ):
        read(score(QUARTERS.replace("<type>quarter</type>", ""), attributes=UNSAID), name="x.musicxml")
