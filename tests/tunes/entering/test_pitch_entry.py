"""Pitches as they are played, with what goes wrong on an instrument."""

from game.tunes.entering.draft import MOST_PITCHES, Draft, DraftPitch
from game.tunes.entering.entering import Entering, EntryStep, gone_back, moved
from game.tunes.entering.pitch_entry import heard, played_over, respelled, revised, taken_back


def entered(*numbers, every_s=0.4) -> Entering:
    state = Entering(draft=Draft(), step=EntryStep.PITCHES)
    for place, number in enumerate(numbers):
        state = heard(state, number, place * every_s)
    return state


def row(state) -> list[int]:
    return [pitch.sounding for pitch in state.draft.pitches]


def test_each_note_is_written_behind_the_one_before():
    assert row(entered(60, 62, 62, 64)) == [60, 62, 62, 64]


def test_the_last_is_taken_back_and_more_than_there_are_is_all_of_them():
    assert row(taken_back(entered(60, 62, 64))) == [60, 62]
    assert row(taken_back(entered(60, 62, 64), 2)) == [60]
    assert row(taken_back(entered(60), 3)) == []


def test_notes_are_written_and_taken_back_where_the_pencil_is():
    state = moved(entered(60, 64), -1)
    state = heard(state, 62, 9.0)
    assert row(state) == [60, 62, 64]
    assert row(taken_back(state)) == [60, 64]


def test_a_chord_by_mistake_is_its_highest_note_and_that_is_said():
    state = heard(entered(52), 59, 0.02)
    assert row(state) == [59]
    assert state.said.key == "writing.highest_of_chord"
    assert row(heard(state, 47, 0.03)) == [59]


def test_of_a_stroke_in_which_nobody_played_the_highest_note_the_next_stands():
    """A pickup tells a ghost beside the note, and takes it back."""
    state = heard(entered(52), 64, 0.02)
    assert row(revised(state, (64, 0.02), None)) == [52]
    assert revised(state, (64, 0.02), None).said is None
    assert row(revised(state, (52, 0.0), None)) == [64]
    assert row(revised(state, (64, 0.02), (50, 0.02))) == [52]


def test_a_string_that_is_caught_twice_is_one_note_and_a_repeated_note_is_two():
    assert row(heard(entered(60), 60, 0.06)) == [60]
    assert row(heard(entered(60), 60, 0.15)) == [60, 60]
    assert row(revised(heard(entered(60), 60, 0.06), (60, 0.0), None)) == [60]


def test_a_note_that_nobody_played_goes_again():
    state = heard(entered(60), 64, 1.0)
    state = heard(state, 62, 2.0)
    assert row(revised(state, (64, 1.0), None)) == [60, 62]
    assert revised(state, (64, 1.0), None).at == 2


def test_a_note_that_turns_out_to_be_another_is_changed_wherever_it_stands_by_then():
    state = heard(heard(entered(60), 76, 1.0), 62, 2.0)
    assert row(revised(state, (76, 1.0), (64, 1.01))) == [60, 64, 62]


def test_a_note_that_was_taken_back_before_it_was_put_right_stays_away():
    state = taken_back(heard(entered(60), 76, 1.0))
    assert row(revised(state, (76, 1.0), (64, 1.01))) == [60]


def test_what_no_guitar_reaches_is_not_written():
    assert row(heard(entered(60), 5, 3.0)) == [60]
    assert heard(entered(60), 5, 3.0).said.key == "writing.out_of_range"


def test_an_instrument_left_on_the_desk_does_not_fill_the_memory():
    full = Entering(draft=Draft(pitches=(DraftPitch(sounding=60),) * MOST_PITCHES), at=MOST_PITCHES)
    state = heard(full, 60, 1.0)
    assert len(state.draft.pitches) == MOST_PITCHES
    assert state.said.key == "writing.too_many"


def test_a_note_on_the_page_is_played_over_and_comes_back_when_nobody_played():
    state = moved(entered(60, 62), -1)
    over = played_over(state, 65, 5.0)
    assert row(over) == [60, 65]
    assert row(revised(over, (65, 5.0), None)) == [60, 62]
    assert row(gone_back(over)) == [60, 62]
    assert played_over(Entering(draft=Draft()), 60, 1.0).draft == Draft()


def test_a_spelling_is_changed_and_changed_back():
    state = respelled(moved(entered(61), -1))
    assert state.draft.pitches[0].respelled
    assert not respelled(state).draft.pitches[0].respelled
    assert respelled(Entering(draft=Draft())).draft == Draft()


def test_a_note_may_be_put_right_several_times_each_at_a_better_time():
    """A slide goes on, and the delay of a pickup is another for each pitch."""
    state = revised(heard(entered(60), 65, 1.0), (65, 1.0), (66, 1.002))
    assert row(revised(state, (66, 1.002), (67, 1.003))) == [60, 67]
