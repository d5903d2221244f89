"""The rhythm of a line, tapped bar by bar, by people who slip."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.music.meter import Meter
from game.tunes.abc.chord_text import chord_of
from game.tunes.entering.draft import BarSigns, DraftPitch
from game.tunes.entering.entering import EntryStep, gone_back, moved
from game.tunes.entering.rhythm_entry import (
    bar_inserted,
    bar_line_after,
    bar_removed,
    begun,
    ended,
    ends_itself,
    last_bar_taken_back,
    notes_before,
    pitch_due,
    struck,
    tap_revised,
)
from game.tunes.entering.tapped_rhythm import Tap
from tests.tunes.entering.made_taps import QUARTER_S, rhythm_of, tapped_run, taps, with_pitches

BEATS = [Fraction(beat) for beat in range(8)]
SECOND = BarSigns(ending=2)


def places(state) -> list:
    return [at for at, _ in rhythm_of(state)]


def test_a_run_ends_itself_at_the_bar_line_behind_the_last_pitch():
    state = tapped_run(with_pitches(6), taps(BEATS[:6]))
    assert places(state) == BEATS[:6]
    assert state.draft.settled == 8
    assert state.draft.complete


def test_who_stops_in_the_middle_of_a_bar_keeps_the_bars_before_it():
    state = tapped_run(with_pitches(20), taps(BEATS[:6]), until=Fraction(6))
    assert places(state) == BEATS[:4]
    assert (state.draft.settled, state.bar) == (4, 1)


def test_who_stops_right_behind_the_last_note_has_tapped_all_of_it():
    state = tapped_run(with_pitches(5), taps(BEATS[:5]), until=Fraction(9, 2))
    assert places(state) == BEATS[:5]
    assert state.draft.settled == 8


def test_who_stops_tapping_is_waited_for_no_longer_than_two_bars():
    state = begun(with_pitches(20), zero_s=100.0, quarter_s=QUARTER_S)
    for tap in taps(BEATS[:4]):
        state = struck(state, tap)
    assert not ends_itself(state, 100.0 + 11.9 * QUARTER_S)
    assert ends_itself(state, 100.2 + 12 * QUARTER_S)
    assert ended(state, 100.2 + 12 * QUARTER_S).draft.settled == 4


def test_a_note_held_over_bars_is_held_where_tapping_goes_on():
    state = tapped_run(with_pitches(3), taps([Fraction(0), Fraction(9), Fraction(10)]))
    assert rhythm_of(state) == [(0, None), (9, None), (10, None)]
    assert state.draft.end_of(0) == 9


def test_a_rest_is_tapped_as_a_rest():
    state = tapped_run(with_pitches(3), taps([Fraction(0), Fraction(2), Fraction(4)], rests=[Fraction(1), Fraction(5)]))
    assert rhythm_of(state) == [(0, 1), (2, None), (4, 5)]


def test_one_bar_is_tapped_again_and_the_others_stay():
    state = tapped_run(with_pitches(9), taps([*BEATS, Fraction(8)]))
    again = tapped_run(moved(state, -2), taps([Fraction(4), Fraction(6)], start=Fraction(4)))
    assert places(again) == [0, 1, 2, 3, 4, 6, 8]
    assert again.said.key == "writing.moved_back"
    assert (again.draft.settled, again.draft.timed) == (12, 7)


def test_a_forgotten_tap_moves_the_pitches_after_it_along():
    state = tapped_run(with_pitches(8), taps([Fraction(0), Fraction(1), Fraction(2), *BEATS[4:]]))
    again = tapped_run(moved(state, -9), taps([*BEATS[:4]]))
    assert places(again) == BEATS
    assert again.said.key == "writing.moved_along"


def test_more_taps_than_pitches_are_said():
    state = tapped_run(with_pitches(3), taps(BEATS[:5]), until=Fraction(8))
    assert places(state) == BEATS[:3]
    assert state.said.key == "writing.taps_left"
    assert dict(state.said.values)["count"] == 2


def test_nothing_tapped_changes_nothing_and_is_said():
    state = with_pitches(3)
    after = tapped_run(state, (), until=Fraction(8))
    assert (after.draft, after.said.key) == (state.draft, "writing.nothing_tapped")


def test_a_pickup_is_tapped_before_the_first_bar_line():
    state = tapped_run(with_pitches(3, pickup=Fraction(1)), taps([-1, 0, 2], start=Fraction(-1)))
    assert places(state) == [-1, 0, 2]
    assert state.draft.settled == 4


@pytest.mark.parametrize("meter", [Meter(3, 4), Meter(6, 8), Meter(5, 4)])
def test_every_metre_has_its_bar_lines(meter):
    length = meter.bar_length
    state = tapped_run(with_pitches(2, meter=meter), taps([Fraction(0), length]))
    assert places(state) == [0, length]
    assert state.draft.settled == 2 * length


def test_swung_eighths_say_so_on_the_page():
    played = [beat + part for beat in range(8) for part in (Fraction(0), Fraction(8, 13))]
    state = tapped_run(with_pitches(16), taps(played))
    assert places(state) == [Fraction(half, 2) for half in range(16)]
    assert state.draft.swung is True


def test_a_tap_that_nobody_made_goes_and_one_on_another_pitch_stays():
    state = begun(with_pitches(4), zero_s=100.0, quarter_s=QUARTER_S)
    state = struck(state, Tap(at_s=100.0, sounding=60))
    state = struck(state, Tap(at_s=100.75, sounding=61))
    assert pitch_due(state) == 2
    assert pitch_due(tap_revised(state, (61, 100.75), (63, 100.76))) == 2
    assert pitch_due(tap_revised(state, (61, 100.75), None)) == 1
    again = tap_revised(tap_revised(state, (61, 100.75), (63, 100.76)), (63, 100.76), None)
    assert pitch_due(again) == 1
    assert tap_revised(state, (99, 5.0), None) == state


def test_the_last_bar_is_taken_back_and_a_run_is_stopped_by_it():
    state = tapped_run(with_pitches(8), taps(BEATS))
    back = last_bar_taken_back(state)
    assert (places(back), back.bar) == (BEATS[:4], 1)
    assert places(last_bar_taken_back(back)) == []
    assert last_bar_taken_back(last_bar_taken_back(last_bar_taken_back(back))).draft.settled == 0
    running = begun(back, zero_s=100.0, quarter_s=QUARTER_S)
    assert last_bar_taken_back(running).run is None
    assert last_bar_taken_back(running).draft == back.draft


def test_the_rest_of_a_note_goes_with_the_bar_in_which_it_began():
    state = tapped_run(with_pitches(3), taps([Fraction(0), Fraction(6), Fraction(7)], rests=[Fraction(5)]))
    assert rhythm_of(last_bar_taken_back(state)) == [(0, None)]


def test_a_pitch_that_is_entered_later_takes_the_place_that_was_tapped():
    state = tapped_run(with_pitches(4), taps(BEATS[:4]))
    fewer = replace(state.draft, pitches=state.draft.pitches[:3])
    assert fewer.timed == 3
    assert replace(fewer, pitches=(*fewer.pitches, DraftPitch(sounding=70))).timed == 4


def test_pitches_are_spent_bar_by_bar():
    state = tapped_run(with_pitches(8), taps(BEATS))
    assert notes_before(state.draft, Fraction(4)) == 4
    assert bar_line_after(state.draft, Fraction(4)) == 8
    assert pitch_due(moved(state, -1)) == 4
    assert state.step is EntryStep.RHYTHM


def test_a_bar_that_was_skipped_is_inserted_and_tapped_alone():
    state = tapped_run(with_pitches(12), taps([*BEATS[:4], *BEATS[4:]]))
    chorded = replace(
        state, draft=replace(state.draft, chords=(chord_of("C", Fraction(0)), chord_of("G", Fraction(4))))
    )
    state = bar_inserted(moved(chorded, -1))
    assert places(state) == [0, 1, 2, 3, 8, 9, 10, 11]
    assert state.draft.settled == 12
    assert [chord.onset for chord in state.draft.chords] == [0, 8]
    assert state.draft.end_of(3) == 8
    again = tapped_run(state, taps([Fraction(4), Fraction(6)], start=Fraction(4)))
    assert places(again) == [0, 1, 2, 3, 4, 6, 8, 9, 10, 11]


def test_a_bar_that_was_tapped_twice_is_removed():
    state = tapped_run(with_pitches(8), taps(BEATS))
    state = replace(state, draft=state.draft.with_signs(0, BarSigns(repeat_start=True)).with_signs(1, SECOND))
    removed = bar_removed(moved(state, -9))
    assert places(removed) == [0, 1, 2, 3]
    assert removed.draft.settled == 4
    assert removed.draft.signs == ((0, SECOND),)
    assert gone_back(removed).draft == state.draft


def test_inserting_and_removing_a_bar_leaves_everything_as_it_was():
    state = tapped_run(with_pitches(4), taps([Fraction(0), 2, 5, 8], rests=[Fraction(4), Fraction(6)]))
    for bar in (0, 1):
        at = moved(state, bar - state.bar)
        assert rhythm_of(bar_removed(bar_inserted(at))) == rhythm_of(state)


def test_where_there_is_no_rhythm_there_is_no_bar_to_insert_or_remove():
    state = with_pitches(4)
    assert bar_inserted(state).draft == bar_removed(state).draft == state.draft
