"""The keys of each level, by the stretches of the map."""

from random import Random

import pytest

from game.lines.contour import range_of
from game.lines.fresh_line import fresh_line
from game.lines.key_ladder import ladder_keys, stretches_of
from game.lines.levels import LEVELS
from game.lines.scale import scale_of
from game.music.keys import Key
from game.neck.neck_map import standard_map
from tests.lines.making import MAP, notes_of, tones_of


def names(level, neck_map=MAP):
    return [key.name for key in ladder_keys(level, neck_map)]


def test_on_position_five_c_to_g_come_first_then_f_and_b_flat_then_c_with_its_b_and_g_last():
    """F and B flat need no stretch there, C one for each B3 of its scale, G more (calculated from the map)."""
    assert names(1) == ["C"]
    assert names(2) == ["F", "Bb"]
    assert names(3) == ["F", "Bb", "C"]
    assert names(5)[:5] == ["F", "Bb", "C", "Eb", "G"]
    first = {note.pitch.name for note in notes_of(fresh_line(LEVELS[0], MAP, key=Key(), bars=16, rng=Random(1)))}
    assert first <= {"C5", "D5", "E5", "F5", "G5"}


def test_each_level_has_the_keys_of_the_one_below_and_minors_from_the_fourth_on():
    for level in range(3, 9):
        assert set(names(level - 1)) <= set(names(level))
    assert {"Dm", "Gm", "Am"} <= set(names(4))
    assert len(names(8)) == 11


@pytest.mark.parametrize("position", [1, 2, 7, 9, 12])
def test_another_map_has_the_keys_that_need_fewest_stretches_there(position):
    neck_map = standard_map(position=position)
    stretches = stretches_of(neck_map)

    def cost(name):
        scale = scale_of(next(key for key in ladder_keys(8, neck_map) if key.name == name), neck_map)
        return sum(pitch.midi in stretches for pitch in scale.pitches)

    costs = [cost(name) for name in names(8, neck_map) if not name.endswith("m")]
    assert costs == sorted(costs)


@pytest.mark.parametrize("key", [Key(), Key(-1), Key(-2), Key(2)])
def test_five_notes_that_nobody_wishes_otherwise_need_no_stretch_and_lie_in_the_middle(key):
    scale = scale_of(key, MAP)
    low, high = range_of(LEVELS[0], scale, [1.0] * len(scale.pitches), Random(1), stretches_of(MAP))
    five = scale.pitches[low : high + 1]
    assert not {pitch.midi for pitch in five} & stretches_of(MAP)
    assert abs(five[2].staff_step - 34) <= 4


def test_every_spelling_of_jazz_comes_up_in_its_keys():
    """G flat, D flat, C flat and D sharp, in the chords or the notes of the levels over changes."""
    found = set()
    for seed in range(22):
        key = ladder_keys(8, MAP)[seed % 11]
        made = fresh_line(LEVELS[7], MAP, key=key, bars=16, rng=Random(seed))
        found |= {(note.pitch.step, note.pitch.alter) for note in notes_of(made)}
        found |= {tone for bar in made.bars for chord in bar.chords for tone in tones_of(chord)}
    assert {("G", -1), ("D", -1), ("C", -1), ("D", 1)} <= found
