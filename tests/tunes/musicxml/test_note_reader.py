"""The notes of a part: one line, with the values that are printed."""

from fractions import Fraction

import pytest

from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Note, Reading, Rest
from game.music.written import written_notes
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, note, pitch_names, score
from tests.tunes.told import warnings_told


def test_a_plain_bar_is_read_note_by_note(read):
    """Spelling, onset and length come out as they were written."""
    tune = read(score(note("F#4", 6, "<dot/>", value="quarter") + note("Gb4", 2) + note("B#3", 8)))
    assert [(str(n.pitch), n.onset, n.length) for n in tune.bars[0].notes] == [
        ("F#4", 0, Fraction(3, 2)),
        ("Gb4", Fraction(3, 2), Fraction(1, 2)),
        ("B#3", 2, 2),
    ]
    assert tune.bars[0].notes[0].value.dots == 1
    assert tune.file_format == "musicxml"
    assert not tune.warnings


def test_ties_join_across_the_bar_line(read):
    """Two noteheads, one note of five quarters."""
    tied = (
        note("A4", 16, '<tie type="start"/>'),
        note("A4", 4, '<tie type="stop"/>') + note("B4", 12, "<dot/>"),
    )
    played = written_notes(read(score(*tied)).bars, Reading.GUITAR)
    assert [(str(n.pitch), n.length) for n in played] == [("A4", 5), ("B4", 3)]


def test_triplets_keep_exact_thirds_and_get_their_bracket(read):
    """Three in the time of two, bracketed although the file marks no bracket."""
    third = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"
    attributes = ATTRIBUTES.replace("<divisions>4<", "<divisions>3<")
    group = "".join(note(name, 1, third, value="eighth") for name in ("C4", "D4", "E4", "F4", "G4", "A4"))
    tune = read(score(group + note("C4", 6, value="half"), attributes=attributes))
    notes = tune.bars[0].notes
    assert [n.onset for n in notes[:4]] == [0, Fraction(1, 3), Fraction(2, 3), 1]
    assert [n.value.tuplet.starts for n in notes[:6]] == [True, False, False, True, False, False]
    assert [n.value.tuplet.stops for n in notes[:6]] == [False, False, True, False, False, True]
    assert notes[6].value.tuplet is None


def test_a_length_no_single_value_prints_becomes_tied_noteheads(read):
    """Five quarters' worth of sixteenths is a quarter tied to a sixteenth."""
    tune = read(score(note("C4", 5, value="") + note("D4", 11, value="")))
    heads = tune.bars[0].notes
    assert all(head.value.length == head.length for head in heads)
    played = written_notes(tune.bars, Reading.GUITAR)
    assert [n.length for n in played] == [Fraction(5, 4), Fraction(11, 4)]


def test_a_short_first_bar_is_a_pickup_and_lasts_what_it_holds(read):
    """Bar lengths are what bars hold: short, full, overfull."""
    tune = read(score(note("G4"), QUARTERS, QUARTERS + note("G4")))
    assert [(bar.length, bar.pickup) for bar in tune.bars] == [(1, True), (4, False), (5, False)]
    assert [n.onset for n in written_notes(tune.bars, Reading.GUITAR)][-1] == 9


def test_an_empty_bar_lasts_a_whole_bar(read):
    """Some programs leave the rest out."""
    bar = read(score(QUARTERS, "", QUARTERS)).bars[1]
    assert bar.length == 4
    assert [event.whole_bar for event in bar.events if isinstance(event, Rest)] == [True]


def test_key_and_metre_changes_hold_from_their_bar_on(read):
    """Each bar knows its own."""
    change = (
        "<attributes><key><fifths>-3</fifths><mode>minor</mode></key>"
        "<time><beats>6</beats><beat-type>8</beat-type></time></attributes>"
    )
    bars = read(score(QUARTERS, change + note("C4", 12, "<dot/>", value="half"), note("G4", 12, value=""))).bars
    assert [bar.meter for bar in bars] == [Meter(), Meter(6, 8), Meter(6, 8)]
    assert [bar.key for bar in bars] == [Key(), Key(-3, minor=True), Key(-3, minor=True)]


def test_grace_notes_are_kept_and_take_no_time(read):
    """They are on the page, and nobody is asked for them."""
    tune = read(score(note("D4", 0, before="<grace/>", value="eighth") + QUARTERS))
    assert [n.grace for n in tune.bars[0].notes] == [True, False, False, False, False]
    assert pitch_names(tune) == ["C4", "D4", "E4", "F4"]


def test_the_top_note_of_a_chord_is_read_and_said(read):
    """One line."""
    tune = read(score(note("C4", 16) + note("G4", 16, before="<chord/>") + note("E4", 16, before="<chord/>")))
    assert pitch_names(tune) == ["G4"]
    assert any("top note" in warning for warning in warnings_told(tune))


def test_the_first_voice_is_read_and_said(read):
    """Others stay out."""
    second = "<backup><duration>16</duration></backup>" + note("C4", 16, "<voice>2</voice>")
    first = note("A4", 8, "<voice>1</voice>") + note("B4", 8, "<voice>1</voice>")
    tune = read(score(first + second))
    assert pitch_names(tune) == ["A4", "B4"]
    assert any("several voices" in warning for warning in warnings_told(tune))


