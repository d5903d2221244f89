"""What is accompanied by bass and chords."""

from dataclasses import replace
from itertools import product

import pytest

from game.coach.stages import Pulse, Stage
from game.music.accompanying import Accompanied
from game.neck.neck_map import standard_map
from game.practice.accompanied import is_accompanied
from game.practice.take_request import TakeRequest, request_for
from tests.made import score

PART = replace(
    request_for(score(*["F4 q, G4 q, A4 q, Bb4 q"] * 10), standard_map()),
    stage=Stage.TIME,
    pulse=Pulse.METRONOME,
    tempo_bpm=80,
)
WHOLE = PART.whole_or_passages()


def test_what_is_played_whole_is_accompanied_unless_nothing_is():
    assert is_accompanied(WHOLE, Accompanied.WHOLE, reading=False)
    assert is_accompanied(WHOLE, Accompanied.UPPER_RUNGS, reading=False)
    assert not is_accompanied(WHOLE, Accompanied.NOTHING, reading=False)


@pytest.mark.parametrize(("rungs_below", "expected"), [(0, False), (1, False), (2, True), (5, True)])
def test_a_part_is_accompanied_above_the_second_rung_and_only_if_that_is_wished(rungs_below, expected):
    assert is_accompanied(PART, Accompanied.UPPER_RUNGS, reading=False, rungs_below=rungs_below) is expected
    assert not is_accompanied(PART, Accompanied.WHOLE, reading=False, rungs_below=rungs_below)


def refused() -> list[TakeRequest]:
    """First sight, pitches only, names, the rhythm alone, an unseen line, and one written note a click."""
    others = [WHOLE.in_stage(stage) for stage in Stage if stage is not Stage.TIME]
    others += [replace(one, tempo_bpm=80, pulse=Pulse.METRONOME) for one in others]
    return [
        *others,
        WHOLE.at_sight(),
        replace(WHOLE, fresh=True),
        WHOLE.by_the_click(),
        replace(WHOLE, one_a_click=True),
    ]


def test_at_first_sight_and_for_pitches_only_there_are_no_chords_whatever_is_wished():
    """They would give pitches away."""
    for request, what, rungs in product(refused(), Accompanied, (0, 9)):
        assert not is_accompanied(request, what, reading=False, rungs_below=rungs), request.stage
    assert not any(is_accompanied(WHOLE, what, reading=True, rungs_below=9) for what in Accompanied)
