"""Whole practices of simulated players under the coach, take by take."""

from dataclasses import dataclass
from random import Random

from game.coach.coach import advance
from game.coach.decisions import Decision, Offer
from game.coach.events import Overruled, PassageOpened, TakeResult, Wish
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import CoachState
from game.coach.stages import Stage


@dataclass(frozen=True)
class Taken:
    """One take: what was asked, what came of it, what was believed after it and the truth before it."""

    asked: Decision
    result: TakeResult
    decided: Decision
    estimate_bpm: float | None
    spread: float | None
    truth_bpm: float


def timed_run(player, start_bpm: float, *, takes: int, rng: Random, numbers: CoachNumbers = NUMBERS) -> list[Taken]:
    """A player who sets the metronome going at `start_bpm` on day 1 and comes back every day."""
    passage = player.passage
    wish = Overruled(passage=passage, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=round(start_bpm))
    state, asked = advance(CoachState(), wish, numbers)
    return _run(state, asked, player, day=1, takes=takes, rng=rng, numbers=numbers)


def whole_run(
    player, *, days: tuple[int, ...], rng: Random, numbers: CoachNumbers = NUMBERS
) -> tuple[list[Taken], CoachState]:
    """A player who opens the passage on each of `days` and plays until the coach offers other music."""
    state, taken = CoachState(), []
    for day in days:
        state, asked = advance(state, PassageOpened(passage=player.passage, day=day), numbers)
        while asked.offer is Offer.AGAIN:
            state, asked, one = _take(state, asked, player, day, rng, numbers)
            taken.append(one)
    return taken, state


def _run(state, asked, player, *, day, takes, rng, numbers) -> list[Taken]:
    taken = []
    while len(taken) < takes:
        if asked.offer is not Offer.AGAIN:
            day += 1
            state, asked = advance(state, PassageOpened(passage=player.passage, day=day), numbers)
        state, asked, one = _take(state, asked, player, day, rng, numbers)
        taken.append(one)
    return taken


def _take(state, asked, player, day, rng, numbers):
    truth = player.learner.steady_now_bpm
    result = player.play(asked, day, rng)
    state, decided = advance(state, result, numbers)
    belief = state.records[player.passage.name].belief
    one = Taken(
        asked=asked,
        result=result,
        decided=decided,
        estimate_bpm=belief.bpm if belief else None,
        spread=belief.spread if belief else None,
        truth_bpm=truth,
    )
    return state, decided, one


def timed(taken: list[Taken]) -> list[Taken]:
    """The takes in time with the metronome."""
    return [one for one in taken if one.asked.stage is Stage.TIME and one.asked.tempo_bpm is not None]
