"""No mark is false: over random months of practice each is held against the takes that it must have come from."""

from random import Random

import pytest

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import PassageFacts, PassageOpened, TakeResult
from game.coach.marks import Mark
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.demo.learner import Learner
from tests.bench.coach_measures import trained
from tests.bench.coach_runs import whole_run
from tests.bench.learners import AlwaysLate
from tests.sampling import how_many

NAMES = ("ford", "weir")
TARGET_BPM = 60


def month_of_takes(seed):
    """Takes at any hour: some left at once, some stopped, some right and beside the beat, some of few notes."""
    rng, minutes = Random(f"true marks {seed}"), 100 * 1440 + 1400
    notes = {name: rng.choice((4, 7, 8, 12, 19, 20, 40)) for name in NAMES}
    for _ in range(60):
        minutes += rng.choice((2, 5, 20, 600, 900, 1440, 3 * 7 * 1440 if rng.random() < 0.1 else 3))
        name = rng.choice(NAMES)
        yield one_take(rng, name, notes[name], minutes)


def one_take(rng, name, notes, minutes):
    read = rng.randint(0, notes - 1) if rng.random() < 0.1 else notes
    wrong = min(rng.choice((0, 0, 0, 1, 1, 2, 5)), read)
    right = read - wrong
    timed = rng.random() < 0.8
    numbers = rng.sample(range(1, min(notes, 10) + 1), min(wrong, notes, 10))
    away = frozenset(numbers[:1]) if rng.random() < 0.2 else frozenset()
    return TakeResult(
        passage=PassageFacts(name=name, target_bpm=TARGET_BPM),
        day=minutes // 1440,
        minute=minutes % 1440,
        stage=Stage.TIME if timed else Stage.PLACES,
        tempo_bpm=rng.choice((TARGET_BPM - 1, TARGET_BPM, TARGET_BPM, 80)) if timed else None,
        homes=read,
        clean=right,
        off_time=min(rng.choice((0, 0, 0, 1, 2, right)), right) if timed else 0,
        unread=notes - read,
        stops=rng.random() < 0.05,
        wrong_notes=frozenset(numbers) - away,
        other_place_notes=away,
    )


def fits_half(one, before):
    """Half of a sign-off, by the words of the design: nothing of the program is asked."""
    left_at_once = [each for each in before if each.homes >= 8 or each.homes >= each.unread > 0 or not each.unread]
    first = not any(each.day == one.day for each in left_at_once if each.homes)
    whole = not (one.stops or one.restarts or one.unread)
    few = one.homes < 20
    right = one.homes - one.clean <= (1 if few else 0.05 * one.homes)
    in_time = one.homes - (one.clean - one.off_time) <= (1 if few else 0.10 * one.homes)
    return first and whole and right and in_time and one.homes >= 8 and (one.tempo_bpm or 0) >= TARGET_BPM


def is_true_sign_off(takes):
    *before, last = takes
    wrong = last.wrong_notes | last.other_place_notes
    return fits_half(last, before) and any(
        one.day != last.day
        and (last.day - one.day) * 1440 + last.minute - one.minute >= 360
        and not wrong & (one.wrong_notes | one.other_place_notes)
        and fits_half(one, before[:number])
        for number, one in enumerate(before)
    )


def is_true(mark, takes):
    last = takes[-1]
    whole = not (last.stops or last.restarts or last.unread)
    if mark is Mark.FOUND:
        return not last.unread and last.clean == last.homes and last.tempo_bpm is None
    if mark is Mark.IN_TIME:
        wanting = last.homes - (last.clean - last.off_time)
        most = 0 if last.homes < 8 else 1 if last.homes < 20 else 0.10 * last.homes
        return whole and wanting <= most and last.tempo_bpm is not None
    return is_true_sign_off(takes)


def told_months(seed):
    """Each take with all of its passage up to it, and what the coach said that it earned."""
    state, played = CoachState(), {name: [] for name in NAMES}
    for one in month_of_takes(seed):
        state, decision = advance(state, one)
        played[one.passage.name].append(one)
        yield tuple(played[one.passage.name]), decision


@pytest.mark.parametrize("seed", range(how_many(400, by_default=40)))
def test_every_mark_is_true_and_none_is_withheld(seed):
    had = set()
    for takes, decision in told_months(seed):
        name = takes[-1].passage.name
        for mark in Mark:
            if (name, mark) not in had:
                assert (mark in decision.earned) == is_true(mark, takes), (mark, takes[-1])
        had |= {(name, mark) for mark in decision.earned}


def test_among_them_are_all_marks_and_all_that_is_said_of_half_a_sign_off():
    """Otherwise the test above would say nothing of them. No more months are played than it takes."""
    left = set(Mark) | {
        "coach.signed_off",
        "coach.once_more_another_day",
        "coach.once_more_after_a_night",
        "coach.same_note_twice",
        "coach.too_short_to_sign_off",
    }
    for seed in range(40):
        for _, decision in told_months(seed):
            left -= {*decision.earned, *(message.key for message in decision.reason)}
        if not left:
            break
    assert left == set()


@pytest.mark.parametrize("days_away", [1, 2, 21])
def test_after_half_a_sign_off_the_next_day_begins_at_the_target_even_after_three_weeks(days_away):
    """So that what the plan says is due can be had."""
    for seed in range(6):
        learner, state, day, halves = trained(Random(seed), 1.1), CoachState(), 1, 0
        while day < 60:
            state, asked = advance(state, PassageOpened(passage=learner.passage, day=day))
            if halves:
                assert asked.tempo_bpm == learner.passage.target_bpm
                break
            while asked.offer is Offer.AGAIN:
                state, asked = advance(state, learner.play(asked, day, Random(f"{seed} {day}")))
            halves = len(state.records[learner.passage.name].sign_offs)
            day += days_away if halves else 1
        assert halves


def test_who_plays_every_note_right_and_late_earns_nothing_of_time():
    late = AlwaysLate(Learner(steady_bpm=90, slope=9, lapse=0.01), PassageFacts(name="late", target_bpm=60))
    taken, state = whole_run(late, days=tuple(range(1, 31)), rng=Random(1))
    assert any(one.result.tempo_bpm for one in taken)
    assert set(state.records["late"].marks) <= {Mark.FOUND}
