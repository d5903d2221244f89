"""Which played note answers which written one: the whole of following, on takes of which the truth is known."""

from collections.abc import Sequence
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.judging.following import follower
from game.judging.following.follow_numbers import BEAM, MISSED, QUIT, QUIT_EACH
from game.judging.following.followed import NOBODY, FollowedStep, TakeRows
from game.judging.following.follower import follow
from game.judging.following.player_clock import AT_THE_START
from game.judging.following.search import Hypothesis, after_note
from tests.judging.following.rows import BAR_NOTES, GAP_S, Sound, answered, as_written, jumps, later, line_of, rows_of
from tests.judging.players.material import PITCHES
from tests.sampling import how_many

LINE = line_of(6)
PERFECT = as_written(LINE)
WHOLE = list(range(len(LINE)))
ANY_SOUNDS = st.lists(st.tuples(st.floats(-1.0, 12.0), st.integers(58, 70)), max_size=30)
ANY_LINE = st.lists(st.integers(58, 70), max_size=30)


def followed(sounds: Sequence[Sound], asked: Sequence[int] = LINE) -> list[FollowedStep]:
    return follow(rows_of(asked, sounds))


# What holds of any take.
@given(ANY_LINE, ANY_SOUNDS)
@settings(max_examples=how_many(400, by_default=40), deadline=None)
def test_every_played_note_has_one_step_and_they_keep_their_order(asked: list[int], sounds: list[Sound]):
    steps = followed(sounds, asked)
    assert [step.played for step in steps] == list(range(len(sounds)))


@given(ANY_LINE, ANY_SOUNDS)
@settings(max_examples=how_many(400, by_default=40), deadline=None)
def test_written_notes_rise_but_at_jumps_and_a_jump_leads_from_the_last_note_to_its_own(asked, sounds: list[Sound]):
    last = -1
    for step in followed(sounds, asked):
        if step.jump is not None:
            assert (step.jump.played, step.jump.left, step.jump.to) == (step.played, last, step.written)
        elif step.written != NOBODY:
            assert last < step.written < len(asked)
        last = last if step.written == NOBODY else step.written


@given(
    seed=st.integers(0, 50),
    drift=st.floats(-0.03, 0.03),
    bias_s=st.floats(-0.1, 0.1),
    gap_s=st.floats(0.12, 1.2),
)
@settings(max_examples=how_many(400, by_default=30), deadline=None)
def test_a_perfect_take_answers_itself_at_any_drift_and_bias(seed: int, drift: float, bias_s: float, gap_s: float):
    line = line_of(6, seed)
    rows = rows_of(line, as_written(line, gap_s=gap_s, drift=drift, bias_s=bias_s), gap_s=gap_s, beat_s=2 * gap_s)
    steps = follow(rows)
    assert answered(steps) == WHOLE
    assert jumps(steps) == []


# One fault.
@pytest.mark.parametrize("drift", [-0.03, 0.0, 0.03])
def test_one_wrong_note_is_still_for_its_written_note_and_leaves_its_neighbours_alone(drift: float):
    for at in range(len(LINE)):
        sounds = as_written(LINE, drift=drift)
        sounds[at] = (sounds[at][0], 90)
        steps = followed(sounds)
        assert (answered(steps), jumps(steps)) == (WHOLE, [])


@pytest.mark.parametrize("drift", [-0.03, 0.0, 0.03])
def test_one_dropped_note_leaves_its_neighbours_alone(drift: float):
    sounds = as_written(LINE, drift=drift)
    for at in range(len(LINE)):
        steps = followed([*sounds[:at], *sounds[at + 1 :]])
        assert answered(steps) == [*range(at), *range(at + 1, len(LINE))]
        assert jumps(steps) == []


@pytest.mark.parametrize("drift", [-0.03, 0.0, 0.03])
def test_one_added_note_answers_nothing_and_leaves_its_neighbours_alone(drift: float):
    sounds = as_written(LINE, drift=drift)
    for at in range(len(LINE)):
        steps = followed([*sounds, (sounds[at][0] + GAP_S / 2, 90)])
        assert answered(steps) == [*range(at + 1), None, *range(at + 1, len(LINE))]
        assert jumps(steps) == []


