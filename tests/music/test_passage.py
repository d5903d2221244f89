"""The passage: how a tune is cut, and what a passage knows of itself."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from game.music.passage import passages_of, whole_tune
from game.music.score import Reading
from game.music.written import HeadId
from tests.made import bar, passage, score


def test_a_tune_is_cut_into_passages_of_four_bars():
    cuts = [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 16))]
    assert cuts == [(0, 4), (4, 8), (8, 12), (12, 16)]


def test_a_pickup_bar_goes_with_the_bars_after_it():
    pickup = bar("D4 q", number="0", pickup=True)
    made = score(*["G4 w"] * 8)
    made = type(made)(title="t", reading=made.reading, bars=(pickup, *made.bars))
    assert [(p.start, p.stop) for p in passages_of(made)] == [(0, 5), (5, 9)]


def test_a_short_rest_of_a_tune_goes_with_the_last_passage():
    assert [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 9))] == [(0, 4), (4, 9)]
    assert [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 10))] == [(0, 4), (4, 10)]
    assert [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 11))] == [(0, 4), (4, 8), (8, 11)]


def test_passages_without_a_note_are_joined_to_their_neighbours():
    made = score(*["r w"] * 4, *["G4 w"] * 4, *["r w"] * 4)
    assert [(p.start, p.stop) for p in passages_of(made)] == [(0, 12)]


def test_every_bar_is_in_exactly_one_passage():
    for count in range(1, 40):
        covered = [i for p in passages_of(score(*["G4 w"] * count)) for i in range(p.start, p.stop)]
        assert covered == list(range(count))


def test_a_passage_that_comes_again_on_the_page_is_offered_once():
    made = score(*["G4 w"] * 4, *["A4 w"] * 4)
    first, second = made.bars[:4], made.bars[4:]
    again = type(made)(title="t", reading=made.reading, bars=(*first, *first, *second))
    assert [(p.start, p.stop) for p in passages_of(again)] == [(0, 4), (8, 12)]


def test_passages_stand_in_the_order_in_which_they_first_come():
    """As after a da capo: the beginning comes once more at the end, and is still the first passage."""
    made = score(*["G4 w"] * 4, *["A4 w"] * 4)
    first, second = made.bars[:4], made.bars[4:]
    da_capo = type(made)(title="t", reading=made.reading, bars=(*first, *second, *first))
    assert [(p.start, p.stop) for p in passages_of(da_capo)] == [(0, 4), (4, 8)]


def test_notes_of_a_passage_are_numbered_from_one_and_heads_from_its_first_bar():
    second = passages_of(score(*["G4 h, A4 h"] * 8))[1]
    assert [note.n for note in second.notes][:2] == [1, 2]
    assert second.notes[0].heads == (HeadId(0, 0),)
    assert not second.whole
    assert whole_tune(second.score).whole


@given(st.lists(st.booleans(), min_size=1, max_size=30), st.integers(1, 8))
def test_passages_follow_each_other_without_gap_and_each_has_a_note(sounding, bars):
    """Whatever the bars hold; each is another page here, so none is left out for being known. A tune without any note
    has no passage.
    """
    rows = [f"{'CDEFGAB'[index % 7]}{3 + index // 7} w" if sounds else "r w" for index, sounds in enumerate(sounding)]
    cuts = passages_of(score(*rows), bars)
    if any(sounding):
        assert (cuts[0].start, cuts[-1].stop) == (0, len(sounding))
    assert all(before.stop == after.start for before, after in pairwise(cuts))
    assert all(cut.notes for cut in cuts)


def test_it_has_the_bar_numbers_that_are_printed():
    made = score(*["G4 w"] * 8)
    pickup = bar("D4 q", number="0", pickup=True)
    first, second = passages_of(type(made)(title="t", reading=made.reading, bars=(pickup, *made.bars)))
    assert first.bar_numbers == ("0", "4")
    assert second.bar_numbers == ("5", "8")


def test_it_is_called_by_its_whole_bars_for_nobody_counts_the_pickup():
    """Common practice: bar 1 is the first whole one."""
    made = score(*["G4 w"] * 8)
    pickup = bar("D4 q", number="0", pickup=True)
    first, second = passages_of(type(made)(title="t", reading=made.reading, bars=(pickup, *made.bars)))
    assert first.said_bars == ("1", "4")
    assert second.said_bars == ("5", "8")


def test_it_ends_where_the_music_breathes_and_not_where_the_count_is_full():
    """A phrase of five bars: its last note is held over a bar, as in Scarborough Fair."""
    five = ["G4 q, A4 q, B4 q, A4 q"] * 3 + ["D5 w ~", "~D5 w"]
    cuts = passages_of(score(*five, *["C5 q, B4 q, A4 q, G4 q"] * 3, "G4 w"))
    assert [(p.start, p.stop) for p in cuts] == [(0, 5), (5, 9)]


def test_only_the_last_passage_ends_the_tune():
    assert [cut.ends_tune for cut in passages_of(score(*["G4 w"] * 12))] == [False, False, True]


def test_it_is_read_at_the_octave_of_its_tune():
    assert passage("G4 w", reading=Reading.CONCERT).reading is Reading.CONCERT
