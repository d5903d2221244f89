"""Noteheads and rests as MusicXML 4.0."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction

import pytest

from game.engraving.beams import beams_of
from game.engraving.notation import musicxml
from game.engraving.note_xml import event_xml
from game.music.accidentals import shown_accidentals
from game.music.score import Reading
from game.music.written import HeadId


def _accidentals(text):
    return re.findall(r"<accidental([^>]*)>([a-z-]+)<", text)


def test_an_accidental_is_written_once_a_bar_and_recalled_by_a_courtesy_sign_after_the_bar_line(bar):
    text = musicxml((bar("F#5:1 F#5:1 F5:1 F#5:1"), bar("F5:1 F5:1 F4:2")), Reading.GUITAR)
    courtesy = ' cautionary="yes" parentheses="yes"'
    assert _accidentals(text) == [("", "sharp"), ("", "natural"), ("", "sharp"), (courtesy, "natural")]


def test_an_accidental_holds_in_its_own_octave_only(bar):
    assert _accidentals(musicxml((bar("F#5:1 F#4:1 F#5:2"),), Reading.GUITAR)) == [
        ("", "sharp"),
        ("", "sharp"),
    ]


def test_a_tie_carries_its_accidental_over_the_bar_line(bar):
    text = musicxml((bar("F#5:4~"), bar("~F#5:2 F#5:2")), Reading.GUITAR)
    assert _accidentals(text) == [("", "sharp"), ("", "sharp")]


def test_a_tuplet_has_a_bracket_only_where_no_beam_holds_it_together(bar):
    text = musicxml((bar("(3 C5:1/2 D5:1/2 E5:1/2 ) (3 C5:1 D5:1/2 ) (3 C5:1/2 R:1/2 E5:1/2 ) C5:1"),), Reading.GUITAR)
    assert re.findall(r'type="start" bracket="(yes|no)"', text) == ["no", "yes", "yes"]


def test_a_gap_between_events_is_stepped_over(bar):
    gap = bar("C5:1 D5:1")
    gap = replace(gap, events=(gap.events[0], replace(gap.events[1], onset=Fraction(3))), length=Fraction(4))
    assert "<forward><duration>2</duration></forward>" in musicxml((gap,), Reading.GUITAR)


def written(bar, position=0, reading=Reading.GUITAR, divisions=24):
    """One event of a bar as an element."""
    shown = shown_accidentals((bar,))[0][position]
    return ET.fromstring(event_xml(bar, HeadId(0, position), shown, beams_of(bar), divisions, reading))


@pytest.mark.parametrize(
    ("length", "name", "dots"),
    [("8", "breve", 0), ("4", "whole", 0), ("1.", "quarter", 1), ("1/2..", "eighth", 2), ("1/32", "128th", 0)],
)
def test_a_value_has_its_name_and_its_dots(bar, length, name, dots):
    note = written(bar(f"C5:{length}"))
    assert note.findtext("type") == name
    assert len(note.findall("dot")) == dots


def test_the_children_of_a_note_stand_in_the_order_of_the_schema(bar):
    """MusicXML 4.0 `note`: pitch, duration, tie, voice, type, dot, accidental, time-modification, beam, notations."""
    note = written(bar("(3 F#5:1/2~ D5:1/2 E5:1/2 ) C5:1"))
    assert [child.tag for child in note] == [
        "pitch", "duration", "tie", "voice", "type", "accidental", "time-modification", "beam", "notations",
    ]  # fmt: skip


def test_a_grace_note_takes_no_time(bar):
    note = written(bar("gB4:1/2 A4:1"))
    assert note.find("grace").get("slash") == "yes"
    assert note.find("duration") is None


def test_a_rest_for_the_whole_bar_has_no_value(bar):
    whole, half = written(bar("W:4")), written(bar("R:2 C5:2"))
    assert whole.find("rest").get("measure") == "yes"
    assert whole.find("type") is None
    assert (half.findtext("type"), half.get("id")) == ("half", "r0-0")


def test_durations_are_counted_in_divisions(bar):
    assert written(bar("C5:1/2."), divisions=24).findtext("duration") == str(int(Fraction(3, 4) * 24))