# One jump.
def first_note_differs(seed: int, bar: int) -> bool:
    """Where two bars begin alike only the bar line tells which was left: see `bar_lines`."""
    return line_of(6, seed)[bar * BAR_NOTES] != line_of(6, seed)[(bar + 1) * BAR_NOTES]


SKIPS = [(seed, bar) for seed in range(8) for bar in (1, 2, 3) if first_note_differs(seed, bar)]


@pytest.mark.parametrize(("seed", "bar"), SKIPS)
def test_a_skipped_bar_is_one_jump(seed: int, bar: int):
    line, start, end = line_of(6, seed), bar * BAR_NOTES, (bar + 1) * BAR_NOTES
    sounds = as_written(line)
    steps = followed([*sounds[:start], *later(sounds[end:], -BAR_NOTES * GAP_S)], line)
    assert answered(steps) == [*range(start), *range(end, len(line))]
    assert jumps(steps) == [(start, start - 1, end)]


@pytest.mark.parametrize("seed", [seed for seed in range(8) if first_note_differs(seed, 2)])
@pytest.mark.parametrize("wait_s", [0.0, 0.7, 2.0])
def test_a_bar_gone_over_again_is_one_jump(seed: int, wait_s: float):
    line, start, end = line_of(6, seed), 2 * BAR_NOTES, 3 * BAR_NOTES
    sounds = as_written(line)
    steps = followed([*sounds[:end], *later(sounds[start:], BAR_NOTES * GAP_S + wait_s)], line)
    assert answered(steps) == [*range(end), *range(start, len(line))]
    assert jumps(steps) == [(end, end - 1, start)]


@pytest.mark.parametrize("at", [1, 5, 17, 40])
@pytest.mark.parametrize("wait_s", [0.6, 0.8, 2.3, 30.0])
def test_a_stop_or_a_beat_lost_is_one_jump_to_the_next_note(at: int, wait_s: float):
    steps = followed([*PERFECT[:at], *later(PERFECT[at:], wait_s)])
    assert answered(steps) == WHOLE
    assert jumps(steps) == [(at, at - 1, at)]
    jump = steps[at].jump
    assert jump is not None
    assert jump.by_s == pytest.approx(wait_s, abs=0.02)


def test_the_clock_of_a_player_who_lost_a_beat_stands_a_beat_behind_from_there():
    steps = followed([*PERFECT[:20], *later(PERFECT[20:], 0.8)])
    assert [step.clock.lean_s for step in steps[:20]] == pytest.approx([0.0] * 20, abs=1e-6)
    assert [step.clock.lean_s for step in steps[20:]] == pytest.approx([0.8] * 28, abs=1e-6)


# The short way and the long way.
def searched_throughout(rows: TakeRows) -> list[int | None]:
    """What a beam four times as wide finds that is never closed, from the first note to the last."""
    beam = [Hypothesis(0.0, -1, AT_THE_START, 0, 0.0, None)]
    for j in range(len(rows.times_s)):
        beam = after_note(rows, beam, j, 4 * BEAM)
    left = len(rows.asked) - 1
    top = min(
        beam,
        key=lambda guess: guess.cost + min(MISSED * (left - guess.written), QUIT + QUIT_EACH * (left - guess.written)),
    )
    steps, trail = [], top.trail
    while trail is not None:
        steps.append(trail.step)
        trail = trail.before
    return answered(steps[::-1])


def take_with_faults(kind: str, rng: Random) -> TakeRows:
    """Drift to 3 %, 15 ms of spread, 4 % each of dropped, wrong and added, and a jump in half of them."""
    line = PITCHES[kind](48, rng)
    sounds = as_written(line, drift=rng.uniform(-0.03, 0.03))
    at = rng.randrange(8, 40)
    if rng.random() < 0.25:
        sounds = [*sounds[:at], *later(sounds[at:], rng.uniform(0.5, 3.0))]
    elif rng.random() < 0.33:
        sounds = [*sounds[:at], *later(sounds[at - at % 8 :], (at % 8 + rng.randrange(3)) * GAP_S)]
    heard = []
    for at_s, pitch in sounds:
        fate, spread_s = rng.random(), rng.gauss(0, 0.015)
        if fate > 0.04:
            heard.append((at_s + spread_s, pitch + rng.choice((-2, -1, 1, 2)) if fate < 0.08 else pitch))
        if fate > 0.96:
            heard.append((at_s + rng.uniform(0.1, 0.3), pitch + rng.choice((-2, 3, 5))))
    return rows_of(line, heard)


