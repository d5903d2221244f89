"""Simulated learners who do each day what stands in the plan, take after take as it says."""

from dataclasses import replace
from random import Random

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import PassageFacts, PassageOpened
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
PASSAGES_A_TUNE = 2
TUNES = tuple(
    UnseenTune(name=name, title=name, difficulty=2.0)
    for name in ("ash", "birch", "cedar", "elm", "fir", "gorse", "holly")
)


class PlannedPractice:
    """A learner with a shelf of tunes of two passages each, who follows the plan."""

    def __init__(self, seed, minutes):
        self.rng, self.minutes, self.state, self.day = Random(f"weeks {seed}"), minutes, CoachState(), 1
        self.learners, self.begun, self.played, self.ahead = {}, [], [], set()
        for tune in TUNES:
            one = trained(Random(f"{seed} {tune.name}"), 1.0)
            for at in range(PASSAGES_A_TUNE):
                facts = PassageFacts(name=f"{tune.name} {at}", target_bpm=one.passage.target_bpm)
                self.learners[facts.name] = replace(one, passage=facts)

    def situation(self):
        standings = [self.standing(tune, at) for tune in self.begun for at in range(PASSAGES_A_TUNE)]
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
        steps = plan_for(self.situation())
        for at, step in enumerate(steps):
            self.ahead = {later.passage for later in steps[at + 1 :]}
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
            others = [one for one in passages_under_way(self.situation()) if one.name not in (name, *self.ahead)]
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
    practice = PlannedPractice(seed, minutes)
    for day in days:
        practice.live(day)
    return practice


def days_between_halves(practice):
    """Of each passage that was signed off: how many days its second half came after the first."""
    found = (record.sign_offs for record in practice.state.records.values())
    return [halves[1].day - halves[0].day for halves in found if len(halves) > 1]
