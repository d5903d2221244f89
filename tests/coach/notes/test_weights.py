"""Slow and wrong notes come up more."""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from game.coach.notes.weights import key_of_most_weight, pitch_weights
from game.coach.numbers import NUMBERS
from game.judging.verdicts import Verdict
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.music.keys import MAX_FIFTHS, Key
from game.music.written import written_notes
from game.neck.neck_map import standard_map
from tests.coach.judged_takes import MAP, after, judged

NAMES = "F4 G4 A4 B4 C5 D5 E5"
ALL_KEYS = [Key(fifths) for fifths in range(-MAX_FIFTHS, MAX_FIFTHS + 1)]


def practised(slow=(), wrong=(), times=4):
    row = NAMES.split()
    takes = [
        judged(
            " ".join(order),
            [Verdict.WRONG_PITCH if name in wrong else Verdict.CLEAN for name in order],
            [3000.0 if name in slow else 700.0 for name in order],
            sighting=1 + number % 2,
        )
        for number, order in enumerate([row, row[::-1]] * (times // 2))
    ]
    return after(*takes)


def by_written(found):
    return {home.sounding + 12: found[home.sounding] for home in MAP.homes}


def test_every_pitch_of_the_map_has_a_weight_within_the_bounds():
    found = pitch_weights(practised(slow={"A4"}), MAP)
    assert set(found) == set(MAP.places)
    assert all(NUMBERS.weight_least <= weight <= NUMBERS.weight_most for weight in found.values())


def test_slow_and_wrong_notes_come_up_more_and_unknown_ones_stand_in_between():
    found = by_written(pitch_weights(practised(slow={"A4"}, wrong={"D5"}), MAP))
    quick, slow, wrong, unknown = found[67], found[69], found[74], found[60]
    assert slow > 2 * unknown
    assert wrong > unknown > quick


def test_without_any_reading_all_notes_weigh_the_same():
    assert set(pitch_weights({}, MAP).values()) == {1.0}


def test_a_note_that_is_due_comes_up_like_a_slow_one():
    items = practised()
    due = [key for key in items if key.written == "C5"]
    assert by_written(pitch_weights(items, MAP, due=due))[72] == NUMBERS.due_weight


def test_how_slow_a_note_is_on_another_map_does_not_count_on_this():
    other = standard_map(position=9)
    assert pitch_weights(practised(slow={"A4"}), other) == pitch_weights(practised(), other)


def test_the_key_is_one_in_which_the_slow_notes_occur():
    slow = dict.fromkeys(MAP.places, 1.0) | {54: 8.0, 66: 8.0, 61: 8.0, 49: 8.0}
    key = key_of_most_weight(slow, MAP, ALL_KEYS)
    assert (key.alter_of("F"), key.alter_of("C")) == (1, 1)
    assert key_of_most_weight(dict.fromkeys(MAP.places, 1.0), MAP, ALL_KEYS) == Key(0)


@given(st.integers(0, 30))
def test_more_wrong_answers_never_make_a_note_rarer(number):
    few = by_written(pitch_weights(practised(wrong={"A4"}, times=2), MAP))[69]
    more = by_written(pitch_weights(practised(wrong={"A4"}, times=2 + 2 * (number % 5)), MAP))[69]
    assert more >= few


def test_a_fresh_line_with_these_weights_brings_the_slow_note_more_often():
    wanted = pitch_weights(practised(slow={"A4"}), MAP)

    def share(given):
        lines = [
            fresh_line(level_of(3), MAP, key=Key(0), bars=16, rng=Random(seed), weights=given) for seed in range(40)
        ]
        notes = [note.sounding for line in lines for note in written_notes(line.bars, line.reading)]
        return notes.count(57) / len(notes)

    assert share(wanted) > 1.3 * share(None)