@pytest.mark.parametrize(
    ("kind", "least"), [("walking", 0.997), ("scales", 0.999), ("ostinato", 0.995), ("repeated", 0.998)]
)
def test_the_short_way_gives_what_the_long_way_gives(kind: str, least: float):
    """Of three hundred takes each .9995, all, .9971 and all of the notes. Where they differ a search closed on one of
    several like places, and what came after spoke for another.
    """
    equal = whole = 0
    for seed in range(how_many(300, by_default=40)):
        rows = take_with_faults(kind, Random(seed))
        pairs = list(zip(answered(follow(rows)), searched_throughout(rows), strict=True))
        equal += sum(ours == theirs for ours, theirs in pairs)
        whole += len(pairs)
    assert equal >= least * whole


@pytest.mark.parametrize("seed", [51, 57])
def test_steps_before_the_trouble_and_notes_left_at_the_end_are_thought_of(seed: int):
    """Among repeated notes trouble shows late, and near the end there is little after it."""
    rows = take_with_faults("repeated", Random(seed))
    assert answered(follow(rows)) == searched_throughout(rows)


# What no player does, and some do.
@pytest.mark.parametrize("pitches", [2, 5, 36])
def test_a_hopeless_take_ends_in_bounded_work(pitches: int, monkeypatch: pytest.MonkeyPatch):
    """Two thousand notes at random, of so many pitches: with few of them a foothold is found again and again."""
    rng = Random(3)
    line = [rng.randint(40, 39 + pitches) for _ in range(2000)]
    sounds = [(rng.uniform(0, 2000 * GAP_S), rng.randint(40, 39 + pitches)) for _ in range(2000)]
    worked: list[int] = []

    def counted(rows: TakeRows, beam: Sequence[Hypothesis], j: int, width: int) -> list[Hypothesis]:
        worked.append(len(beam))
        return after_note(rows, beam, j, width)

    monkeypatch.setattr(follower, "after_note", counted)
    assert len(followed(sounds, line)) == 2000
    assert len(worked) < 1.5 * 2000
    assert sum(worked) < 1.5 * 2000 * 10


def test_nothing_played_is_nothing_followed():
    assert followed([]) == []


def test_where_nothing_is_written_every_note_answers_nothing():
    assert answered(followed(PERFECT[:3], [])) == [None] * 3


@pytest.mark.parametrize("pitch", [LINE[0], 90])
def test_one_note_played_answers_the_first_written_note_be_it_right_or_wrong(pitch: int):
    assert answered(followed([(0.03, pitch)])) == [0]


@pytest.mark.parametrize("at", [1, 8, 22, 40])
def test_who_joins_in_later_is_found_where_they_are(at: int):
    assert answered(followed(PERFECT[at:])) == WHOLE[at:]


def test_of_notes_all_at_one_moment_no_more_than_one_answers_the_first_note():
    steps = followed([(0.0, pitch) for pitch in LINE[:12]])
    assert answered(steps).count(0) == 1


def test_of_one_written_note_one_of_those_played_is_the_answer():
    assert answered(followed([(0.0, 60)], [60])) == [0]
    assert answered(followed([(0.0, 60), (0.5, 60), (1.0, 61)], [60]))[0] == 0


@pytest.mark.parametrize("drift", [-0.03, 0.0, 0.03])
def test_where_all_pitches_are_equal_time_alone_tells_what_was_left_out(drift: float):
    drum = [60] * 48
    sounds = as_written(drum, drift=drift)
    steps = followed([*sounds[:20], *sounds[21:]], drum)
    assert answered(steps) == [*range(20), *range(21, 48)]
