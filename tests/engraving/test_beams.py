"""Beams show the metre."""

import pytest

from game.engraving.beams import beamed_runs, beams_of


@pytest.mark.parametrize(
    ("meter", "music", "runs"),
    [
        # trade: eighths in 4/4 by half bars, never over the middle
        ("4/4", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 A5:1/2 B5:1/2 C6:1/2", [(0, 1, 2, 3), (4, 5, 6, 7)]),
        ("4/4", "C5:1. D5:1/2 E5:1/2 F5:1/2 G5:1", [(2, 3)]),
        ("4/4", "C5:1 D5:1/2 E5:1/2 F5:2", [(1, 2)]),
        ("4/4", "C5:1/2 D5:1 E5:1/2 F5:2", []),
        # anything shorter keeps the beams to the beat
        ("4/4", "C5:1/2 D5:1/4 E5:1/4 F5:1/2 G5:1/2 A5:2", [(0, 1, 2), (3, 4)]),
        ("4/4", "C5:1/2. D5:1/4 E5:1/2. F5:1/4 A5:2", [(0, 1), (2, 3)]),
        # a rest ends a beam
        ("4/4", "C5:1/2 R:1/2 E5:1/2 F5:1/2 G5:2", [(2, 3)]),
        # a triplet has a beam of its own
        (
            "4/4",
            "C5:1/2 D5:1/2 (3 E5:1/2 F5:1/2 G5:1/2 ) (3 E5:1/2 F5:1/2 G5:1/2 ) C5:1",
            [(0, 1), (2, 3, 4), (5, 6, 7)],
        ),
        ("4/4", "(3 C5:1 D5:1/2 ) E5:1/2 F5:1/2 G5:2", [(2, 3)]),
        # trade: but sixteenths in a triplet fill a beat together with what stands beside them
        ("4/4", "(3 C5:1/4 D5:1/4 E5:1/4 ) F5:1/2 G5:1/2 A5:1/2 B5:2", [(0, 1, 2, 3), (4, 5)]),
        ("4/4", "F5:1/2 (3 C5:1/4 D5:1/4 E5:1/4 ) G5:1 B5:2", [(0, 1, 2, 3)]),
        (
            "4/4",
            "F5:1/2 C5:1/2 (3 C5:1/4 D5:1/4 E5:1/4 ) (3 C5:1/4 D5:1/4 E5:1/4 ) B5:2",
            [(0, 1), (2, 3, 4), (5, 6, 7)],
        ),
        ("6/8", "(3 C5:1/4 D5:1/4 E5:1/4 ) F5:1/2 G5:1/2 A5:1.", [(0, 1, 2, 3, 4)]),
        ("2/4", "C5:1/2 D5:1/2 E5:1/2 F5:1/2", [(0, 1, 2, 3)]),
        ("2/2", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:2", [(0, 1, 2, 3)]),
        ("3/4", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 A5:1/2", [(0, 1, 2, 3, 4, 5)]),
        # not three eighths after a dotted quarter: that would look like 6/8
        ("3/4", "C5:1. F5:1/2 G5:1/2 A5:1/2", [(2, 3)]),
        ("6/8", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 A5:1/2", [(0, 1, 2), (3, 4, 5)]),
        ("6/8", "C5:1 D5:1/2 E5:1/2 F5:1", []),
        ("6/8", "C5:1/4 D5:1/4 E5:1/4 F5:1/4 G5:1/4 A5:1/4 B5:1.", [(0, 1, 2, 3, 4, 5)]),
        ("9/8", "C5:1/2 D5:1/2 E5:1/2 F5:1. G5:1/2 A5:1/2 B5:1/2", [(0, 1, 2), (4, 5, 6)]),
        ("3/8", "C5:1/2 D5:1/2 E5:1/2", [(0, 1, 2)]),
        ("5/8", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2", [(0, 1, 2), (3, 4)]),
        ("7/8", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 A5:1/2 B5:1/2", [(0, 1), (2, 3), (4, 5, 6)]),
        ("5/4", "C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:3", [(0, 1), (2, 3)]),
    ],
)
def test_a_beam_keeps_to_the_groups_of_its_metre(bar, meter, music, runs):
    assert list(beamed_runs(bar(music, meter))) == runs


def test_a_pickup_bar_is_beamed_by_the_end_of_the_metre(bar):
    """Three eighths before the bar line: one before beat four, two on it (trade)."""
    assert beamed_runs(bar("C5:1/2 D5:1/2 E5:1/4 F5:1/4", pickup=True)) == ((1, 2, 3),)


def test_at_the_end_of_a_triplet_only_the_first_beam_goes_on(bar):
    beams = beams_of(bar("C5:1/4 D5:1/4 (3 E5:1/4 F5:1/4 G5:1/4 ) A5:1 B5:2"))
    assert [states[0] for states in beams[:5]] == ["begin", "continue", "continue", "continue", "end"]
    assert [states[1] for states in beams[:5]] == ["begin", "end", "begin", "continue", "end"]


def test_grace_notes_have_a_beam_of_their_own(bar):
    assert beamed_runs(bar("C5:1/2 gD5:1/4 gE5:1/4 F5:1/2 G5:1 A5:2")) == ((0, 3), (1, 2))


def test_a_dotted_eighth_and_a_16th_share_a_beam_with_a_hook_back(bar):
    assert beams_of(bar("C5:1/2. D5:1/4 E5:1 F5:2"))[:2] == (("begin",), ("end", "backward hook"))


def test_a_16th_before_a_dotted_eighth_hooks_forward(bar):
    assert beams_of(bar("C5:1/4 D5:1/2. E5:1 F5:2"))[:2] == (("begin", "forward hook"), ("end",))


def test_a_16th_between_eighths_hooks_to_its_own_subdivision(bar):
    """16th, eighth, 16th: the first hooks forward, the last back (trade)."""
    beams = beams_of(bar("C5:1/4 D5:1/2 E5:1/4 F5:1 G5:2"))
    assert beams[:3] == (("begin", "forward hook"), ("continue",), ("end", "backward hook"))


def test_a_lone_short_note_keeps_its_flag(bar):
    assert beams_of(bar("C5:1. D5:1/2 E5:2")) == ((), (), ())
