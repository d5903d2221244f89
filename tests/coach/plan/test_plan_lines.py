"""The lines of a plan that are for certain notes."""

from dataclasses import replace

import pytest

from game.coach.notes.weights import pitch_classes, slow_pitches
from game.coach.numbers import NUMBERS
from game.coach.plan.plan_lines import (
    as_single_notes,
    key_in_turn,
    keys_of_level,
    melody_of_known,
    new_pitches,
    slow_notes_line,
)
from game.coach.plan.plan_steps import PlannedLine, StepKind
from game.coach.plan.todays_plan import plan_for
from game.music.keys import Key, spelled
from game.neck.neck_map import standard_map
from tests.coach.judged_takes import MAP, after, judged
from tests.coach.plan.situations import one, read, situation

K = StepKind


C_SHARP = 1  # in no key of the first level in position V


def test_slow_notes_come_as_single_notes_and_make_up_most_of_them():
    line = one(plan_for(situation()), K.SLOW_NOTES).line
    assert line.single_notes
    slow = set(slow_pitches(read(), MAP)) | set(new_pitches(situation()))
    share = sum(weight for pitch, weight in line.weights.items() if pitch in slow) / sum(line.weights.values())
    assert share == pytest.approx(NUMBERS.single_notes_slow_share)


def test_a_block_on_slow_notes_follows_what_is_known_from_line_to_line():
    now = situation()
    line = one(plan_for(now), K.SLOW_NOTES).line
    quick = after(*(judged("A4 C5 A4 C5 A4 C5 A4 C5", find_ms=600.0) for _ in range(6)))
    later = slow_notes_line(line, replace(now, items=read() | {key: quick[key] for key in quick}))
    assert later.key == line.key
    assert later.weights[57] < 0.1 * line.weights[57]


def test_once_no_note_is_slow_the_block_is_a_melody():
    homes = [home.sounding + 12 for home in MAP.homes]
    names = " ".join(spelled(midi, Key(0)).name for midi in [*homes, *reversed(homes)])
    quick = after(*(judged(names, find_ms=600.0) for _ in range(4)))
    line = one(plan_for(situation(items=quick)), K.SLOW_NOTES).line
    assert not line.single_notes
    assert set(line.weights) == set(MAP.places)


@pytest.mark.parametrize("level", [1, 4, 8])
def test_keys_take_turns_from_day_to_day_and_have_no_more_signs_than_the_level_bears(level):
    every = " ".join(spelled(home.sounding + 12, Key(0)).name for home in MAP.homes)
    slow = after(*(judged(every, find_ms=3000.0) for _ in range(3)))
    days = [situation(day=day, level=level, items=slow) for day in range(100, 108)]
    lines = [one(plan_for(day), K.SLOW_NOTES).line for day in days]
    keys = {line.key for line in lines}
    assert len(keys) > 1
    assert keys <= set(keys_of_level(level, MAP))


def test_notes_that_no_key_of_the_level_has_are_met_last_as_single_notes_with_a_sign():
    first = one(plan_for(situation(level=1, items={})), K.SLOW_NOTES).line
    assert not any(weight for pitch, weight in first.weights.items() if pitch % 12 == C_SHARP)
    names = [spelled(home.sounding + 12, Key(0)).name for home in MAP.homes if home.sounding % 12 != C_SHARP]
    all_others = after(judged(" ".join(names)), judged(" ".join(reversed(names))))
    last = one(plan_for(situation(level=1, items=all_others)), K.SLOW_NOTES).line
    assert last.single_notes
    assert all(last.weights[pitch] > 0 for pitch in MAP.places if pitch % 12 == C_SHARP)


def names_of_keys(level, position=5):
    return [key.name for key in keys_of_level(level, standard_map(position=position))]


def test_a_level_has_the_keys_that_cost_fewest_stretches_on_the_map():
    """Worked out from the maps: in position V the F major scale needs no stretch, in position IX that of D."""
    assert names_of_keys(1) == ["F", "Bb", "C", "G", "Eb"]
    assert names_of_keys(2) == ["F", "Bb", "C", "G", "Eb", "D", "Ab"]
    assert names_of_keys(1, position=9)[:2] == ["D", "A"]
    assert len(names_of_keys(8)) == 13


@pytest.mark.parametrize("position", [1, 5, 9])
def test_whoever_begins_meets_no_key_of_more_than_three_signs(position):
    assert all(abs(key.fifths) <= 3 for key in keys_of_level(1, standard_map(position=position)))


def test_in_some_turn_every_note_that_is_sought_is_in_the_key():
    now = situation(level=4)
    sought = {54: 3.0, 58: 3.0}  # F♯ and B♭, which no key has together
    keys = {key_in_turn(turn, sought, now) for turn in range(NUMBERS.keys_in_turn)}
    assert set().union(*map(pitch_classes, keys)) >= {54 % 12, 58 % 12}


def test_where_no_note_is_slow_a_line_stays_a_melody():
    line = PlannedLine(level=2, key=Key(0), weights=dict.fromkeys(MAP.places, 1.0))
    assert as_single_notes(line, {}, {}, situation()) is line


def test_pitches_outside_the_key_come_only_where_they_are_slow_and_were_met():
    line = PlannedLine(level=2, key=Key(0), weights=dict.fromkeys(MAP.places, 1.0))
    met = as_single_notes(line, {58: 4.0}, {}, situation())
    assert met.weights[58] > 0
    unmet = as_single_notes(line, {58: 4.0, 57: 4.0}, {58: 4.0, 57: 4.0}, situation())
    assert 58 not in unmet.weights
    assert unmet.weights[57] > 0


FIVE = frozenset({60, 62, 64, 65, 67})


def test_for_somebody_who_begins_a_melody_is_made_of_notes_that_were_met():
    met = situation(known=FIVE, items={})
    line = melody_of_known(PlannedLine(level=2, key=Key(-2), weights=dict.fromkeys(MAP.places, 1.0)), met)
    assert (line.level, line.key, line.single_notes) == (1, Key(0), False)
    assert {pitch for pitch, weight in line.weights.items() if weight} == FIVE
    few = replace(met, known=FIVE - {64})
    assert melody_of_known(line, few).single_notes, "no five of them lie side by side"
    assert melody_of_known(line, situation()) is line, "to everybody else every note may come"


def test_of_the_notes_a_beginner_never_met_only_those_of_today_come_one_by_one():
    begins = situation(known=FIVE, items={}, met=5)
    line = one(plan_for(begins), K.SLOW_NOTES).line
    new = set(new_pitches(begins))
    assert line.single_notes
    assert 0 < len(new) <= NUMBERS.new_a_day
    assert {pitch for pitch, weight in line.weights.items() if weight} <= FIVE | new
    assert line.new


def test_now_and_then_the_notes_come_in_a_tune():
    line = one(plan_for(situation()), K.SLOW_NOTES).line
    assert line.single_notes
    assert not slow_notes_line(line, situation(), in_tune=True).single_notes


def test_a_line_at_sight_for_somebody_who_begins_has_no_other_notes():
    assert one(plan_for(situation(known=FIVE)), K.FIRST_SIGHT).line.key == Key(0)
    assert K.FIRST_SIGHT not in [step.kind for step in plan_for(situation(known=frozenset({60, 61, 62, 63, 64})))]
