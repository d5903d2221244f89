"""Ranges of one part, before a reader builds anything from it; more is tried in `tests.tunes.test_hostile`."""

from xml.etree import ElementTree as ET

import pytest

from game.errors import TuneError
from game.tunes.musicxml.part_check import check_part
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, measure, note


def checked(*measures: str) -> None:
    check_part(ET.fromstring(f"<part>{''.join(measures)}</part>"), "tune.xml")


def test_what_is_in_range_passes():
    """At the edges of what MusicXML 4.0 and we allow."""
    attributes = (
        "<attributes><divisions>1000000</divisions><key><fifths>-7</fifths></key>"
        "<time><beats>3+2</beats><beat-type>8</beat-type></time>"
        "<transpose><chromatic>-48</chromatic><octave-change>4</octave-change></transpose>"
        "<clef><sign>G</sign><line>2</line><clef-octave-change>-4</clef-octave-change></clef></attributes>"
    )
    checked(measure(attributes + note("C0", 256_000_000) + note("B9")), measure("", "2"))


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (note("C4", 1025), r"tune\.xml: bar 12a has a duration of '1025'"),
        ("<backup><duration>-1</duration></backup>", "bar 12a has a duration of '-1'"),
        ("<forward/>", "bar 12a .*forward.* without a duration"),
        ("<attributes><time><beats>3+x</beats></time></attributes>", r"bar 12a .*'3\+x'"),
        ("<attributes><staves>9</staves></attributes>", "staves of '9'"),
        ("<attributes><divisions>1.5.5</divisions></attributes>", r"divisions of '1\.5\.5'"),
        (
            note("C4", 4, "<time-modification><actual-notes>1.5</actual-notes></time-modification>"),
            "actual-notes of '1.5'",
        ),
        (
            note("C4").replace("<octave>", "<alter>0.00000000000000000001</alter><octave>"),
            r"alter of '0\.0000000000000000000",
        ),
        ('<barline><repeat times="65"/></barline>', "repeated 65 times"),
    ],
)
def test_the_first_thing_out_of_range_is_told_with_its_printed_bar(content: str, sentence: str):
    with refusal(TuneError, sentence):
        checked(measure(ATTRIBUTES + QUARTERS), measure(content, "12a"))


def test_a_bar_without_a_number_is_told_by_its_place():
    with refusal(TuneError, "bar 2 has a duration of '-4'"):
        checked(measure(ATTRIBUTES + QUARTERS), f"<measure>{note('C4', -4)}</measure>")


def test_durations_are_bounded_by_the_divisions_in_force():
    """256 quarter notes: in divisions of 8 a duration of 1,100 is no longer too long."""
    eight = "<attributes><divisions>8</divisions></attributes>"
    checked(measure(ATTRIBUTES + QUARTERS), measure(eight + note("C4", 1100)))
