"""Over simulated weeks a learner becomes fluent on a map, is proposed the next, learns it, and then reads both mixed.

The learner is invented: each meeting takes away a part of what a note takes longer than their quickest, so does none of
it on another map, where the letters are known and the places are not. They read what the plan asks, in rows of eighths.
"""

from dataclasses import replace
from math import exp
from random import Random

import pytest

from game.coach.notes.carried_over import known_letters
from game.coach.notes.fluent_map import days_of_map, map_fluency
from game.coach.notes.items import map_name
from game.coach.notes.map_identity import map_key
from game.coach.notes.mastery import Mastery, due_notes, mastery_after
from game.coach.notes.new_notes import met_first_today
from game.coach.notes.note_reads import JudgedTake, take_reads
from game.coach.notes.weights import items_by_pitch
from game.coach.numbers import NUMBERS
from game.coach.plan.mixed_maps import cost_of_mixing, map_after
from game.coach.plan.next_map import next_maps
from game.coach.plan.plan_steps import MapInPlan, Situation, StepKind
from game.coach.plan.todays_plan import plan_for
from game.coach.stages import Stage
from game.judging.expected import expected_notes
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.music.keys import Key, spelled
from game.neck.melody_counts import melody_counts
from game.neck.neck_map import standard_map
from tests.made import passage
from tests.sampling import how_many

FIVE = MapInPlan(standard_map(), "Position V")
TUNES = melody_counts([[67, 69, 71, 72, 74, 76, 77, 76, 74, 72] * 4])
QUICKEST_S, NEW_S, MIXED_S = 0.6, 2.4, 1.25
LEARNED, SPREAD, LINES, NOTES = 0.25, 0.15, 6, 24
MOST_DAYS = 90


class Learner:
    """What each home of each map takes longer than the quickest, in s; `mixing` is the factor of days of two maps."""

    def __init__(self, seed):
        self.rng, self.mastery, self.excess_s, self.minutes = Random(seed), Mastery(), {}, 0

    def reads(self, neck_map, step, line, day, mixing):
        """A row of notes of the line, in eighths, and what was made of it."""
        wanted = {one: weight for one, weight in (line.weights or {}).items() if weight > 0} or neck_map.places
        pitches, weights = list(wanted), [wanted[one] if line.weights else 1.0 for one in wanted]
        row = self.rng.choices(pitches, weights, k=NOTES)
        key, up = line.key or Key(), 12 * neck_map.reading.octaves_down
        music = passage(", ".join(f"{spelled(one + up, key).name} e" for one in row), key=key.fifths)
        notes, verdicts = expected_notes(music.notes, neck_map), []
        sight = step.stage is Stage.SIGHT
        for note in notes:
            home = (map_name(neck_map), note.home.place)
            excess = self.excess_s.setdefault(home, NEW_S - QUICKEST_S)
            find_s = (QUICKEST_S + excess) * mixing * exp(self.rng.gauss(0, SPREAD))
            right = self.rng.random() >= 0.02 + 0.15 * excess
            self.excess_s[home] = excess * (1 - LEARNED)
            verdict = Verdict.CLEAN if right else Verdict.WRONG_PITCH
            since = 480.0 if sight else 1000 * find_s
            verdicts.append(NoteVerdict(n=note.n, verdict=verdict, time_to_find_ms=since))
        self.minutes += 1
        return JudgedTake(
            judgement=Judgement(verdicts=tuple(verdicts)),
            expected=notes,
            neck_map=neck_map,
            day=day,
            stage=step.stage,
            minute=self.minutes % 1000,
        )


def situation_of(mastery, day, own, others, told):
    """As things stand for a player whose own map is `own`."""
    fluency = map_fluency(mastery, own.neck_map, told=map_key(own.neck_map) in told)
    met = frozenset(items_by_pitch(mastery.items, own.neck_map))
    begins = bool(others) and not fluency.fluent and len(met) < NUMBERS.near_all_met * len(own.neck_map.homes)
    return Situation(
        day=day,
        neck_map=own.neck_map,
        level=4,
        items=mastery.items,
        due_notes=due_notes(mastery, day),
        known=met if begins else None,
        met=len(met) if begins else max(len(met), NUMBERS.sight_after_met),
        met_today=met_first_today(mastery.items, mastery.today, own.neck_map) if mastery.day == day else frozenset(),
        own_map=own.name,
        fluent=fluency.fluent,
        fluent_maps=tuple(one for one in others if map_fluency(mastery, one.neck_map, told=True).fluent),
    )


