"""Maps are mixed only once each is fluent alone; what that costs is told; and none is forgotten."""

from dataclasses import replace
from math import log

import pytest

from game.coach.notes.map_days import MapDay
from game.coach.numbers import NUMBERS
from game.coach.plan.mixed_maps import cost_of_mixing, map_after, maps_in_turn
from game.coach.plan.plan_steps import MapInPlan, StepKind
from game.coach.plan.row_words import RowFacts, row_quiet, row_quiet_shorter
from game.coach.plan.todays_plan import plan_for
from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.text.catalogue import tell
from tests.coach.judged_takes import MAP
from tests.coach.notes.test_fluent_map import key_at, known
from tests.coach.plan.situations import one, situation

NINE = MapInPlan(standard_map(position=9), "Position IX")
BOTH = {**known().items, **known(NINE.neck_map).items}


def mixed(**changes):
    usual = {"items": BOTH, "own_map": "Position V", "fluent": True, "fluent_maps": (NINE,), "unseen": ()}
    return situation(**{**usual, **changes})


def test_maps_are_not_mixed_before_both_are_fluent():
    for changes in ({"fluent": False}, {"fluent_maps": ()}):
        for day in range(100, 106):
            assert maps_in_turn(mixed(day=day, **changes)) == ()
            steps = plan_for(mixed(day=day, **changes))
            assert not any(step.maps for step in steps)


def test_on_two_days_of_three_lines_take_turns_and_on_the_third_one_map_is_read_alone():
    mixes = [bool(maps_in_turn(mixed(day=day))) for day in range(99, 105)]
    assert sum(mixes) == 4
    assert mixes[:3] == mixes[3:]


def test_over_days_each_map_is_read_at_first_sight_and_each_first_in_the_block():
    steps = [plan_for(mixed(day=day)) for day in range(99, 117)]
    for kind in (StepKind.FIRST_SIGHT, StepKind.SLOW_NOTES):
        firsts = {step.maps[0].name for day in steps for step in day if step.kind is kind and step.maps}
        assert firsts == {"Position V", "Position IX"}, kind


def test_a_line_at_sight_stays_on_the_map_it_is_for():
    for day in range(99, 117):
        for step in plan_for(mixed(day=day, known=frozenset(MAP.places))):
            if step.kind is StepKind.FIRST_SIGHT and step.maps and step.line.weights:
                assert step.line.weights.keys() <= step.maps[0].neck_map.places.keys()


def test_lines_of_a_block_go_from_one_map_to_the_other_and_back():
    step = next(
        step
        for day in range(99, 105)
        for step in plan_for(mixed(day=day))
        if step.kind is StepKind.SLOW_NOTES and step.maps
    )
    first = map_after(step, None)
    second = map_after(step, first.neck_map)
    assert first != second
    assert map_after(step, second.neck_map) == first
    assert map_after(replace(step, maps=()), first.neck_map) is None


def test_a_row_says_on_which_map_it_is_read():
    step = next(step for day in range(99, 105) for step in plan_for(mixed(day=day)) if step.maps)
    said = tell(row_quiet(step, RowFacts(), NoteNames.ENGLISH))
    assert said.startswith(step.maps[0].name)


def test_on_the_third_day_due_notes_of_a_fluent_map_are_the_warm_up_of_who_learns_another():
    due = tuple(key_at(NINE.neck_map, sounding) for sounding in (64, 65, 67, 69))
    there = {"due_notes": due, "fluent": False}
    on_maps = [one(plan_for(mixed(day=day, **there)), StepKind.WARM_UP).maps for day in (99, 100, 101, 102)]
    assert on_maps == [(NINE,), (), (), (NINE,)]
    step = one(plan_for(mixed(day=99, **there)), StepKind.WARM_UP)
    assert set(step.line.notes) >= set(due)
    assert step.line.weights.keys() <= NINE.neck_map.places.keys()


def test_a_few_due_notes_of_another_map_can_wait():
    due = tuple(key_at(NINE.neck_map, sounding) for sounding in (64, 65))
    assert one(plan_for(mixed(day=99, due_notes=due, fluent=False)), StepKind.WARM_UP).maps == ()


def days(find_s, *numbers, found=20, spread=0.1):
    """Days with so many finds of that time, evenly spread about it."""
    middle = log(find_s)
    squares = found * (middle**2 + spread**2)
    return tuple(MapDay(day, found=found, log_s=found * middle, squares=squares) for day in numbers)


def test_what_mixing_costs_is_the_time_to_find_on_days_of_several_maps_beside_days_of_one():
    five = (*days(0.8, 1, 2, 3, 7, 10), *days(1.0, 5, 6, 8))
    five = tuple(sorted(five))
    nine = days(1.0, 5, 6, 8) + days(0.8, 4, 9)
    told = cost_of_mixing([five, tuple(sorted(nine))])
    assert told is not None
    assert (told.alone_s, told.mixed_s) == (pytest.approx(0.8), pytest.approx(1.0))
    assert told.sure


def test_a_map_that_is_slower_anyway_makes_no_cost_of_mixing():
    five = days(0.8, *range(1, 11))
    nine = days(1.4, 4, 6, 8, 12, 13, 14)
    told = cost_of_mixing([five, nine])
    assert told is not None
    assert told.mixed_s == pytest.approx(told.alone_s)
    assert not told.sure


def test_of_few_days_or_few_notes_nothing_is_said():
    assert cost_of_mixing([days(0.8, *range(1, 11)), days(1.0, 5, 6)]) is None
    few = NUMBERS.mixed_least_found // 10
    assert cost_of_mixing([days(0.8, *range(1, 7), found=few), days(1.0, 4, 5, 6, found=few)]) is None
    assert cost_of_mixing([days(0.8, *range(1, 11))]) is None
    assert cost_of_mixing([]) is None


def test_a_warm_up_on_another_map_makes_no_mixed_day():
    five, warm_up = days(0.8, *range(1, 11), found=100), days(1.0, 3, 6, 9, found=16)
    assert cost_of_mixing([five, warm_up]) is None


def test_a_difference_that_chance_may_make_is_not_sure():
    five = tuple(sorted((*days(0.80, 7, 9, 10, spread=0.45), *days(0.82, 5, 6, 8, spread=0.45))))
    told = cost_of_mixing([five, days(0.9, 5, 6, 8, spread=0.45)])
    assert told is not None
    assert not told.sure


def test_where_a_row_has_no_room_its_maps_alone_are_told_and_else_how_many_there_are():
    step = next(step for day in range(99, 105) for step in plan_for(mixed(day=day)) if len(step.maps) > 1)
    shorter = [tell(one) for one in row_quiet_shorter(step)]
    assert all(one.name in shorter[0] for one in step.maps)
    assert shorter[1:] == ["two maps, by turns"]
    assert [tell(one) for one in row_quiet_shorter(replace(step, maps=(NINE,)))] == ["Position IX"]
    assert row_quiet_shorter(replace(step, maps=())) == ()


def test_only_lines_take_turns_and_whatever_tune_is_played_stays_on_the_map_in_use():
    steps = [step for day in range(99, 117) for step in plan_for(mixed(day=day))]
    assert any(step.maps for step in steps)
    assert all(step.line is not None for step in steps if step.maps)
    tunes = [step for step in steps if step.passage is not None or step.tune is not None]
    assert tunes
    assert not any(step.maps for step in tunes)
