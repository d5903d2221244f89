"""Right notes stay right however people really play: a sample of what `tests.bench.follow` plays at the judge."""

from collections.abc import Sequence

import pytest

from game.judging.live_timed import begin_timed, hear_timed, pass_time
from game.judging.verdicts import Verdict
from tests.bench.follow_counts import over
from tests.bench.follow_measures import FRAME_S, Measure, all_lost, reversed_live, rhythm_lost, right_lost, time_lost
from tests.bench.follow_takes import (
    at_fault,
    drifting,
    jumping,
    out_of_time,
    played_live,
    rhythms_alone,
    single_faults,
    tapping,
)
from tests.judging.players.cells import Cell
from tests.judging.players.performed import Performance
from tests.sampling import how_many, sample


def lost_share(cells: Sequence[Cell], measure: Measure, seeds: int = 2, whole: int = 6) -> float:
    """What is lost over all takes of the cells: `whole` takes of each where everything is asked for."""
    found = over(cells, measure, how_many(whole, by_default=seeds))
    return sum(row.lost for row in found) / sum(row.whole for row in found)


def test_no_right_note_is_lost_to_drift_or_rubato():
    assert lost_share(sample(drifting(), by_default=4), right_lost) <= 0.001


def test_no_right_note_is_lost_to_the_hands_of_people():
    assert lost_share(sample(tapping(), by_default=4), right_lost) <= 0.001


@pytest.mark.parametrize(("pitches", "most"), [("walking", 0.002), ("ostinato", 0.004)])
def test_faults_of_a_drifting_player_are_told_as_made(pitches: str, most: float):
    assert lost_share(at_fault((pitches,)), all_lost) <= most


@pytest.mark.parametrize("pulse", ["steady", "drift 1-3 %"])
def test_a_single_fault_leaves_its_neighbours_alone(pulse: str):
    assert lost_share(sample(single_faults(pulse), by_default=4), all_lost) <= 0.0005


@pytest.mark.parametrize("pulse", ["steady", "drift 1-3 %"])
@pytest.mark.parametrize(
    "jump", sample(["skipped bar", "one beat behind", "back a bar", "stop off the beat"], by_default=2)
)
def test_a_jump_costs_no_right_note(jump: str, pulse: str):
    assert lost_share(jumping(jump, pulse), all_lost) <= 0.002


@pytest.mark.parametrize("course", ["stop off the beat", "from the top"])
def test_early_and_late_are_told_as_made_after_a_jump(course: str):
    """Who goes back to the top of a tune whose first part is written twice may as well have gone back to the second."""
    assert lost_share(out_of_time(course), time_lost, 4, 40) <= 0.03


def test_rhythm_alone_is_paired_as_made():
    """But where a like rhythm was gone over again: that cannot be told from the sound."""
    assert lost_share(rhythms_alone(), rhythm_lost) <= 0.007


@pytest.mark.parametrize("pulse", ["steady", "drift 1-3 %"])
@pytest.mark.parametrize("course", ["two seconds", "stop on the beat"])
def test_who_stops_is_told_of_no_missed_note_while_they_wait(course: str, pulse: str):
    """Two seconds, or one to six beats: until they go on, and after it."""
    for cell in jumping(course, pulse):
        for seed in range(how_many(12, by_default=2)):
            performance = cell.performance(seed)
            assert performance.jumps == 1
            assert missed_live(performance) == set(), f"{cell.name}, seed {seed}"


def missed_live(performance: Performance) -> set[int]:
    """The numbers of the notes that were ever told missed, up to the last note played."""
    material = performance.material
    live, clock_s = begin_timed(material.line, material.grid), -1.0
    missed: set[int] = set()
    for note in performance.played:
        while clock_s < note.started_s:
            live, news = pass_time(live, clock_s)
            missed |= {verdict.n for verdict in news.verdicts if verdict.verdict is Verdict.MISSED}
            clock_s += FRAME_S
        live, news = hear_timed(live, note)
        missed |= {verdict.n for verdict in news.verdicts if verdict.verdict is Verdict.MISSED}
    return missed


@pytest.mark.parametrize(("kind", "most"), [("faults", 0.002), ("repeated pitches", 0.01), ("jumps", 0.02)])
def test_few_live_verdicts_are_reversed(kind: str, most: float):
    cells = played_live(kind)
    few = cells if len(cells) <= 6 else sample(cells, by_default=6)
    assert lost_share(few, reversed_live) <= most
