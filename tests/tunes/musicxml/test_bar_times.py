"""Where in its bar each element stands (MusicXML 4.0: notes, backup and forward move the writing position)."""

from fractions import Fraction
from xml.etree import ElementTree as ET

from game.tunes.musicxml.bar_times import bar_times
from tests.tunes.hand_written import note

FORWARD, BACKUP = "<forward><duration>{}</duration></forward>", "<backup><duration>{}</duration></backup>"
DIVISIONS = "<attributes><divisions>{}</divisions></attributes>"


def times(*measures: str):
    """Of each bar: the tags that take a place with their onsets, and how far it goes on."""
    part = ET.fromstring("<part>" + "".join(f"<measure>{content}</measure>" for content in measures) + "</part>")
    return [([(element.tag, now) for now, _, element in bar.elements], bar.end) for bar in bar_times(part)]


def test_notes_follow_one_another_by_their_durations_and_each_bar_begins_anew():
    bars = times(DIVISIONS.format(2) + note("C4", 3) + note("D4", 1), note("E4", 4))
    assert bars == [
        ([("attributes", 0), ("note", 0), ("note", Fraction(3, 2))], 2),
        ([("note", 0)], 2),
    ]


def test_notes_of_a_chord_and_grace_notes_take_no_time_of_their_own():
    ((elements, end),) = times(
        note("C4", 4) + note("E4", 4, before="<chord/>") + note("D4", 0, before="<grace/>") + note("F4", 4)
    )
    assert [now for _, now in elements] == [0, 4, 4, 4]
    assert end == 8


def test_backup_and_forward_move_the_writing_position_and_the_bar_lasts_as_long_as_it_ever_came_to():
    ((elements, end),) = times(note("C4", 4) + BACKUP.format(3) + note("E4", 1) + FORWARD.format(1) + note("F4", 1))
    assert elements == [("note", 0), ("backup", 4), ("note", 1), ("forward", 2), ("note", 3)]
    assert end == 4


def test_no_backup_goes_before_the_bar():
    ((elements, _),) = times(note("C4", 1) + BACKUP.format(9) + note("E4", 1))
    assert elements[-1] == ("note", 0)


def test_divisions_hold_from_where_they_stand_over_the_bars_that_follow():
    bars = times(DIVISIONS.format(4) + note("C4", 4) + DIVISIONS.format(8) + note("D4", 4), note("E4", 8))
    assert [end for _, end in bars] == [Fraction(3, 2), 1]
