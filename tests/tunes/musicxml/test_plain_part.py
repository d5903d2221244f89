"""A part cut down to what the note reader is to see."""

from xml.etree import ElementTree as ET

import pytest

from game.text.catalogue import tell
from game.tunes.musicxml.plain_part import plain_part
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, measure, note, pitch_names, score
from tests.tunes.told import warnings_told


@pytest.mark.parametrize(
    ("element", "said"),
    [
        (note("E5", 4, before="<cue/>"), "Cue notes were left out (bar 1)."),
        (note("E5", 4, "<notehead>slash</notehead>"), "Slash noteheads were left out (bar 1)."),
        (
            "<note><unpitched><display-step>E</display-step></unpitched><duration>4</duration></note>",
            "Notes without a pitch were left out (bar 1).",
        ),
    ],
)
def test_what_is_not_melody_becomes_a_rest_and_is_said(read, element, said):
    """The bar keeps its time."""
    tune = read(score(note("C4") + element + note("D4", 8)))
    assert [(str(n.pitch), n.onset) for n in tune.bars[0].notes] == [("C4", 0), ("D4", 2)]
    assert said in warnings_told(tune)


def test_quarter_tones_are_rounded_and_said(read):
    """Our neck has semitones only."""
    text = score(note("C#4", 16)).replace(b"<alter>1</alter>", b"<alter>1.5</alter>")
    tune = read(text)
    assert pitch_names(tune) == ["C##4"]
    assert any("Quarter tones" in warning for warning in warnings_told(tune))


def cut_down(*measures: str):
    """The bars of the plain part, and the keys of what was left out."""
    part = ET.fromstring(f"<part>{''.join(measures)}</part>")
    xml, warnings = plain_part(part)
    return ET.fromstring(xml).findall("part/measure"), [warning.key for warning in warnings]


def test_nothing_is_left_but_what_the_reader_is_to_see():
    words = (
        '<direction><direction-type><words>Slow</words></direction-type></direction><harmony/><print new-page="yes"/>'
    )
    ((bar,), said) = cut_down(measure(ATTRIBUTES + words + note("C4", 4, "<lyric/><notations><slur/></notations>")))
    assert [element.tag for element in bar] == ["attributes", "note"]
    assert [element.tag for element in bar[0]] == ["divisions", "key", "time"]
    assert [element.tag for element in bar[1]] == ["pitch", "duration", "type"]
    assert said == []


def test_bars_are_numbered_anew_from_1_and_told_by_their_printed_number():
    part = ET.fromstring(f"<part>{measure(note('C4', before='<cue/>'), '17')}</part>")
    xml, (warning,) = plain_part(part)
    assert ET.fromstring(xml).find("part/measure").get("number") == "1"
    assert tell(warning) == "Cue notes were left out (bar 17)."


def test_the_notes_of_a_chord_go_with_its_first():
    ((bar,), _) = cut_down(measure(note("C4", before="<cue/>") + note("E4", before="<chord/>") + note("G4")))
    assert [element.find("rest") is not None for element in bar] == [True, False]


def test_a_chord_that_begins_on_the_other_staff_is_read_from_its_notes_on_this_one(read):
    """Piano chords written across the staves: the first note of the chord stands in the left hand."""
    attributes = ATTRIBUTES.replace("<clef>", "<staves>2</staves><clef>")
    left, right = "<voice>1</voice><staff>2</staff>", "<voice>1</voice><staff>1</staff>"
    across = (
        note("A3", 8, left) + note("C4", 8, left, before="<chord/>") + note("G4", 8, right, before="<chord/>")
    ) + note("C5", 8, right)
    tune = read(score(across + note("F3", 0, left, before="<grace/>"), note("E4", 16, right), attributes=attributes))
    assert [(str(n.pitch), n.onset, n.length) for n in tune.bars[0].notes] == [("G4", 0, 2), ("C5", 2, 2)]
    assert tune.bars[0].length == 4


def test_a_cue_chord_across_the_staves_leaves_one_rest():
    attributes = "<attributes><staves>2</staves></attributes>"
    cue = (
        note("A3", extra="<staff>2</staff>", before="<cue/>")
        + note("C4", extra="<staff>1</staff>", before="<chord/><cue/>")
        + note("E4", extra="<staff>1</staff>", before="<chord/><cue/>")
    )
    ((bar,), said) = cut_down(measure(attributes + cue + note("G4", extra="<staff>1</staff>")))
    assert [element.tag for element in bar] == ["attributes", "forward", "note"]
    assert said == ["tune.cue_notes", "tune.several_staves"]


def test_a_cue_grace_note_leaves_no_rest():
    ((bar,), said) = cut_down(measure(note("C4", 0, before="<grace/><cue/>") + note("G4")))
    assert len(bar) == 1
    assert said == ["tune.cue_notes"]


@pytest.mark.parametrize(
    ("attributes", "key"),
    [
        ("<key><key-step>F</key-step><key-alter>1</key-alter></key>", "tune.odd_key_left_out"),
        ("<time><senza-misura/></time>", "tune.without_metre"),
        ('<measure-style><measure-repeat type="start">1</measure-repeat></measure-style>', "tune.bar_repeats"),
    ],
)
def test_signs_the_reader_cannot_take_are_left_out_and_said(attributes: str, key: str):
    ((bar,), said) = cut_down(measure(f"<attributes>{attributes}</attributes>" + note("G4")))
    assert list(bar[0]) == []
    assert said == [key]


def test_a_word_for_a_note_value_that_is_none_is_not_handed_on():
    ((bar,), _) = cut_down(measure(note("C4", value="semiquaver")))
    assert bar[0].find("type") is None


def test_notes_under_slashes_are_rests(read):
    """`measure-style` asks for slashes instead of noteheads from where it starts to where it stops (MusicXML 4.0)."""

    def style(kind):
        return f'<attributes><measure-style><slash type="{kind}"/></measure-style></attributes>'

    tune = read(score(QUARTERS, style("start") + QUARTERS, note("C4", 8) + style("stop") + note("D4", 8)))
    assert [[str(n.pitch) for n in bar.notes] for bar in tune.bars] == [["C4", "D4", "E4", "F4"], [], ["D4"]]
    assert tune.bars[1].events[0].whole_bar
    assert warnings_told(tune) == ("Slash noteheads were left out (bars 2, 3).",)
