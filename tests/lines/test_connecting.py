"""Ways from one chord tone to the next."""

from itertools import pairwise
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.connecting import Connection, approach_note, connecting_notes, resting_notes, singable, triplet_middle
from game.lines.degree_chords import DOMINANT, Degree, chord_on_degree, scale_over
from game.lines.scale import key_named, scale_of
from game.music.pitch import pitch
from tests.lines.making import MAP

F = scale_of(key_named("F"), MAP)
OVER = scale_over(F, chord_on_degree(F.key, Degree(5, DOMINANT)))
TONES = sorted(OVER.tones.values(), key=lambda tone: tone.midi)
inner_tones = st.sampled_from(TONES[2:-2])


def connection(here, ahead, *, weights=None, last=None):
    return Connection(F, OVER, here, ahead, weights or {}, last)


@given(inner_tones, inner_tones, st.integers(0, 3), st.booleans(), st.integers(0, 200))
def test_so_many_notes_lead_to_the_chord_tone_ahead_and_each_can_be_sung(here, ahead, count, chromatic, seed):
    """On the map, no note twice running, no augmented second, nothing wider than a sixth."""
    found = connecting_notes(connection(here, ahead), count, here if here != ahead else None, chromatic, Random(seed))
    assert len(found) == count
    assert all(note.midi in F.written for note in found)
    assert all(singable(before, after) for before, after in pairwise([*found, ahead]))


@given(inner_tones, inner_tones, st.integers(0, 200))
def test_plain_ways_keep_to_the_scale_over_the_chord(here, ahead, seed):
    found = connecting_notes(connection(here, ahead), 3, None, False, Random(seed))
    assert set(found) <= set(OVER.by_step.values())


def test_weights_bring_a_note_up_more_often():
    here, ahead = pitch("C5"), pitch("G4")
    heavy = {pitch("A4").midi: 20.0}

    def share(weights):
        ways = [
            connecting_notes(connection(here, ahead, weights=weights), 3, None, False, Random(s)) for s in range(60)
        ]
        return sum(pitch("A4") in found for found in ways)

    assert share(heavy) > share({pitch("A4").midi: 0.05})


@given(inner_tones, st.integers(0, 4), st.integers(0, 200))
def test_before_a_rest_the_line_stays_on_chord_tones_close_by(here, count, seed):
    found = resting_notes(OVER, here, count, Random(seed))
    assert len(found) == count
    assert set(found) <= set(OVER.tones.values())


@given(inner_tones, st.integers(0, 200))
def test_an_approach_note_lies_beside_its_goal_and_is_not_the_note_before(here, seed):
    before = TONES[0] if here != TONES[0] else TONES[1]
    found = approach_note(connection(here, here), before, Random(seed))
    if found is not None:
        assert 0 < abs(found.midi - here.midi) <= 2
        assert found.midi != before.midi


def test_a_triplet_goes_through_the_scale_or_turns():
    assert triplet_middle(OVER, pitch("C5"), pitch("E5"), pitch("F5")).name == "D5"
    assert triplet_middle(OVER, pitch("C5"), pitch("D5"), pitch("F5")).name == "E5"


def test_a_leading_note_in_a_triplet_has_its_goal_at_once():
    """F♯ before G, which an enclosure would only reach later."""
    assert triplet_middle(OVER, pitch("F#4"), pitch("A4"), pitch("G4")).name == "G4"


@pytest.mark.parametrize(
    ("first", "second", "can"),
    [
        ("C4", "C4", False), ("C4", "Db4", True), ("C4", "C#4", True), ("C4", "D4", True), ("C4", "D#4", False),
        ("C4", "A4", True), ("C4", "Bb4", False), ("F4", "B4", True),
    ],
)  # fmt: skip
def test_augmented_seconds_sevenths_and_the_same_note_cannot_be_sung(first, second, can):
    """A line over changes may leap a tritone (trade)."""
    assert singable(pitch(first), pitch(second)) is can
    assert singable(pitch(second), pitch(first)) is can