@pytest.mark.parametrize("durations", [(85, 85, 86), (85, 85, 85), (86, 85, 85)])
def test_a_triplet_of_rounded_durations_is_a_triplet(read, durations):
    """Some programs count in 256 divisions or 1024: a third of them is no whole number."""
    third = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"
    attributes = ATTRIBUTES.replace("<divisions>4<", "<divisions>256<")
    triplet = "".join(note("A4", long, third, value="eighth") for long in durations)
    tune = read(score(triplet + note("B4", 256, value="quarter") + triplet + note("B4", 256), attributes=attributes))
    (bar,) = tune.bars
    assert [event.length for event in bar.events] == [Fraction(1, 3)] * 3 + [1] + [Fraction(1, 3)] * 3 + [1]
    assert [event.onset for event in bar.events][3:5] == [1, 2]
    assert all(event.value.length == event.length for event in bar.events)
    assert (bar.length, [bool(event.value.tuplet) for event in bar.events[:4]]) == (4, [True] * 3 + [False])


def test_a_rest_of_no_voice_yields_to_the_notes_above_it_wherever_they_begin(read):
    """A bar rest without a voice, and notes of a second voice on its last beat."""
    rest = "<note><rest/><duration>16</duration></note><backup><duration>16</duration></backup>"
    second = "<note><rest/><duration>12</duration><voice>2</voice></note>" + note("E4", extra="<voice>2</voice>")
    tune = read(score(rest + second, QUARTERS))
    assert [(str(n.pitch), n.onset) for n in tune.bars[0].notes] == [("E4", 3)]
    assert sum(event.length for event in tune.bars[0].events) == 4


def test_where_the_first_voice_rests_the_next_that_has_notes_is_read(read):
    """A bar whose notes stand in the second voice alone, with the rests of the first before them."""
    rest = "<note><rest/><duration>16</duration><voice>1</voice></note><backup><duration>16</duration></backup>"
    second = rest + note("C5", 8, "<voice>2</voice>") + note("D5", 8, "<voice>2</voice>")
    third = note("E5", 16, "<voice>1</voice>") + rest.partition("</note>")[2] + note("C5", 16, "<voice>2</voice>")
    tune = read(score(note("A4", 16, "<voice>1</voice>"), second, third))
    assert pitch_names(tune) == ["A4", "C5", "D5", "E5"]
    assert warnings_told(tune) == (
        "Where the first voice rests, the next was read (1 bar: 2).",
        "Of several voices the first was read (1 bar: 3).",
    )


def test_the_first_staff_is_read_and_said(read):
    """Of a piano part the upper staff."""
    lower = "<backup><duration>16</duration></backup>" + note("C3", 16, "<voice>5</voice><staff>2</staff>")
    attributes = ATTRIBUTES.replace("<clef>", '<staves>2</staves><clef number="1">')
    tune = read(score(note("A4", 16, "<voice>1</voice><staff>1</staff>") + lower, attributes=attributes))
    assert pitch_names(tune) == ["A4"]
    assert any("several staves" in warning for warning in warnings_told(tune))


def test_every_bar_is_filled_without_overlap(read):
    """Events follow each other from the start of the bar to its end."""
    tune = read(score(QUARTERS, "<forward><duration>8</duration></forward>" + note("C4", 8), ""))
    for bar in tune.bars:
        now = Fraction(0)
        for event in bar.events:
            assert event.onset == now
            now += event.length
        assert now == bar.length
    assert isinstance(tune.bars[1].events[-1], Note)


TOO_LONG = "Bars longer than their metre were read as they stand (1 bar: {})."


def test_a_bar_longer_than_its_metre_is_read_as_it_stands_and_said(read):
    tune = read(score(QUARTERS + note("G4"), QUARTERS))
    assert [bar.length for bar in tune.bars] == [5, 4]
    assert warnings_told(tune) == (TOO_LONG.format(1),)


@pytest.mark.parametrize("rest", ["<rest/>", '<rest measure="yes"/>'])
def test_a_bar_of_rest_is_as_long_as_its_metre_whatever_it_says(read, rest):
    """Many programs write a whole rest, four quarters long, for an empty bar of three."""
    waltz = ATTRIBUTES.replace("<beats>4", "<beats>3")
    empty = f"<note>{rest}<duration>16</duration><type>whole</type></note>"
    tune = read(score(note("C4", 12), empty, note("D4", 12), attributes=waltz))
    assert [bar.length for bar in tune.bars] == [3, 3, 3]
    assert (tune.bars[1].events[0].whole_bar, warnings_told(tune)) == (True, ())


def test_another_voice_or_a_last_forward_makes_no_bar_longer_than_its_metre(read):
    back, on = "<backup><duration>16</duration></backup>", "<forward><duration>4</duration></forward>"
    first = QUARTERS.replace("</duration>", "</duration><voice>1</voice>")
    second = note("E4", 8, "<voice>2</voice>") + note("E4", 12, "<voice>2</voice>")
    tune = read(score(first + back + second, QUARTERS + on))
    assert [bar.length for bar in tune.bars] == [4, 4]
    assert TOO_LONG.format(1) not in warnings_told(tune)
