"""The marks alone are those that the coach comes to."""

from random import Random

import pytest

from game.coach.coach import replayed
from game.coach.earned_marks import EarnedMarks
from game.coach.events import (
    FormerPage,
    Overruled,
    PageCutAnew,
    PassageFacts,
    PassageOpened,
    PassageRenamed,
    TakeResult,
    Wish,
)
from game.coach.marks import Mark
from game.coach.stages import Stage
from tests.sampling import how_many

FACTS = [PassageFacts(name=name, target_bpm=60) for name in ("ford", "weir", "mill")]


def happenings(seed):
    """Weeks of practice in which days go on, stand still and, in another zone, go back."""
    rng, day = Random(seed), 100
    for _ in range(60):
        day += rng.choice((0, 0, 0, 1, 2, -1))
        facts, chance = rng.choice(FACTS), rng.random()
        if chance < 0.1:
            yield PassageOpened(passage=facts, day=day)
        elif chance < 0.2:
            yield Overruled(passage=facts, day=day, wish=rng.choice(list(Wish)))
        elif chance < 0.23:
            yield PassageRenamed(was=facts.name, is_now=rng.choice(FACTS).name)
        elif chance < 0.28:
            former = (FormerPage(name=facts.name, first=1, last=8), FormerPage(name="mill", first=9, last=12))
            yield PageCutAnew(is_now=rng.choice((*FACTS, PassageFacts(name="race"))).name, former=former)
        else:
            clean = rng.choice((0, 10, 11, 12, 12, 12))
            timed = rng.random() < 0.7
            said = rng.random() < 0.03
            yield TakeResult(
                passage=facts,
                day=day,
                stage=Stage.TIME if timed else Stage.PLACES,
                tempo_bpm=rng.choice((48.0, 60.0, 72.0)) if timed else None,
                homes=rng.choice((12, 12, 12, 0)) if clean in (0, 12) and not clean else 12,
                clean=clean,
                off_time=rng.choice((0, 0, 1, 5)) if timed and clean > 5 else 0,
                wrong_notes=frozenset(rng.sample(range(1, 13), 12 - clean)),
                minute=rng.choice((None, 5, 600, 1430)),
                told=(rng.choice(list(Mark)),) if said else (),
                sighting=rng.choice((1, 2, 3, 9)),
                heard=rng.random() < 0.3,
            )


@pytest.mark.parametrize("seed", range(how_many(300, by_default=25)))
def test_they_are_those_of_the_coach_whatever_happens(seed):
    done = list(happenings(seed))
    earned = EarnedMarks()
    told = [earned.hear(happening) for happening in done]
    records = replayed(done).records
    assert {name: record.marks for name, record in earned.records.items()} == {
        name: record.marks for name, record in records.items()
    }
    read = {name: record.read_day for name, record in records.items()}
    assert {name: record.read_day for name, record in earned.records.items()} == read
    assert sum(one.read for one in told) >= sum(day is not None for day in read.values())
    assert list(earned.records) == list(records)
    assert {mark for _, marks, _ in told for mark in marks} == {mark for one in records.values() for mark in one.marks}


def test_among_them_are_all_marks_there_are():
    """Otherwise the test above would say nothing of them."""
    seen = {
        mark for seed in range(25) for record in replayed(happenings(seed)).records.values() for mark in record.marks
    }
    assert seen == set(Mark)


def test_it_can_go_on_from_what_was_kept():
    done = list(happenings(3))
    whole, first = EarnedMarks(), EarnedMarks()
    for happening in done:
        whole.hear(happening)
    for happening in done[:30]:
        first.hear(happening)
    second = EarnedMarks(first.records, first.names)
    for happening in done[30:]:
        second.hear(happening)
    assert second.records == whole.records
