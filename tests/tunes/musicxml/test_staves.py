"""Which staff of a part is read, and which signs hold for it (MusicXML 4.0: `staves`, `staff`, `number`)."""

from xml.etree import ElementTree as ET

import pytest

from game.tunes.musicxml.staves import holds_for_staff, on_other_staff, staff_read
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, note, pitch_names, score
from tests.tunes.told import warnings_told

TWO_STAVES = ATTRIBUTES.replace("<clef>", "<staves>2</staves><clef>")
BACK = "<backup><duration>16</duration></backup>"
OTHERS = "Of several staves the first was read."


def on(staff: int, name: str, duration: int = 16) -> str:
    return note(name, duration, f"<staff>{staff}</staff>")


def key(fifths: int, number: str = "") -> str:
    return f"<key{number and f' number={number!r}'}><fifths>{fifths}</fifths></key>"


@pytest.mark.parametrize(
    ("staves", "notes", "staff"),
    [
        ("", on(2, "C4"), None),
        ("<staves>1</staves>", on(2, "C4"), None),
        ("<staves>2</staves>", note("C4", 16), "1"),
        ("<staves>2</staves>", on(2, "C4") + on(1, "D4"), "1"),
        ("<staves>2</staves>", on(2, "C4"), "2"),
        ("<staves>3</staves>", "<note><rest/><duration>4</duration><staff>1</staff></note>" + on(3, "C4"), "3"),
    ],
)
def test_the_first_staff_with_notes_is_read_in_a_part_of_several(staves, notes, staff):
    part = ET.fromstring(f"<part><measure><attributes>{staves}</attributes>{notes}</measure></part>")
    assert staff_read(part) == staff


def test_a_note_without_a_staff_stands_on_the_first():
    plain, second = ET.fromstring(note("C4")), ET.fromstring(on(2, "C4"))
    assert [on_other_staff(one, "1") for one in (plain, second)] == [False, True]
    assert [on_other_staff(one, None) for one in (plain, second)] == [False, False]


def test_a_sign_with_a_number_holds_for_that_staff_and_one_without_for_all():
    second, every = ET.fromstring(key(1, "2")), ET.fromstring(key(1))
    assert [holds_for_staff(sign, "1") for sign in (second, every)] == [False, True]
    assert [holds_for_staff(sign, "2") for sign in (second, every)] == [True, True]
    assert holds_for_staff(second, None)


def test_two_staves_whose_notes_name_none_are_read_as_one(read):
    """So some programs write a piano part of which only the right hand is there."""
    tune = read(score(QUARTERS, QUARTERS, attributes=TWO_STAVES))
    assert pitch_names(tune) == ["C4", "D4", "E4", "F4"] * 2
    assert OTHERS not in warnings_told(tune)


def test_each_staff_may_have_its_own_key(read):
    """The key that holds is that of the staff that is read, at the beginning and where it changes."""
    attributes = TWO_STAVES.replace("<key><fifths>0</fifths></key>", key(1, "1") + key(-2, "2"))
    change = f"<attributes>{key(-3, '2')}</attributes>"
    both = on(1, "A4") + BACK + on(2, "C3")
    tune = read(score(both, change + both, f"<attributes>{key(2)}</attributes>{both}", attributes=attributes))
    assert [bar.key.name for bar in tune.bars] == ["G", "G", "D"]
    assert pitch_names(tune) == ["A4"] * 3
    assert OTHERS in warnings_told(tune)


def test_chords_and_grace_notes_of_another_staff_leave_no_trace(read):
    lower = note("C3", 8, "<staff>2</staff>") + note("E3", 8, "<staff>2</staff>", before="<chord/>")
    grace = note("D3", 0, "<staff>2</staff>", before="<grace/>")
    tune = read(score(lower + grace + on(2, "F3", 8) + BACK + on(1, "A4", 8) + on(1, "B4", 8), attributes=TWO_STAVES))
    assert [(str(n.pitch), n.onset, n.length) for n in tune.bars[0].notes] == [("A4", 0, 2), ("B4", 2, 2)]
    assert "Of each chord" not in " ".join(warnings_told(tune))


def test_where_only_the_second_staff_has_notes_it_is_read(read):
    assert pitch_names(read(score(on(2, "C4"), attributes=TWO_STAVES))) == ["C4"]
