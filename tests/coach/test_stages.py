"""What each stage asks, and the order in which a player chooses them."""

import pytest

from game.coach.stages import IN_TURN, Stage


@pytest.mark.parametrize(
    ("stage", "named", "pitch", "rhythm", "once"),
    [
        (Stage.LETTERS, True, True, False, False),
        (Stage.PLACES, False, True, False, False),
        (Stage.RHYTHM, False, False, True, False),
        (Stage.TIME, False, True, True, False),
        (Stage.SIGHT, False, True, True, True),
    ],
)
def test_each_stage_adds_a_single_demand(stage, named, pitch, rhythm, once):
    """As the table of stages has it (ours, from teachers' practice)."""
    asked = stage.named, stage.pitch_counts, stage.rhythm_counts, stage.once_through
    assert asked == (named, pitch, rhythm, once)


def test_by_choice_the_stages_come_round_in_turn():
    met, stage = [], Stage.LETTERS
    for _ in range(5):
        met.append(stage)
        stage = stage.following
    assert met == [*IN_TURN, Stage.LETTERS]


def test_from_first_sight_the_choice_leads_to_the_places():
    assert Stage.SIGHT.following is Stage.PLACES
