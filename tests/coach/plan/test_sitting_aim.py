"""A sitting has one aim that can be reached, and an answer to it."""

from random import Random

from game.coach.coach import NOTHING_KNOWN, advance
from game.coach.decisions import Offer
from game.coach.events import PassageOpened
from game.coach.marks import Mark
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.coach.plan.sitting_aim import (
    AimKind,
    SittingAim,
    SittingSoFar,
    aim_of_sitting,
    aim_said,
    answer_said,
    is_reached,
)
from game.message import verbatim
from game.text.catalogue import tell
from tests.bench.coach_measures import trained
from tests.bench.learners import NOTES
from tests.coach.coach_takes import PASSAGE, take
from tests.sampling import sample

ODE = verbatim("Ode to Joy, bars 9–12")
NOTHING = SittingSoFar(day=2)


def step(kind=StepKind.PASSAGE, passage=PASSAGE.name):
    return PlanStep(kind=kind, minutes=5, reason=(), passage=passage)


def aim(state, *steps, day=2):
    return aim_of_sitting(steps or (step(),), state, day=day, notes_of=lambda _: NOTES)


def after(*takes):
    state = NOTHING_KNOWN
    for one in takes:
        state, _ = advance(state, one)
    return state


def test_on_the_first_day_it_is_five_notes():
    first = aim(NOTHING_KNOWN)
    assert tell(aim_said(first)) == "Five notes met."
    so_far = SittingSoFar(day=2, notes_met=3)
    assert tell(answer_said(first, NOTHING_KNOWN, so_far)) == "Five notes met: not yet, three met."
    assert tell(answer_said(first, NOTHING_KNOWN, SittingSoFar(day=2, notes_met=6))) == "Five notes met: reached."


def test_it_is_five_notes_while_they_are_planned_though_the_first_was_played_already():
    assert aim(after(take()), step(StepKind.FIVE_NOTES, None)).count == 5


def test_bars_not_found_yet_are_to_be_found():
    state = after(take(9))
    told = aim(state)
    assert tell(aim_said(told, ODE)) == "Ode to Joy, bars 9–12, every note found."
    state, _ = advance(state, take(4, day=2))
    assert tell(answer_said(told, state, NOTHING, ODE)).endswith("every note found: not yet, all but four.")
    state, _ = advance(state, take(day=2))
    assert tell(answer_said(told, state, NOTHING, ODE)) == "Ode to Joy, bars 9–12, every note found: reached."


def test_bars_that_were_found_but_never_played_with_the_click_are_to_be_in_time_for_their_tempo_is_only_guessed():
    state = after(take())
    told = aim(state)
    assert tell(aim_said(told, ODE)) == "Ode to Joy, bars 9–12, in time with the click."
    assert not is_reached(told, state, NOTHING)
    state, decision = advance(state, take(bpm=60, day=2))
    assert Mark.IN_TIME in decision.earned
    assert is_reached(told, state, NOTHING)


def test_on_the_ladder_it_is_the_next_rung_that_was_not_kept():
    state = after(take(bpm=60))
    told = aim(state)
    assert told.kind is AimKind.CLEAN
    assert told.bpm > 60
    assert tell(aim_said(told, ODE)) == f"Ode to Joy, bars 9–12, clean at {told.bpm}."
    assert tell(answer_said(told, state, NOTHING, ODE)).endswith("not yet, it waits.")
    state, _ = advance(state, take(12, bpm=told.bpm, day=2))
    assert tell(answer_said(told, state, NOTHING, ODE)).endswith(f"clean at {told.bpm}: not yet, on the way.")
    state, _ = advance(state, take(bpm=64, day=2))
    assert tell(answer_said(told, state, NOTHING, ODE)).endswith(f"clean at {told.bpm}: not yet, kept at 64 so far.")
    state, _ = advance(state, take(bpm=told.bpm, day=2))
    assert is_reached(told, state, NOTHING)


def test_at_the_target_it_is_the_first_take_of_the_day_there():
    state = after(take(bpm=92), take(bpm=96))
    told = aim(state)
    assert told == SittingAim(kind=AimKind.HALF_SIGNED, passage=PASSAGE.name, bpm=96)
    assert tell(aim_said(told, ODE)) == "Ode to Joy, bars 9–12, clean at 96 as the first take of the day."
    assert not is_reached(told, state, NOTHING)
    state, _ = advance(state, take(bpm=96, day=2))
    assert is_reached(told, state, NOTHING)


def test_half_signed_it_is_the_signing():
    state = after(take(bpm=96))
    told = aim(state)
    assert tell(aim_said(told, ODE)) == "Ode to Joy, bars 9–12, signed at 96."
    state, decision = advance(state, take(bpm=96, day=2))
    assert Mark.SIGNED_OFF in decision.earned
    assert is_reached(told, state, NOTHING)


def test_where_no_bars_are_up_it_is_an_unseen_line():
    state = after(take(bpm=96), take(bpm=96, day=2))
    told = aim(state, step(), step(StepKind.FIRST_SIGHT, None), day=3)
    assert told == SittingAim(kind=AimKind.LINE_READ)
    assert is_reached(told, state, SittingSoFar(day=3, lines_read=1))


def test_bars_nobody_opened_yet_are_to_be_found():
    assert aim(after(take(bpm=60)), step(passage="other bars")) == SittingAim(kind=AimKind.FOUND, passage="other bars")


def sittings(seed, days=17):
    """The aims of a learner who practises one passage, and whether each was reached that day."""
    rng, state = Random(seed), NOTHING_KNOWN
    player = trained(rng, 1.1)
    for day in range(1, days + 1):
        told = aim(state, step(passage=player.passage.name), day=day)
        state, asked = advance(state, PassageOpened(passage=player.passage, day=day))
        assert told.passage is None or not is_reached(told, state, SittingSoFar(day=day)), "before a note of it"
        while asked.offer is Offer.AGAIN:
            state, asked = advance(state, player.play(asked, day, rng))
        if told.passage is not None:
            yield told, is_reached(told, state, SittingSoFar(day=day))


def test_learners_reach_most_of_their_rungs_and_half_of_what_is_asked_of_a_single_take():
    ended = [one for seed in sample(range(40), by_default=6) for one in sittings(seed)]
    rungs = [reached for told, reached in ended if told.kind is AimKind.CLEAN]
    assert len(rungs) >= 6
    assert sum(rungs) >= 0.7 * len(rungs)
    assert sum(reached for _, reached in ended) >= 0.5 * len(ended)
