"""Takes without a click: the pulse is found in the playing, and the proportions are judged."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import sin
from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.free import FreeJudgement, judge_free
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import timed_grid
from game.judging.verdicts import Verdict
from tests.judging.made_takes import (
    Errors,
    expected_line,
    made_take,
    moved,
    perfect_take,
    played_note,
    random_line,
    verdict_as_made,
)

SEEDS = range(4)
ANY_PITCH = TimedRules(pitch_counts=False)


class Line:
    """A random line of 40 notes and an exact take of it."""

    def __init__(self, seed: int, tempo_bpm: float = 80) -> None:
        self.rng = Random(seed)
        self.notes = random_line(40, self.rng)
        self.grid = timed_grid([note.note for note in self.notes], tempo_bpm=tempo_bpm)
        self.exact = perfect_take(self.notes, self.grid)

    def unsteady(self, played: Sequence[PlayedNote], spread_s: float = 0.02) -> list[PlayedNote]:
        return [replace(note, started_s=note.started_s + self.rng.gauss(0, spread_s)) for note in played]


def words(free: FreeJudgement) -> list[Verdict]:
    return [verdict.verdict for verdict in free.judgement.verdicts]


def on_one_note(played: Sequence[PlayedNote]) -> list[PlayedNote]:
    return [played_note(60, note.started_s) for note in played]


@pytest.mark.parametrize("tempo_bpm", [40, 80, 160])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_steady_take_is_clean_at_any_tempo_and_the_tempo_is_found(seed: int, tempo_bpm: float) -> None:
    line = Line(seed, tempo_bpm)
    free = judge_free(line.notes, line.unsteady(line.exact))
    assert words(free) == [Verdict.CLEAN] * 40
    assert free.median_tempo_bpm == pytest.approx(tempo_bpm, rel=0.02)


@pytest.mark.parametrize("tempo_bpm", [40, 80, 160])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_rhythm_alone_on_one_note_is_found_as_well(seed: int, tempo_bpm: float) -> None:
    line = Line(seed, tempo_bpm)
    free = judge_free(line.notes, on_one_note(line.unsteady(line.exact)), ANY_PITCH)
    assert words(free) == [Verdict.CLEAN] * 40
    assert free.median_tempo_bpm == pytest.approx(tempo_bpm, rel=0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_it_does_not_matter_when_the_take_begins(seed: int) -> None:
    line = Line(seed)
    played = made_take(line.notes, line.grid, Errors(), line.rng).played
    assert words(judge_free(line.notes, played)) == words(judge_free(line.notes, moved(played, 1234.5)))


@pytest.mark.parametrize("seed", SEEDS)
def test_playing_at_half_the_tempo_gives_the_same_verdicts(seed: int) -> None:
    line = Line(seed)
    slower = [replace(note, started_s=2 * note.started_s) for note in line.exact]
    assert words(judge_free(line.notes, slower)) == words(judge_free(line.notes, line.exact))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_tempo_that_changes_slowly_is_followed(seed: int) -> None:
    line = Line(seed)
    swaying = [replace(note, started_s=note.started_s + 0.25 * sin(note.started_s / 3)) for note in line.exact]
    rushing = [replace(note, started_s=note.started_s * (1 - 0.005 * note.started_s)) for note in line.exact]
    assert words(judge_free(line.notes, line.unsteady(swaying))) == [Verdict.CLEAN] * 40
    assert words(judge_free(line.notes, line.unsteady(rushing))) == [Verdict.CLEAN] * 40


@pytest.mark.parametrize("seed", SEEDS)
def test_one_misplaced_note_is_late_and_its_neighbours_are_clean(seed: int) -> None:
    line = Line(seed)
    played = line.unsteady(line.exact)
    played[12] = replace(played[12], started_s=played[12].started_s + 0.25)
    expected = [Verdict.CLEAN] * 40
    expected[12] = Verdict.LATE
    assert words(judge_free(line.notes, played)) == expected


@pytest.mark.parametrize("seed", SEEDS)
def test_a_wait_makes_one_note_late_and_the_pulse_goes_on_from_there(seed: int) -> None:
    line = Line(seed)
    expected = [Verdict.CLEAN] * 40
    expected[12] = Verdict.LATE
    free = judge_free(line.notes, line.unsteady([*line.exact[:12], *moved(line.exact[12:], 0.4)], 0.01))
    assert words(free) == expected
    assert free.judgement.events == ()


@pytest.mark.parametrize("rules", [TimedRules(), ANY_PITCH])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_long_wait_is_a_stop_and_the_rest_is_clean(seed: int, rules: TimedRules) -> None:
    line = Line(seed)
    played = line.unsteady([*line.exact[:12], *moved(line.exact[12:], 3)])
    free = judge_free(line.notes, played if rules.pitch_counts else on_one_note(played), rules)
    assert words(free) == [Verdict.CLEAN] * 40
    assert [(event.kind.value, event.n) for event in free.judgement.events] == [("stop", 13)]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_bar_gone_over_again_is_a_restart(seed: int) -> None:
    line = Line(seed)
    third, fourth = (
        next(index for index, note in enumerate(line.notes) if note.note.onset >= onset) for onset in (8, 12)
    )
    played = line.unsteady([*line.exact[:fourth], *moved(line.exact[third:], 3)])
    free = judge_free(line.notes, played)
    assert words(free) == [Verdict.CLEAN] * 40
    assert [(event.kind.value, event.n) for event in free.judgement.events] == [("restart", third + 1)]
    assert free.judgement.extra == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_giving_up_half_way_leaves_the_rest_unread(seed: int) -> None:
    line = Line(seed)
    expected = [Verdict.CLEAN] * 20 + [Verdict.UNREAD] * 20
    assert words(judge_free(line.notes, line.unsteady(line.exact[:20]))) == expected


def test_most_verdicts_are_as_made_among_errors() -> None:
    right = count = 0
    for seed in range(12):
        line = Line(seed)
        take = made_take(line.notes, line.grid, Errors(), line.rng)
        for index, word in enumerate(words(judge_free(line.notes, take.played))):
            count += 1
            right += word is verdict_as_made(line.notes[index], take.answers[index], index, line.grid)
    assert right / count >= 0.97


def test_dotted_notes_played_even_are_told_from_dotted_notes() -> None:
    """A dotted quarter and an eighth, over and over, played as two quarters."""
    line = expected_line([60] * 16, [Fraction(3, 2), Fraction(1, 2)] * 8)
    even = [played_note(60, at * 0.6) for at in range(16)]
    assert words(judge_free(line, even, ANY_PITCH)).count(Verdict.CLEAN) <= 10


def test_a_take_of_nothing_is_unread_and_has_no_tempo() -> None:
    free = judge_free(Line(1).notes, [])
    assert words(free) == [Verdict.UNREAD] * 40
    assert free.median_tempo_bpm is None


def test_a_single_note_is_read_and_the_rest_is_not() -> None:
    line = Line(1)
    assert words(judge_free(line.notes, line.exact[:1])) == [Verdict.CLEAN] + [Verdict.UNREAD] * 39
