"""What was left out of a tune is told with its bars."""

import pytest

from game.message import message
from game.text.catalogue import tell
from game.tunes.left_out import LeftOut, bars_counted, bars_listed, with_printed_numbers


@pytest.mark.parametrize(
    ("bars", "listed", "counted"),
    [
        (["3"], "bar 3", "1 bar: 3"),
        (["3", "5a"], "bars 3, 5a", "2 bars: 3, 5a"),
        (list("123456"), "bars 1, 2, 3, 4, 5, 6", "6 bars: 1, 2, 3, 4, 5, 6"),
        (list("123456789"), "bars 1, 2, 3, 4, 5, 6 and 3 more", "9 bars: 1, 2, 3, 4, 5, 6 and 3 more"),
    ],
)
def test_six_bars_are_named_and_more_are_counted(bars, listed, counted):
    assert (tell(bars_listed(bars)), tell(bars_counted(bars))) == (listed, counted)


def test_each_kind_is_one_sentence_and_each_bar_is_named_once():
    left_out = LeftOut()
    for key, bar in (("tune.cue_notes", "1"), ("tune.slashes", "1"), ("tune.cue_notes", "1"), ("tune.cue_notes", "4")):
        left_out.add(key, bar)
    assert [tell(warning) for warning in left_out.warnings(bars_listed)] == [
        "Cue notes were left out (bars 1, 4).",
        "Slash noteheads were left out (bar 1).",
    ]


def test_bars_counted_from_1_get_their_printed_numbers_and_other_numbers_stay():
    warnings = (
        message("tune.cue_notes", bars=bars_counted((2, 3))),
        message("tune.slashes", bars=bars_listed(("2",))),
        message("octave.part_shifted", semitones=2),
    )
    printed = with_printed_numbers(warnings, {2: "17", 3: "18"}.__getitem__)
    assert [tell(warning) for warning in printed] == [
        "Cue notes were left out (2 bars: 17, 18).",
        "Slash noteheads were left out (bar 2).",
        "The part sounds +2 semitones from the page; its page stands as written.",
    ]
