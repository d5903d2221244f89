"""Every sentence of the coach is true of the numbers it was made from, in thousands of takes of players of many kinds.

The claims are those of `reason_claims`.
"""

from dataclasses import replace
from math import exp
from random import Random

import pytest

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import Overruled, PassageFacts, PassageOpened, TakeResult, Wish
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from tests.coach.reason_claims import CLAIMS, REPORTS, Seen
from tests.sampling import how_many, sample


def a_take(rng, passage, asked, day, notes, player):
    """One of a player with a limit, a timing and habits of their own."""
    limit, timing, quits, begins_again, wanders = player
    if asked.tempo_bpm is None:
        share, tempo = 0.97 if limit > 22 else 0.84, None
    else:
        share, tempo = 0.98 / (1 + exp(9 * (asked.tempo_bpm / limit - 1) - 2.2)), float(asked.tempo_bpm)
    read = rng.randrange(notes) if rng.random() < quits else notes
    right = sum(rng.random() < share for _ in range(read))
    astray = (
        min(right, rng.choice((1,) if wanders else (0, 0, 0, 2))) if asked.stage in (Stage.PLACES, Stage.TIME) else 0
    )
    clean = right - astray
    return TakeResult(
        passage=passage,
        day=day,
        stage=asked.stage,
        homes=read,
        clean=clean,
        off_time=sum(rng.random() < timing for _ in range(clean)) if asked.stage.rhythm_counts else 0,
        tempo_bpm=tempo,
        unread=notes - read,
        stops=rng.choice((0, 0, 0, 1)) if read < notes else 0,
        restarts=int(rng.random() < begins_again),
        wrong_notes=frozenset(range(1, read - right + 1)),
        other_place_notes=frozenset(range(read - astray + 1, read + 1)),
        find_times_s=tuple(48 / limit * exp(rng.gauss(0, 0.3)) for _ in range(read)),
        settling=asked.settling,
    )


def practice(seed):
    """Everything a player is told in ten days."""
    rng = Random(seed)
    passage = PassageFacts(name="p", target_bpm=rng.choice((None, 60, 96)))
    notes = rng.choice((8, 16, 32, 64))
    player = (
        rng.choice((22, 30, 45, 90, 170)),
        rng.choice((0, 0.05, 0.2, 0.8)),
        rng.choice((0, 0.2)),
        rng.choice((0, 0.1)),
        seed % 4 == 0,
    )
    state = CoachState()
    for day in range(1, 11):
        events = [PassageOpened(passage=passage, day=day)]
        if rng.random() < 0.4:
            events.append(Overruled(passage=passage, day=day, wish=Wish.METRONOME_NOW))
        wishes = [Overruled(passage=passage, day=day, wish=rng.choice((Wish.SLOWER, Wish.FASTER)))]
        events += wishes * rng.choice((0, 0, 3))
        if rng.random() < 0.1:
            events.append(Overruled(passage=passage, day=day, wish=rng.choice(tuple(Wish))))
        for event in events:
            before = state.records.get("p")
            state, asked = advance(state, event)
            yield Seen(before, state, None, asked)
        while asked.offer is Offer.AGAIN:
            before = state.records["p"]
            if rng.random() < 0.05:  # players may choose what they play
                asked = replace(asked, stage=Stage.SIGHT)
            elif rng.random() < 0.05:
                asked = replace(asked, stage=Stage.LETTERS, tempo_bpm=None)
            elif player[0] == 22 and asked.stage is Stage.PLACES and rng.random() < 0.2:
                asked = rng.choice((replace(asked, stage=Stage.RHYTHM, tempo_bpm=50), replace(asked, stage=Stage.TIME)))
            result = a_take(rng, passage, asked, day, notes, player)
            state, asked = advance(state, result)
            yield Seen(before, state, result, asked)


@pytest.mark.parametrize("seed", sample(range(400), by_default=20))
def test_what_is_said_is_true_of_the_numbers_and_nothing_else_is_said(seed):
    for seen in practice(seed):
        for said in seen.decision.reason:
            seen.said_values = dict(said.values)
            assert CLAIMS[said.key](seen), (said, seen.result, seen.before, seen.decision)


def test_nearly_all_of_these_sentences_are_said_to_somebody():
    """A claim that is never looked at proves nothing. No more is played than it takes."""
    left = CLAIMS.keys() - REPORTS.keys()
    for seed in range(100):
        left -= {word.key for seen in practice(seed) for word in seen.decision.reason}
        if len(left) <= 6:
            break
    assert len(left) <= 6, sorted(left)


def test_the_figure_that_is_said_is_the_tempo_that_comes():
    for seed in range(how_many(20, by_default=5)):
        for seen in practice(seed):
            *_, last = seen.decision.reason
            figure = dict(last.values).get("bpm")
            if (
                seen.decision.pulse is Pulse.METRONOME
                and figure is not None
                and seen.decision.stage is not Stage.RHYTHM
            ):
                assert figure == seen.bpm, (last, replace(seen.decision, reason=()))
