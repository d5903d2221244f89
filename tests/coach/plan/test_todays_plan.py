"""Today's plan: the order of the day, and why."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_steps import CourseToday, FirstTune, MapInPlan, Situation, StepKind
from game.coach.plan.todays_plan import plan_for
from game.coach.stages import Stage
from game.message import verbatim
from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.text.catalogue import tell_all
from tests.coach.judged_takes import MAP, after, judged
from tests.coach.plan.situations import DONE, FORD, MILL, OLD, kinds, one, read, situation

K = StepKind


def test_a_day_of_twenty_minutes_is_in_the_order_of_the_house():
    steps = plan_for(situation())
    assert kinds(steps) == [K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES, K.PASSAGE, K.NEW_TUNE, K.SIGNED_OFF]
    assert [step.minutes for step in steps] == [1, 2, 4, 6, 4, 3]


def test_most_of_a_day_is_music_and_with_ten_slow_notes_a_third_is_notes():
    assert [step.minutes for step in plan_for(situation(items={}))] == [1, 3, 3, 6, 4, 3]
    names = "F4 G4 A4 B4 C5 D5 E5 F5 G5 A5"
    slow = after(*(judged(row, find_ms=3000.0) for row in (names, " ".join(reversed(names.split())))))
    minutes = sum(step.minutes for step in plan_for(situation(items=slow)) if step.kind is K.SLOW_NOTES)
    assert minutes + 1 <= 20 / 3
    assert minutes == 5


def test_each_step_asks_one_stage_and_one_piece_of_music():
    stages = {K.WARM_UP: Stage.PLACES, K.FIRST_SIGHT: Stage.SIGHT, K.SLOW_NOTES: Stage.PLACES, K.PASSAGE: Stage.TIME}
    stages |= {K.NEW_TUNE: Stage.PLACES, K.SIGNED_OFF: Stage.TIME}
    for step in plan_for(situation()):
        assert step.stage is stages[step.kind]
        assert sum(music is not None for music in (step.line, step.passage, step.tune)) == 1


def test_every_step_says_why_in_one_plain_sentence():
    for step in plan_for(situation(minutes=90)):
        said = tell_all(step.reason)
        assert said[0].isupper()
        assert said.endswith(".")
        assert "\n" not in said


def test_the_slowest_note_is_named_with_its_home_and_its_seconds():
    steps = plan_for(situation())
    assert tell_all(one(steps, K.SLOW_NOTES).reason).startswith("A on string 4, fret 7 takes you longest, 2.")
    solfege = one(plan_for(situation(names=NoteNames.SOLFEGE)), K.SLOW_NOTES)
    assert tell_all(solfege.reason).startswith("la on string 4, fret 7")


def test_the_line_for_slow_notes_brings_them_more_often_than_the_quick_ones():
    line = one(plan_for(situation()), K.SLOW_NOTES).line
    assert [key.written for key in line.notes[:2]] == ["A4", "C5"]
    assert line.weights[57] > line.weights[60] > line.weights[55]
    assert line.key is not None


def test_the_warm_up_is_on_what_is_due_first():
    items = read()
    due = tuple(key for key in items if key.written == "G4")
    step = one(plan_for(situation(items=items, due_notes=due)), K.WARM_UP)
    assert [key.written for key in step.line.notes[:2]] == ["G4", "A4"]
    assert tell_all(step.reason) == "To warm up: G on string 4, fret 5, before you forget."


def test_a_line_at_first_sight_favours_no_note_so_that_its_score_is_honest():
    line = one(plan_for(situation(unseen=())), K.FIRST_SIGHT).line
    assert dict(line.weights) == {}


def test_a_new_player_gets_lines_and_nothing_that_is_not_there():
    steps = plan_for(Situation(day=1, neck_map=MAP, level=1))
    assert set(kinds(steps)) == {K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES}
    assert sum(step.minutes for step in steps) == 20
    assert tell_all(one(steps, K.WARM_UP).reason) == "A few notes to begin with, pitch only."
    assert one(steps, K.SLOW_NOTES).line.notes == ()


def test_a_short_day_keeps_first_sight_and_reaches_a_passage():
    """Its minute of warm-up is on slow notes."""
    steps = plan_for(situation(minutes=5))
    assert kinds(steps) == [K.WARM_UP, K.FIRST_SIGHT, K.PASSAGE]
    assert sum(step.minutes for step in steps) == 5


def test_a_long_day_has_a_rest_of_five_minutes_after_at_most_twenty_five():
    steps = plan_for(situation(minutes=60))
    assert {step.minutes for step in steps if step.kind is K.REST} == {5}
    assert kinds(steps).count(K.SLOW_NOTES) == 1
    assert kinds(steps).count(K.PASSAGE) > 1


def test_what_was_done_today_already_is_not_asked_again():
    done = {K.WARM_UP: 1.0, K.FIRST_SIGHT: 4.0, K.SLOW_NOTES: 6.0}
    assert kinds(plan_for(situation(minutes=11, done=done))) == [K.PASSAGE, K.NEW_TUNE, K.SIGNED_OFF]


def test_a_second_full_session_of_the_day_begins_without_a_warm_up():
    done = dict.fromkeys((K.SLOW_NOTES, K.PASSAGE, K.NEW_TUNE), 4.0) | {K.WARM_UP: 1.0, K.FIRST_SIGHT: 2.0}
    assert kinds(plan_for(situation(done=done)))[0] is K.FIRST_SIGHT


@given(
    st.integers(5, 90),
    st.integers(1, 3),
    st.sets(st.sampled_from(["passages", "unseen"])),
    st.dictionaries(st.sampled_from([kind for kind in K if kind is not K.REST]), st.floats(0, 40)),
)
def test_every_plan_fits_its_minutes_and_never_goes_on_too_long(minutes, day, empty, done):
    steps = plan_for(situation(minutes=minutes, day=day, done=done, **dict.fromkeys(empty, ())))
    assert minutes - NUMBERS.rest_minutes <= sum(step.minutes for step in steps) <= minutes
    assert all(step.minutes >= 1 for step in steps)
    assert steps[0].kind is not K.REST
    assert steps[-1].kind is not K.REST
    stretch = 0
    for step in steps:
        stretch = 0 if step.kind is K.REST else stretch + step.minutes
        assert stretch <= NUMBERS.rest_after
    order = list(K)
    places = [order.index(step.kind) for step in steps if step.kind not in (K.REST, K.SLOW_NOTES, K.PASSAGE)]
    assert places == sorted(places)


WAITS = replace(MILL, name="weir", title=verbatim("The Weir"), half_day=97, last_day=97)


def test_the_other_half_of_a_sign_off_ends_the_day_and_is_said_to_be_due():
    last = plan_for(situation(passages=(WAITS, FORD, MILL, DONE, OLD), due_passages=("gate",)))[-1]
    assert (last.kind, last.passage, last.whole) == (K.SIGNED_OFF, "weir", False)
    assert tell_all(last.reason) == (
        "The Weir: clean at 96 once; once more like that as a day's first take, and it is signed off."
    )


def test_what_is_due_is_played_by_itself_and_what_is_not_as_a_whole_tune():
    """A whole tune is another passage: played so, what is due would be due for ever."""
    due, other = plan_for(situation(due_passages=("gate",)))[-1], plan_for(situation())[-1]
    assert not due.whole
    assert other.whole
    assert ["played whole" in tell_all(step.reason) for step in (due, other)] == [False, True]


def test_the_blocks_of_a_long_day_are_on_one_passage_after_the_other_and_none_comes_twice_with_the_end():
    steps = plan_for(situation(minutes=90, passages=(WAITS, FORD, MILL, DONE)))
    blocks = [step.passage for step in steps if step.kind is K.PASSAGE]
    assert blocks[:3] == ["mill", "ford", "mill"]
    assert set(blocks) == {"mill", "ford"}


def test_when_only_the_end_is_left_there_is_no_block_on_a_passage():
    steps = plan_for(situation(passages=(DONE,), minutes=90))
    assert K.PASSAGE not in kinds(steps)


def test_on_a_day_too_short_for_its_end_what_one_more_clean_take_signs_comes_first():
    waits = replace(FORD, name="weir", half_day=97, last_day=97, target_bpm=96)
    steps = plan_for(situation(minutes=7, passages=(waits, MILL)))
    assert K.SIGNED_OFF not in kinds(steps)
    assert one(steps, K.PASSAGE).passage == "weir"


def test_before_five_notes_are_met_there_is_no_line_at_sight_and_after_the_line_of_today_no_other():
    assert K.FIRST_SIGHT not in kinds(plan_for(situation(met=4)))
    assert K.FIRST_SIGHT in kinds(plan_for(situation(met=5)))
    assert K.FIRST_SIGHT not in kinds(plan_for(situation(ended=frozenset({K.FIRST_SIGHT}))))


def test_a_block_on_notes_that_is_over_has_no_second_one_on_the_same_day():
    assert K.SLOW_NOTES in kinds(plan_for(situation()))
    assert K.SLOW_NOTES not in kinds(plan_for(situation(ended=frozenset({K.SLOW_NOTES}))))


def test_what_was_skipped_today_is_not_offered_again():
    skipped = frozenset({(K.SLOW_NOTES, None), (K.PASSAGE, "mill"), (K.SIGNED_OFF, "oak")})
    steps = plan_for(situation(skipped=skipped))
    assert K.SLOW_NOTES not in kinds(steps)
    assert one(steps, K.PASSAGE).passage == "ford"
    assert one(steps, K.SIGNED_OFF).passage == "gate"


def test_while_a_course_lasts_its_bars_are_what_is_new():
    course = CourseToday(title="Forty Solos", passage="c" * 32, tune="one", stage=Stage.RHYTHM)
    steps = plan_for(situation(course=course))
    assert (one(steps, K.COURSE).passage, one(steps, K.COURSE).stage) == ("c" * 32, Stage.RHYTHM)
    assert K.NEW_TUNE not in kinds(steps)


def test_a_first_day_has_three_steps_and_goes_on_where_it_stood():
    first = FirstTune(name="ode", title="Ode", notes=(("C5", 60), ("D5", 62)))
    new = {"first_day": True, "first_tune": first, "items": {}, "passages": (), "minutes": 10}
    steps = plan_for(situation(**new))
    assert [(step.kind, step.minutes) for step in steps] == [(K.FIVE_NOTES, 2), (K.NEW_TUNE, 6), (K.HEARD_WHOLE, 2)]
    assert steps[0].line.single_notes
    assert kinds(plan_for(situation(**new, ended=frozenset({K.FIVE_NOTES})))) == [K.NEW_TUNE, K.HEARD_WHOLE]
    assert kinds(plan_for(situation(**new, skipped=frozenset({(K.NEW_TUNE, "ode")})))) == [K.FIVE_NOTES, K.HEARD_WHOLE]


@pytest.mark.parametrize(
    ("left", "done", "ended", "minutes"),
    [
        (9, {K.FIVE_NOTES: 1.0}, (), [1, 6, 2]),
        (8, {K.FIVE_NOTES: 2.0}, (K.FIVE_NOTES,), [6, 2]),
        (5, {K.FIVE_NOTES: 2.0, K.NEW_TUNE: 3.0}, (K.FIVE_NOTES,), [3, 2]),
        (5, {K.FIVE_NOTES: 5.0}, (K.FIVE_NOTES,), [4, 1]),
        (5, {K.FIVE_NOTES: 9.0}, (), [1, 4, 1]),
        (18, {K.FIVE_NOTES: 2.0}, (K.FIVE_NOTES,), [12, 4]),
    ],
)
def test_a_first_day_that_goes_on_later_has_what_is_left_of_each_step(left, done, ended, minutes):
    first = FirstTune(name="ode", title="Ode", notes=(("C5", 60), ("D5", 62)))
    new = {"first_day": True, "first_tune": first, "items": {}, "passages": ()}
    steps = plan_for(situation(**new, minutes=left, done=done, ended=frozenset(ended)))
    assert [step.minutes for step in steps] == minutes


def test_once_the_map_is_fluent_a_day_ends_with_a_line_in_free_reading():
    """The coach gives its reason, and takes the minutes from the rest of the day."""
    steps = plan_for(situation(fluent=True, tells_places=True))
    last = steps[-1]
    assert (last.kind, last.minutes, last.stage) == (K.FREE_READING, NUMBERS.free_reading_minutes, Stage.TIME)
    assert last.line is not None
    assert last.reason[0].key == "plan.free_reading"
    assert sum(step.minutes for step in steps) == 20
    assert kinds(steps).count(K.FREE_READING) == 1


def test_free_reading_is_not_offered_before_without_places_on_a_short_day_or_once_more_on_the_same_day():
    fluent = {"fluent": True, "tells_places": True}
    for changes in (
        {"fluent": False},
        {"tells_places": False},
        {"minutes": NUMBERS.free_reading_from - 1},
        {"ended": frozenset({K.FREE_READING})},
        {"skipped": frozenset({(K.FREE_READING, None)})},
    ):
        assert K.FREE_READING not in kinds(plan_for(situation(**fluent | changes)))


def test_where_maps_are_mixed_free_reading_is_on_the_players_own():
    other = MapInPlan(standard_map(position=10), "Position X")
    steps = plan_for(situation(day=102, fluent=True, tells_places=True, fluent_maps=(other,)))
    assert any(step.maps for step in steps)
    assert steps[-1].kind is K.FREE_READING
    assert steps[-1].maps == ()


@given(st.integers(min_value=15, max_value=90))
def test_free_reading_lets_no_stretch_of_practice_be_longer_than_it_should(minutes):
    stretch = 0
    for step in plan_for(situation(minutes=minutes, fluent=True, tells_places=True)):
        stretch = 0 if step.kind is K.REST else stretch + step.minutes
        assert stretch <= NUMBERS.rest_after