class Weeks:
    """What happened: the day on which each map became fluent, and the steps of each day."""

    def __init__(self, seed, mixing=1.0):
        self.learner, self.fluent_on, self.plans = Learner(seed), {}, {}
        self.own, self.others = FIVE, ()
        last = MOST_DAYS
        for day in range(1, MOST_DAYS + 1):
            self._day(day, mixing)
            self._after(day)
            if len(self.fluent_on) > 1:
                last = min(last, day + 24)
            if day >= last:
                break

    def _day(self, day, mixing):
        told = {map_key(one.neck_map) for one in (self.own, *self.others) if one.name in self.fluent_on}
        situation = situation_of(self.learner.mastery, day, self.own, self.others, told)
        plan = self.plans[day] = plan_for(situation)
        several = mixing if any(step.maps for step in plan) and len(self.fluent_on) > 1 else 1.0
        for step in plan:
            played_on = None
            for _ in range(LINES if step.kind is StepKind.SLOW_NOTES else 1):
                if step.line is None:
                    continue
                on = map_after(step, played_on)
                neck_map = on.neck_map if on else self.own.neck_map
                played_on, line = neck_map, step.line
                if line.weights and not line.weights.keys() <= neck_map.places.keys():
                    line = replace(line, weights={})
                take = self.learner.reads(neck_map, step, line, day, several)
                self.learner.mastery = mastery_after(self.learner.mastery, take_reads(take))

    def _after(self, day):
        """A map that became fluent is told once; after the first one the learner takes what is proposed."""
        if self.own.name in self.fluent_on or not map_fluency(self.learner.mastery, self.own.neck_map).fluent:
            return
        self.fluent_on[self.own.name] = day
        if not self.others:
            proposed = next_maps(self.own.neck_map, TUNES)[0]
            self.others, self.own = (self.own,), MapInPlan(proposed.neck_map, "the next")


@pytest.fixture(scope="module", params=range(how_many(4, by_default=1)))
def weeks(request):
    return Weeks(request.param, mixing=MIXED_S)


def test_a_learner_becomes_fluent_is_proposed_the_next_map_and_learns_it_too(weeks):
    assert list(weeks.fluent_on) == ["Position V", "the next"]
    first, second = weeks.fluent_on.values()
    assert first >= 3, "three days at least"
    assert second - first >= 3
    assert weeks.own.neck_map.position != FIVE.neck_map.position


def test_maps_are_mixed_from_when_both_are_fluent_and_never_before(weeks):
    both = max(weeks.fluent_on.values())
    mixed = [day for day, steps in weeks.plans.items() if any(len(step.maps) > 1 for step in steps)]
    assert mixed
    assert min(mixed) > both
    names = {one.name for day in mixed for step in weeks.plans[day] for one in step.maps}
    assert names == {"Position V", "the next"}


def test_while_the_next_map_is_learned_due_notes_of_the_first_are_a_warm_up_now_and_then(weeks):
    first, second = weeks.fluent_on.values()
    warm_ups = [
        step
        for day, steps in weeks.plans.items()
        for step in steps
        if first < day <= second and step.kind is StepKind.WARM_UP
    ]
    on_first = [step for step in warm_ups if step.maps == (FIVE,)]
    assert len(on_first) <= len(warm_ups) / 2
    assert all(not step.maps or step in on_first for step in warm_ups)


def test_what_is_known_of_the_first_map_stays_and_letters_are_known_on_the_next(weeks):
    mastery = weeks.learner.mastery
    assert map_fluency(mastery, FIVE.neck_map).fluent
    of_five = {key: item for key, item in mastery.items.items() if key.map_name == map_name(FIVE.neck_map)}
    assert len(known_letters(of_five, weeks.own.neck_map)) > len(weeks.own.neck_map.homes) / 3


def test_what_mixing_costs_this_learner_is_told(weeks):
    told = costs(weeks)
    assert told is not None
    assert told.sure
    # Notes are still learned meanwhile, and days alone lie between: a part of the cost is seen, and never more than it.
    assert 1.05 < told.mixed_s / told.alone_s < 1.1 * MIXED_S


def costs(weeks):
    days = weeks.learner.mastery.map_days
    return cost_of_mixing([days_of_map(days, map_key(one.neck_map)) for one in (FIVE, weeks.own)])
