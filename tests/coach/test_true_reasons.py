"""Every sentence about a tempo is true of the numbers it was made from, in thousands of takes of players of many kinds.

For each reason the claim of its sentence is worked out again from what was known before, what was played and what is
known after. It does not ask the code that chose the reason: shares are counted here.
"""

from collections import Counter
from dataclasses import replace
from math import exp
from random import Random

import pytest

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import Overruled, PassageFacts, PassageOpened, TakeResult, Wish
from game.coach.numbers import NUMBERS
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from tests.sampling import sample


class Seen:
    """What a sentence was made from: the record before and after, the take (None where a passage was opened)."""

    def __init__(self, before, state, result, decision):
        self.before, self.result, self.decision = before, result, decision
        self.record = state.records[decision.passage]
        self.belief, self.bpm = self.record.belief, decision.tempo_bpm
        self.played = None if result is None or result.tempo_bpm is None else round(result.tempo_bpm)

    @property
    def steady(self):
        return self.belief.quantile(1 - NUMBERS.hold_chance)

    def reaches(self, count):
        """Nine in ten; under 20 notes all but one."""
        asked = self.result.homes
        return asked - count <= 1 if asked < 20 else count >= 0.9 * asked

    @property
    def notes_hold(self):
        return self.reaches(self.result.clean + len(self.result.other_place_notes))

    @property
    def time_holds(self):
        return self.reaches(self.result.clean - self.result.off_time + len(self.result.other_place_notes))

    @property
    def right_share(self):
        return (self.result.clean + len(self.result.other_place_notes)) / self.result.homes

    @property
    def stopped(self):
        return self.result.stops > 0 or self.result.unread > 0

    @property
    def mostly_off(self):
        return self.result.off_time > self.result.clean / 2


LOWEST = NUMBERS.lowest_bpm
CLAIMS = {
    "coach.tempo_faster": lambda s: s.bpm > s.played and s.notes_hold and s.time_holds and s.result.kept_going,
    "coach.tempo_again": lambda s: s.bpm == s.played,
    "coach.too_fast_slower": lambda s: s.bpm < s.played and s.steady < s.played,
    "coach.wished_slower": lambda s: s.bpm < s.played <= s.steady + 1,
    "coach.over_target": lambda s: s.bpm <= max(round(s.record.facts.target_bpm * 1.1), LOWEST) < s.played,
    "coach.fell_apart_slower": lambda s: s.right_share < 0.75 and s.bpm < s.played,
    "coach.fell_apart_again": lambda s: s.right_share < 0.75 and s.bpm == s.played == LOWEST,
    "coach.stopped_slower": lambda s: s.stopped and s.bpm < s.played,
    "coach.stopped_again": lambda s: s.stopped and s.bpm == s.played,
    "coach.began_again_slower": lambda s: s.result.restarts and not s.stopped and s.bpm < s.played,
    "coach.began_again_again": lambda s: s.result.restarts and not s.stopped and s.bpm == s.played,
    "coach.off_beat_slower": lambda s: s.notes_hold and s.mostly_off and s.bpm < s.played,
    "coach.off_beat_again": lambda s: s.notes_hold and s.mostly_off and s.bpm == s.played,
    "coach.timing_slower": lambda s: s.notes_hold and not s.time_holds and s.bpm < s.played,
    "coach.timing_again": lambda s: s.notes_hold and not s.time_holds and s.bpm == s.played > LOWEST,
    "coach.timing_lowest": lambda s: s.notes_hold and not s.time_holds and s.bpm == s.played == LOWEST,
    "coach.not_clean": lambda s: not s.notes_hold and s.bpm == s.played,
    "coach.not_clean_enough": lambda s: (
        s.bpm == s.played and sum(t.right for t in s.record.recent) < 0.9 * sum(t.asked for t in s.record.recent)
    ),
    "coach.lowest": lambda s: s.bpm == LOWEST and (s.played is None or s.played <= LOWEST),
    "coach.settling": lambda s: s.bpm <= max(s.belief.bpm, LOWEST) and s.record.takes_today == 4,
    "coach.at_target": lambda s: s.bpm == s.record.facts.target_bpm and not s.record.takes_today,
    "coach.new_day": lambda s: 0.75 * s.belief.bpm - 1 <= s.bpm <= s.belief.bpm and not s.record.takes_today,
    "coach.near_target": lambda s: 0.75 * s.record.facts.target_bpm <= s.bpm <= 1.1 * s.record.facts.target_bpm,
    "coach.as_last_time": lambda s: (
        s.bpm <= max(s.record.last_bpm, s.record.held_bpm or 0) and not s.record.takes_today
    ),
    "coach.step_on": lambda s: s.bpm > s.record.last_bpm and not s.record.takes_today,
    "coach.rhythm_alone": lambda s: s.notes_hold and not s.time_holds and s.before.out_of_time >= 1,
    "coach.rhythm_alone_off_beat": lambda s: s.mostly_off and s.before.out_of_time >= 1,
    "coach.back_to_places": lambda s: s.played <= LOWEST and s.right_share < 0.75 and s.steady < LOWEST,
    "coach.easier_after_fall": lambda s: s.played <= LOWEST and s.right_share < 0.75 and s.before.fell_back > 0,
    "coach.false_start": lambda s: 0 < s.result.homes < 8 and s.result.unread > s.result.homes,
    "coach.nothing_read": lambda s: s.result.homes == 0,
    "coach.no_slower": lambda s: s.bpm == LOWEST,
    "coach.no_faster": lambda s: s.bpm == NUMBERS.highest_bpm,
}


