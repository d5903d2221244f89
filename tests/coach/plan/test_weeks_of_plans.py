"""Weeks of practice by the plan: simulated learners do each day what stands in it, take after take as it says."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import PassageFacts, PassageOpened
from game.coach.marks import Mark
from game.coach.plan.plan_choices import passages_under_way, unfound
from game.coach.plan.plan_onward import Onward, planned_next
from game.coach.plan.plan_steps import PassageStanding, StepKind, UnseenTune
from game.coach.plan.todays_plan import plan_for
from game.coach.records import CoachState, due_passages
from game.message import verbatim
from tests.bench.coach_measures import trained
from tests.coach.plan.situations import situation

K = StepKind
TAKE_MINUTES = 0.7
PASSAGES = 2
TUNES = tuple(UnseenTune(name=name, title=name, difficulty=2.0) for name in ("ash", "birch", "cedar", "elm", "fir"))


class Practice:
    """A learner with a shelf of tunes of two passages each, who follows the plan."""

    def __init__(self, seed, minutes):
        self.rng, self.minutes, self.state, self.day = Random(f"weeks {seed}"), minutes, CoachState(), 1
        self.learners, self.begun, self.played = {}, [], []
        for tune in TUNES:
            one = trained(Random(f"{seed} {tune.name}"), 1.0)
            for at in range(PASSAGES):
                facts = PassageFacts(name=f"{tune.name} {at}", target_bpm=one.passage.target_bpm)
                self.learners[facts.name] = replace(one, passage=facts)

    def situation(self):
        standings = [self.standing(tune, at) for tune in self.begun for at in range(PASSAGES)]
        order = list(self.state.records)
        standings.sort(key=lambda one: order.index(one.name) if one.name in order else -1)
        return situation(
            day=self.day,
            minutes=self.minutes,
            passages=tuple(standings),
            unseen=tuple(tune for tune in TUNES if tune.name not in self.begun),
            due_passages=due_passages(self.state, self.day),
        )

    def standing(self, tune, at):
        name = f"{tune} {at}"
        record = self.state.records.get(name)
        if record is None or record.practised_day is None:
            return PassageStanding(name=name, title=verbatim(name), tune=tune, last_day=None)
        return PassageStanding(
            name=name,
            title=verbatim(name),
            tune=tune,
            stage=record.stage,
            marks=record.marks,
            tempo_bpm=record.last_bpm,
            target_bpm=record.facts.target_bpm,
            last_day=record.practised_day,
            half_day=record.sign_offs[-1].day if record.sign_offs else None,
            takes_today=record.takes_today if record.day == self.day else 0,
        )

    def live(self, day):
        self.day = day
        for step in plan_for(self.situation()):
            if step.kind is K.NEW_TUNE and step.tune is not None:
                assert not unfound(self.situation()), "one new tune until the last is found"
                self.begun.append(step.tune)
                self.follow(step, f"{step.tune} 0")
            elif step.passage is not None and not step.whole:
                self.follow(step, step.passage)

    def follow(self, step, name):
        left, asked = step.minutes - TAKE_MINUTES, self.open(name)
        while asked.offer is Offer.AGAIN:
            result = self.learners[name].play(asked, self.day, self.rng)
            self.state, asked = advance(self.state, result)
            self.played.append((self.day, name, result))
            others = [one for one in passages_under_way(self.situation()) if one.name != name]
            more = name.endswith("0")
            then = planned_next(step, asked, time_left=left > 0, more_bars=more, other=next(iter(others), None))
            left -= TAKE_MINUTES
            if then.onward is Onward.STEP_OVER:
                return
            if then.onward is not Onward.AS_ADVISED:
                name = then.passage.name if then.passage else f"{name[:-1]}1"
                asked = self.open(name)

    def open(self, name):
        self.state, asked = advance(self.state, PassageOpened(passage=self.learners[name].passage, day=self.day))
        return asked

    def marks(self, mark):
        return {name for name, record in self.state.records.items() if mark in record.marks}


def practised(seed, minutes, days):
    practice = Practice(seed, minutes)
    for day in days:
        practice.live(day)
    return practice


@pytest.mark.parametrize("minutes", [5, 20, 45])
def test_over_weeks_what_was_begun_is_finished_before_more_is_begun(minutes):
    for seed in range(3):
        practice = practised(seed, minutes, range(1, 41))
        assert practice.marks(Mark.SIGNED_OFF)
        begun = {f"{tune} {at}" for tune in practice.begun[:-1] for at in range(PASSAGES)}
        assert begun <= practice.marks(Mark.FOUND) | practice.marks(Mark.IN_TIME), "all but the last tune is found"


@pytest.mark.parametrize("minutes", [5, 20])
def test_on_every_day_some_passage_is_played_and_a_half_sign_off_is_not_left_waiting(minutes):
    for seed in range(3):
        practice = practised(seed, minutes, range(1, 31))
        days = {day for day, *_ in practice.played}
        assert days == set(range(1, 31))
        for name, record in practice.state.records.items():
            waiting = record.sign_offs and Mark.SIGNED_OFF not in record.marks
            assert not waiting or record.sign_offs[-1].day >= 30 - 3, name


def test_after_three_weeks_away_the_first_passage_is_the_one_played_last():
    for seed in range(5):
        practice = practised(seed, 20, (*range(1, 6), 27))
        before = [name for day, name, _ in practice.played if day <= 5]
        after = next(name for day, name, _ in practice.played if day == 27)
        open_ones = [name for name in dict.fromkeys(reversed(before)) if name not in signed_off_by(practice, 5)]
        assert after == open_ones[0]


def signed_off_by(practice, day):
    again = Practice(0, 20)
    state = again.state
    for when, _, result in practice.played:
        if when <= day:
            state, _ = advance(state, result)
    return {name for name, record in state.records.items() if Mark.SIGNED_OFF in record.marks}
