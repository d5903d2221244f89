"""Ties of which a file has one end alone."""

import pytest

from tests.tunes.hand_written import QUARTERS, barline, note, pitch_names, score
from tests.tunes.told import warnings_told

BEGINS, ENDS = '<tie type="start"/>', '<tie type="stop"/>'
COMPLETED = "Ties with one end alone were read as joining the two notes of the same pitch (bar 1)."
LEFT_OUT = "Ties that join no two notes of the same pitch were left out (bar 1)."


def ties(tune):
    """Each notehead with a mark where a tie begins or ends."""
    heads = [head for bar in tune.bars for head in bar.notes]
    return " ".join(f"{'~' * head.tied_from_previous}{head.pitch.name}{'~' * head.tied_to_next}" for head in heads)


@pytest.mark.parametrize(("begins", "ends"), [(BEGINS, ""), ("", ENDS)])
def test_a_tie_with_one_end_joins_neighbours_of_the_same_pitch(read, begins, ends):
    over_bar = read(score(note("C4", 16, begins), note("C4", 16, ends)))
    inside = read(score(note("C4", 8, begins) + note("C4", 8, ends)))
    for tune in (over_bar, inside):
        assert ties(tune) == "C4~ ~C4"
        assert len(pitch_names(tune)) == 1
        assert COMPLETED in warnings_told(tune)


@pytest.mark.parametrize(
    "music",
    [
        note("C4", 8, BEGINS) + note("D4", 8),
        note("C4", 8) + note("D4", 8, ENDS),
        note("C4", 8, BEGINS) + "<note><rest/><duration>4</duration></note>" + note("C4"),
        note("C4", 4, BEGINS) + "<forward><duration>4</duration></forward>" + note("C4", 8),
    ],
)
def test_a_tie_to_another_pitch_or_over_a_gap_is_none(read, music):
    tune = read(score(music, QUARTERS))
    assert "~" not in ties(tune)
    assert LEFT_OUT in warnings_told(tune)


def test_an_altered_note_at_the_end_of_such_a_tie_keeps_its_sign(read):
    """Else the page would say D where the file says D flat."""
    tune = read(score(note("C4", 8) + note("Db4", 8, ENDS)))
    assert not tune.bars[0].notes[1].tied_from_previous


def test_where_the_page_turns_back_a_single_end_stays_as_it_is(read):
    """The other end stands at the beginning of what is repeated, or in the bar before the first ending."""
    back = barline('<repeat direction="backward"/>')
    tune = read(score(note("D4", 16), note("C4", 16, BEGINS) + back, note("E4", 16, ENDS)))
    assert ties(tune) == "D4 C4~ ~E4"
    assert not [told for told in warnings_told(tune) if "Ties" in told]


def test_a_tie_into_an_ending_or_a_repeat_is_completed_where_the_music_goes_on_into_it(read):
    opening = barline('<repeat direction="forward"/>', "left")
    tune = read(score(note("C4", 16, BEGINS), opening + note("C4", 16), note("C4", 16)))
    assert ties(tune) == "C4~ ~C4 C4"
    other_end = read(score(note("C4", 16), opening + note("C4", 16, ENDS), note("C4", 16)))
    assert ties(other_end) == "C4 ~C4 C4"


def test_whole_ties_and_grace_notes_between_them_are_left_alone(read):
    grace = note("B4", 0, before="<grace/>", value="eighth")
    tune = read(score(note("C4", 8, BEGINS) + grace + note("C4", 8, ENDS)))
    assert ties(tune) == "C4~ B4 ~C4"
    assert warnings_told(tune) == warnings_told(read(score(note("C4", 16))))
