"""Cells drawn one after the other."""

import itertools
from random import Random

import pytest

from game.lines.cell_chain import CellChain
from game.lines.line_weights import Idiom
from game.lines.rhythms import RHYTHMS, level_of_cell


def drawn(rhythm, idiom, ticks, count=200, seed=1, **more):
    chain = CellChain(RHYTHMS[rhythm - 1], idiom, Random(seed))
    return [chain.drawn(at % (48 // ticks), ticks, **more) for at in range(count)]


@pytest.mark.parametrize("idiom", list(Idiom))
@pytest.mark.parametrize("rhythm", range(1, 7))
def test_all_cells_are_within_the_level_and_fit_their_time(idiom, rhythm):
    for ticks in (12, 18, 24, 36):
        for cell in drawn(rhythm, idiom, ticks, 60):
            assert level_of_cell(cell, ticks) <= rhythm
            assert all(0 <= onset < ticks for onset in cell)


@pytest.mark.parametrize("rhythm", [2, 3])
def test_without_rests_an_eighth_at_the_end_leads_to_the_next_cell(rhythm):
    cells = drawn(rhythm, Idiom.FOLK, 24)
    assert all(after[:1] == (0,) for before, after in itertools.pairwise(cells) if before[-1:] == (18,))


def test_a_cell_can_be_asked_to_begin_on_the_beat_or_to_begin_late():
    assert all(cell[0] == 0 for cell in drawn(5, Idiom.SOLO, 24, led=True))
    late = drawn(5, Idiom.SOLO, 24, late=True)
    assert sum(cell != (0,) and cell[0] > 0 for cell in late) > 180


def test_triplets_that_begin_with_a_rest_come_alone():
    def begins_hollow(cell):
        return [onset % 12 == 4 and onset - 4 not in cell for onset in cell].count(True)

    rows = [[begins_hollow(cell) for cell in drawn(6, Idiom.SOLO, 24, 1000, seed)] for seed in range(8)]
    assert sum(map(sum, rows)) > 4
    assert all(one + other <= 1 for row in rows for one, other in itertools.pairwise(row))


def test_over_changes_few_eighths_off_the_beat_stand_alone_where_they_may_not_be_held():
    onsets = [24 * at + onset for at, cell in enumerate(drawn(4, Idiom.SOLO, 24, 800)) for onset in cell]
    off = [onset for onset in onsets if onset % 12 == 6]
    alone = [onset for onset in off if not {onset - 6, onset + 6} & set(onsets)]
    assert len(off) > 300
    assert len(alone) < 0.12 * len(off)


def test_what_the_level_adds_comes_up_in_songs_as_well():
    assert any(8 in cell for cell in drawn(6, Idiom.FOLK, 24))
    assert any(6 in cell and 0 not in cell for cell in drawn(4, Idiom.LEAD, 24))


def test_a_song_has_habits():
    """Of all pairs of cells more are alike in a chain with habits than in one without."""

    def alike(habit):
        pairs = 0
        for seed in range(12):
            chain = CellChain(RHYTHMS[3], Idiom.LEAD, Random(seed), habit=habit)
            cells = [chain.drawn(at % 2, 24) for at in range(40)]
            pairs += sum(cells.count(cell) - 1 for cell in cells)
        return pairs

    assert alike(2.0) > 1.1 * alike(0.0)
