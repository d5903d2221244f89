"""Bars and the signs around them."""

from fractions import Fraction

import pytest

from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch
from game.music.score import BarLine, Rest, Tuplet
from game.tunes.abc.abc_bars import AbcEvent, BarBuilder, bars_from
from tests.tunes.abc.hand_written_abc import abc_score, letters_played


def test_a_short_first_bar_is_a_pickup_and_numbered_nought():
    """As on a lead sheet."""
    score = abc_score("G | C4 | D4 | E3")
    assert [(bar.number, bar.length, bar.pickup) for bar in score.bars] == [
        ("0", 1, True), ("1", 4, False), ("2", 4, False), ("3", 3, False),
    ]  # fmt: skip
    assert score.warnings == ()


REPEATS = [
    ("a repeat", "|: C4 :| D4", "CCD"),
    ("a repeat from the beginning", "C4 :| D4", "CCD"),
    ("a double repeat", "|: C4 :: D4 :|", "CCDD"),
    ("a double repeat written out", "|: C4 :||: D4 :|", "CCDD"),
    ("a repeat in the middle of a bar", "C4 | D2 :: E2 | F4 :|", "CDCDEFEF"),
    ("three times", "|:: C4 ::|", "CCC"),
    ("endings", "|: C4 |1 D4 :|2 E4 || F4", "CDCEF"),
    ("endings in brackets", "|: C4 | [1 D4 :| [2 E4 |] F4", "CDCEF"),
    ("an ending in the middle of a bar", "|: C4 | D2 [1 E2 :| [2 F2 || G4", "CDECDFG"),
    ("an ending for two times", "|: C4 |1,2 D4 :|3 E4 |]", "CDCDCE"),
    ("a range of endings", "|: C4 |[1-3 D4 :|[4 E4 |]", "CDCDCDCE"),
    ("D.C. al Fine as a decoration", "C4 | D4 !fine! | E4 !D.C.alfine!|]", "CDECD"),
    ("D.C. in words", 'C4 | "^Fine"D4 | E4 "D.C. al Fine"|]', "CDECD"),
    ("D.S. al Coda by signs", "C4 | SD4 | OE4 | F4 !D.S.alcoda! | OG4", "CDEFDEG"),
    ("parts in order", "P:A\nC4 |\nP:B\nD4 |", "CD"),
    ("an invisible bar line before a repeat", "|: C4 [|]:| D4", "CCD"),
    ("a section after a double bar", "|: C4 :| D4 || E4 :|", "CCDEDE"),
]


@pytest.mark.parametrize(("music", "order"), [case[1:] for case in REPEATS], ids=[case[0] for case in REPEATS])
def test_repeats_and_jumps_are_played_as_written(music, order):
    """The letters played, in order."""
    assert letters_played(abc_score(music)) == order


C4 = Pitch("C", 0, 4)


def filled(*quarters: int, key: Key | None = None) -> BarBuilder:
    """A builder whose bars are one note each, as many quarters long."""
    bars = BarBuilder("tune.abc", key or Key(), Meter())
    for length in quarters:
        bars.add(AbcEvent(Fraction(length), C4))
        bars.close_bar(Key(), Meter())
        bars.add_bar_line("|", "")
    return bars


def test_a_bar_line_after_nothing_closes_no_bar():
    bars = filled(4)
    assert not bars.close_bar(Key(), Meter())
    assert len(bars.finish()) == 1


def test_signatures_hold_at_once_in_a_bar_that_has_not_begun_and_else_from_the_next():
    bars = filled(4)
    bars.set_signatures(Key(1), Meter(3, 4))
    bars.add(AbcEvent(Fraction(3), C4))
    bars.set_signatures(Key(2), Meter(2, 4))
    assert [(bar.key.fifths, bar.meter.beats) for bar in bars.finish()] == [(0, 4), (1, 3)]


def test_grace_notes_take_no_time_and_begin_no_bar():
    bars = filled(4)
    bars.add(AbcEvent(Fraction(1, 2), C4, grace=True))
    assert (bars.open.length, bars.open.started) == (0, False)


def test_a_note_of_a_tuplet_takes_its_share():
    assert AbcEvent(Fraction(1), C4, tuplet=Tuplet(actual=3, normal=2)).length == Fraction(2, 3)


def test_only_a_first_bar_that_is_short_is_a_pickup_and_a_single_bar_never():
    assert [bar.pickup for bar in bars_from(filled(1, 4, 1).finish())] == [True, False, False]
    assert [bar.number for bar in bars_from(filled(4, 4).finish())] == ["1", "2"]
    assert [bar.pickup for bar in bars_from(filled(1).finish())] == [False]


def test_a_bar_of_rests_alone_is_a_whole_bar_rest():
    bars = BarBuilder("tune.abc", Key(), Meter(3, 4))
    bars.add(AbcEvent(Fraction(1), None))
    bars.add(AbcEvent(Fraction(2), None))
    ((rest,),) = [bar.events for bar in bars_from(bars.finish())]
    assert isinstance(rest, Rest)
    assert (rest.length, rest.whole_bar) == (3, True)


@pytest.mark.parametrize(
    ("music", "lines"),
    [
        ("C4 || D4 |", [BarLine.DOUBLE, None]),
        ("C4 |] D4 ||", [BarLine.FINAL, BarLine.DOUBLE]),
        ("C4 [| D4 |]", [BarLine.DOUBLE, BarLine.FINAL]),
        ("C4 .| D4 |", [BarLine.DOTTED, None]),
        ("C4 [|] D4", [None, None]),
        ("|: C4 :| D4 |]", [None, BarLine.FINAL]),
        ("C4 ||: D4 :||", [None, None]),
        ("C4 ||\n|: D4 :|", [BarLine.DOUBLE, None]),
        ("C4 |1 D4 :|2 E4 ||", [None, None, BarLine.DOUBLE]),
    ],
)
def test_bar_lines_are_kept_as_they_are_written(music, lines):
    """ABC 2.1, 4.8: `||` thin-thin double, `|]` thin-thick, `[|` thick-thin, `.|` dotted, `[|]` invisible."""
    assert [bar.marks.bar_line for bar in abc_score(music).bars] == lines


def test_a_section_named_in_the_second_half_of_a_bar_belongs_to_the_next():
    bars = filled(1, 1)
    bars.begin_section("A")
    bars.add(AbcEvent(Fraction(2), C4))
    bars.begin_section("B")
    bars.add(AbcEvent(Fraction(2), C4))
    bars.close_bar(Key(), Meter())
    bars.add(AbcEvent(Fraction(4), C4))
    assert [bar.marks.section for bar in bars.finish()[-2:]] == ["A", "B"]


@pytest.mark.parametrize("music", ["(3C2D D5/", "(3D5/ C2D", "C5/ (3CDE", "(5C2DE/F/G2", "(3C D5/4 E"])
def test_every_note_of_a_tuplet_is_printed_as_long_as_it_lasts(music):
    """Where no single value is, tied heads in the same tuplet."""
    (bar,) = abc_score(music).bars
    assert [event.value.length for event in bar.events] == [event.length for event in bar.events]
    inside = [event.value.tuplet for event in bar.events if event.value.tuplet]
    assert (inside[0].starts, inside[-1].stops) == (True, True)
    assert sum(tuplet.starts for tuplet in inside) == sum(tuplet.stops for tuplet in inside)