def a_take(rng, passage, asked, day, notes, player):
    """One of a player with a limit, a timing and habits of their own."""
    limit, timing, quits, begins_again = player
    if asked.tempo_bpm is None:
        share, tempo = 0.97, None
    else:
        share, tempo = 0.98 / (1 + exp(9 * (asked.tempo_bpm / limit - 1) - 2.2)), float(asked.tempo_bpm)
    read = rng.randrange(notes) if rng.random() < quits else notes
    right = sum(rng.random() < share for _ in range(read))
    astray = min(right, rng.choice((0, 0, 0, 2)))
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
    )
    state = CoachState()
    for day in range(1, 11):
        events = [PassageOpened(passage=passage, day=day)]
        if rng.random() < 0.4:
            events.append(Overruled(passage=passage, day=day, wish=Wish.METRONOME_NOW))
        events += [Overruled(passage=passage, day=day, wish=rng.choice((Wish.SLOWER, Wish.FASTER)))] * rng.choice(
            (0, 0, 3)
        )
        for event in events:
            before = state.records.get("p")
            state, asked = advance(state, event)
            yield Seen(before, state, None, asked)
        while asked.offer is Offer.AGAIN:
            before = state.records["p"]
            result = a_take(rng, passage, asked, day, notes, player)
            state, asked = advance(state, result)
            yield Seen(before, state, result, asked)


@pytest.mark.parametrize("seed", sample(range(400), by_default=40))
def test_what_is_said_of_a_tempo_is_true_of_the_numbers(seed):
    for seen in practice(seed):
        for said in seen.decision.reason:
            assert CLAIMS.get(said.key, lambda _: True)(seen), (said, seen.result, seen.before, seen.decision)


def test_nearly_all_of_these_sentences_are_said_to_somebody():
    """A claim that is never looked at proves nothing."""
    said = Counter(word.key for seed in range(60) for seen in practice(seed) for word in seen.decision.reason)
    assert len(CLAIMS.keys() & said.keys()) >= len(CLAIMS) - 6, sorted(CLAIMS.keys() - said.keys())


def test_the_figure_that_is_said_is_the_tempo_that_comes():
    for seed in range(20):
        for seen in practice(seed):
            *_, last = seen.decision.reason
            figure = dict(last.values).get("bpm")
            if (
                seen.decision.pulse is Pulse.METRONOME
                and figure is not None
                and seen.decision.stage is not Stage.RHYTHM
            ):
                assert figure == seen.bpm, (last, replace(seen.decision, reason=()))
