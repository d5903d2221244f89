"""Which notes are met next, and how many of them a day."""

import pytest

from game.coach.notes.mastery import Mastery, mastery_after
from game.coach.notes.new_notes import keys_by_reach, met_first_today, notes_to_meet
from game.coach.notes.note_reads import take_reads
from game.coach.numbers import NUMBERS
from game.judging.verdicts import Verdict
from game.lines.levels import LEVELS
from game.music.keys import Key, spelled
from game.music.pitch import pitch
from game.neck.neck_map import standard_map
from tests.coach.judged_takes import MAP, after, judged

FIVE = "C5 D5 E5 F5 G5"


def quick(row):
    return after(*(judged(row, find_ms=700.0) for _ in range(3)))


def names(soundings):
    return {spelled(sounding + 12, Key(-1)).name[:-1] for sounding in soundings}


def test_the_keys_come_by_the_stretches_they_cost():
    """In position V F and B flat cost none, C one for its B, G two (counted over 10,223 tunes: design)."""
    order = keys_by_reach(MAP, map(Key, range(-6, 7)))
    assert [key.name for key in order[:4]] == ["F", "Bb", "C", "G"]
    assert [key.name for key in keys_by_reach(standard_map(position=1), map(Key, range(-6, 7)))[:4]] != order[:4]


def test_after_five_notes_of_c_come_those_of_f_three_a_day_then_b_flat_and_b_and_f_sharp_last():
    met, days = FIVE, []
    while left := notes_to_meet(quick(met), MAP):
        days.append(names(left))
        met = " ".join((met, *(spelled(sounding + 12, Key(-1)).name for sounding in left)))
    first = set().union(*days[:4])
    assert first == {"F", "G", "A", "Bb", "C", "D", "E"}
    of = {name: next(day for day, new in enumerate(days) if name in new) for name in ("Eb", "B", "F#")}
    assert 4 <= of["Eb"] <= of["B"] <= of["F#"]
    assert all(len(day) <= NUMBERS.new_a_day for day in days)


def test_what_was_met_today_counts_as_new_and_while_many_are_unsure_hardly_one_comes():
    items = quick(FIVE)
    assert len(notes_to_meet(items, MAP)) == NUMBERS.new_a_day
    assert len(notes_to_meet(items, MAP, met_today={58, 57})) == NUMBERS.new_a_day - 2
    assert notes_to_meet(items, MAP, met_today={58, 57, 53, 50}) == ()
    wrong = after(*(judged(FIVE, [Verdict.WRONG_PITCH] * 5) for _ in range(3)))
    assert len(notes_to_meet(wrong, MAP)) == NUMBERS.new_while_unsure


@pytest.mark.parametrize(("days", "new"), [((1, 2), {58}), ((2, 2), {58, 57})])
def test_met_for_the_first_time_today_is_what_no_day_before_has_readings_of(days, new):
    mastery = Mastery()
    for row, day in (("A4", days[0]), ("A4 Bb4", days[1])):
        mastery = mastery_after(mastery, take_reads(judged(row, day=day)))
    assert met_first_today(mastery.items, mastery.today, MAP) == new
    assert pitch("Bb4").midi - 12 == 58


def test_lines_for_those_who_begin_are_thought_as_wide_as_they_are_made():
    assert NUMBERS.melody_spans == tuple(level.span for level in LEVELS[: len(NUMBERS.melody_spans)])
