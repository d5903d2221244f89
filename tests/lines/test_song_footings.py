"""Where the notes of a song may lie."""

from dataclasses import replace
from random import Random

from game.lines.degree_chords import MAJOR, Degree, chord_on_degree
from game.lines.song_footings import song_footings, song_rules, tilted
from game.lines.spots import Spot
from tests.lines.test_returns import REQUEST, plan_of

CHORD = chord_on_degree(REQUEST.scale.key, Degree(1, MAJOR))
PLAN = replace(
    plan_of((), ()), spots=tuple(Spot(48 * bar + at, 24) for bar in range(4) for at in (0, 24)), chords=(CHORD,) * 4
)


def footings(plan=PLAN, seed=1):
    return song_footings(plan, Random(seed))


def test_all_lie_in_a_window_as_wide_as_the_level_has_it():
    for seed in range(10):
        midis = {midi for footing in footings(seed=seed) for midi in footing.pitches}
        indices = [REQUEST.scale.pitches.index(pitch) for pitch in REQUEST.scale.pitches if pitch.midi in midis]
        assert max(indices) - min(indices) <= 4


def test_the_last_is_the_key_note_and_the_way_to_it_stays_open():
    *_, before, last = footings()
    assert {midi % 12 for midi in last.pitches} == {5}
    home = next(iter(last.pitches))
    assert all(abs(midi - home) <= 4 for midi in before.pitches)


def test_a_held_note_does_not_grate_against_its_chord():
    """B flat over F: the fourth over a major chord (trade)."""
    for footing in footings()[:-1]:
        assert all(midi % 12 != 10 for midi in footing.pitches)


def test_a_note_of_more_weight_weighs_more():
    heavy = replace(PLAN, request=replace(REQUEST, weights={69: 5.0}))
    plain, weighted = (footings(plan, seed=3)[1].pitches for plan in (PLAN, heavy))
    assert weighted.get(69, 0) / sum(weighted.values()) > plain.get(69, 0) / sum(plain.values())


def test_songs_move_as_their_level_has_it_and_no_two_alike():
    assert song_rules(PLAN, Random(1)).widest == REQUEST.level.leap
    assert song_rules(PLAN, Random(1)).tilt != song_rules(PLAN, Random(2)).tilt
    assert tilted((2.0, 3.0), (0.0, 0.0), Random(1)) == (2.0, 3.0)
