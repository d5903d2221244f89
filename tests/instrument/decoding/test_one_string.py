"""What a string's messages come to: slides, hammer-ons, bends, and what nobody played."""

from dataclasses import replace

import pytest

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.dirt import NO_LIMITS, USUAL_LIMITS, Dirt, Limits
from game.instrument.decoding.played import NoteRevised
from game.instrument.decoding.strings import StringsState, pass_time
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import Place
from tests.instrument.messages_of import bend, control, events_of, heard, off, on, pitches, sounding_notes

SEMITONE = 4096  # of a full bend of two semitones: MIDI 1.0's default range.


def test_a_hammer_on_within_60_ms_counts_as_the_note_arrived_at_from_its_pluck_on():
    (note,) = heard([on(1.0, 69), on(1.05, 71), off(1.4, 71)]).notes
    assert (note.sounding, note.place, note.started_s, note.arrived_s) == (71, Place(1, 7), 1.0, 1.05)


def test_the_same_told_with_note_offs_between_is_the_same():
    (note,) = heard([on(1.0, 69), off(1.03, 69), on(1.031, 71), off(1.4, 71)]).notes
    assert (note.sounding, note.started_s, note.arrived_s) == (71, 1.0, 1.031)


def test_a_slide_over_several_frets_is_one_note_at_its_end():
    (note,) = heard([on(1.0, 69), on(1.04, 70), on(1.08, 71), on(1.12, 72), off(1.5, 72)]).notes
    assert (note.sounding, note.started_s, note.arrived_s) == (72, 1.0, 1.12)


def test_two_notes_on_a_string_75_ms_apart_are_two_notes():
    """Sixteenths at 200: as fast as anything written."""
    assert pitches([on(1.0, 69), on(1.075, 71), off(1.15, 71)]) == [69, 71]


def test_a_hammer_on_80_ms_after_is_left_to_the_judge():
    assert pitches([on(1.0, 69), on(1.08, 71), off(1.4, 71)]) == [69, 71]


def test_a_bend_that_comes_to_rest_within_200_ms_is_the_pitch_arrived_at():
    slide = [bend(1.0 + step / 100, SEMITONE * 2 * step // 10) for step in range(1, 10)]
    messages = [bend(0.99, 0), on(1.0, 69), *slide, bend(1.1, 8191), off(1.5, 69)]
    (note,) = heard(messages).notes
    assert (note.sounding, note.place, note.started_s) == (71, Place(1, 7), 1.0)
    assert note.arrived_s == pytest.approx(1.09, abs=0.02)


def test_a_bend_after_200_ms_is_expression_and_makes_no_note():
    assert pitches([on(1.0, 69), bend(1.25, 8191), off(1.6, 69)]) == [69]


def test_vibrato_of_half_a_semitone_makes_no_note():
    wobble = [bend(1.05 + 0.09 * step, SEMITONE // 2 * (step % 2)) for step in range(6)]
    assert pitches([on(1.0, 69), *wobble, off(1.7, 69)]) == [69]


def test_a_bend_of_a_known_range_is_measured_by_it():
    """RPN 0,0 and data entry: MIDI 1.0. A twelfth of a full bend of 12 is a semitone."""
    range_12 = [control(0.0, 101, 0), control(0.0, 100, 0), control(0.0, 6, 12)]
    messages = [*range_12, on(1.0, 69), bend(1.05, 8192 // 12), off(1.5, 69)]
    assert pitches(messages) == [70]


def test_an_arrival_by_bend_is_told_as_time_passes_while_the_note_still_sounds():
    _, state = events_of([on(1.0, 69), bend(1.05, SEMITONE)])
    assert pass_time(state, 1.06)[1] == ()
    (event,) = pass_time(state, 1.1)[1]
    assert isinstance(event, NoteRevised)
    assert (event.before.sounding, event.after.sounding) == (69, 70)


@pytest.mark.parametrize(
    ("dirt", "messages", "left"),
    [
        (Dirt.SOFT, [on(1.0, 69, velocity=4), off(1.3, 69)], []),
        (Dirt.SHORT, [on(1.0, 69), off(1.02, 69)], []),
        (Dirt.SHORT, [on(1.0, 69, velocity=20), off(1.07, 69)], []),
        (Dirt.SHORT, [on(1.0, 69, velocity=20), on(1.05, 72, velocity=90), off(1.4, 72)], [72]),
        (Dirt.DOUBLED, [on(1.0, 69), on(1.03, 69), off(1.4, 69)], [69]),
        (Dirt.FLICKER, [on(1.0, 69), on(1.2, 81), on(1.23, 69), off(1.5, 69)], [69]),
        (Dirt.FLICKER, [on(1.0, 69), off(1.2, 69), on(1.2, 81), off(1.25, 81)], [69]),
        (Dirt.FLICKER, [on(1.0, 69), off(1.2, 69), on(1.2, 81), off(1.24, 81), on(1.24, 69), off(1.5, 69)], [69]),
        (Dirt.CROSS_TALK, [on(1.0, 69), on(1.005, 69, velocity=40, channel=2), off(1.05, 69, channel=2)], [69]),
        (Dirt.CROSS_TALK, [on(1.0, 69, velocity=40, channel=2), on(1.005, 69), off(1.4, 69)], [69]),
    ],
)
def test_what_nobody_played_is_filtered_and_counted(dirt, messages, left):
    whole = heard(messages)
    assert [note.sounding for note in whole.notes] == left
    assert whole.dirt[dirt] >= 1


def test_the_louder_of_two_strings_in_cross_talk_stays():
    (note,) = heard([on(1.0, 69, velocity=40, channel=2), on(1.005, 69), off(1.4, 69)]).notes
    assert note.place == Place(1, 5)


def test_a_first_guess_an_octave_off_is_put_right_from_the_pluck_on_and_is_no_slide():
    (note,) = heard([on(1.0, 81), on(1.03, 69), off(1.4, 69)]).notes
    assert (note.sounding, note.started_s, note.arrived_s) == (69, 1.0, None)


def test_the_same_pitch_plucked_again_after_a_sixteenth_is_two_notes():
    assert pitches([on(1.0, 69), off(1.09, 69), on(1.1, 69), off(1.2, 69)]) == [69, 69]


def test_the_same_pitch_on_two_strings_half_a_beat_apart_is_two_notes():
    assert pitches([on(1.0, 69), on(1.25, 69, channel=2), off(1.5, 69, channel=2)]) == [69, 69]


def test_with_no_limits_everything_counts_as_it_came():
    setup = StringsSetup(limits=NO_LIMITS)
    messages = [on(1.0, 69, velocity=3), on(1.02, 81), on(1.03, 69), on(1.031, 69, channel=2), off(1.032, 69)]
    assert pitches(messages, setup) == [69, 81, 69, 69]


def test_a_limit_can_be_set():
    gentle = StringsSetup(limits=replace(USUAL_LIMITS, shortest_s=0.01))
    messages = [on(1.0, 69), off(1.02, 69)]
    assert pitches(messages) == []
    assert pitches(messages, gentle) == [69]


def test_all_notes_off_says_nothing_about_how_long_a_note_would_have_been():
    assert pitches([on(1.0, 69), control(1.01, 123, 0)]) == [69]


def test_a_note_under_the_pedal_sounds_until_the_pedal_comes_up():
    """Controller 64, 64 and more is down: MIDI 1.0."""
    _, under = events_of([control(0.9, 64, 127), on(1.0, 69), off(1.2, 69)])
    assert [note.sounding for note in sounding_notes(under)] == [69]
    _, after = events_of([control(0.9, 64, 127), on(1.0, 69), off(1.2, 69), control(1.5, 64, 0)])
    assert not sounding_notes(after)


def test_the_delay_of_the_pickup_is_taken_out_of_the_times_of_notes():
    """Two periods of E2 are 24.3 ms (Fonseca & Tavares 2020)."""
    setup = StringsSetup(delay=Delay())
    (note,) = heard([on(1.0, 40, channel=6), off(1.5, 40, channel=6)], setup).notes
    assert note.started_s == pytest.approx(1.0 - 0.0243, abs=0.00005)


def test_a_note_that_slides_off_the_neck_is_reported_there():
    events, _ = events_of([on(1.0, 86), on(1.04, 88)])
    assert events[-1].after.place is None
    assert events[-1].off_neck is not None


def test_mpe_is_recognised_by_its_parameter():
    """Registered parameter 6 on channel 1 with 15 member channels: MPE 1.0."""
    _, state = events_of([control(0.0, 101, 0), control(0.0, 100, 6), control(0.0, 6, 15)])
    assert state.is_mpe
    _, off_again = events_of([control(0.0, 101, 0), control(0.0, 100, 6), control(0.0, 6, 15), control(0.1, 6, 0)])
    assert not off_again.is_mpe
    assert not StringsState(StringsSetup()).is_mpe


def test_a_bend_that_goes_back_just_before_the_note_ends_leaves_the_slide_where_it_came_to():
    slide = [on(1.0, 60), bend(1.05, 8191), bend(1.138, 0), off(1.139, 60), on(1.143, 67), off(1.5, 67)]
    assert pitches(slide) == [62, 67]


def test_the_end_of_a_note_may_come_late_after_the_next_of_the_same_pitch():
    """Sixteen strokes a second, each told to end 25 ms after the next has begun."""
    strokes = [message for n in range(8) for message in (on(1 + n / 16, 64), off(1 + (n + 1) / 16 + 0.025, 64))]
    assert pitches(sorted(strokes, key=lambda one: one[0])) == [64] * 8


def test_a_short_note_of_the_same_pitch_in_the_middle_of_a_long_one_is_a_ghost():
    assert pitches([on(1.0, 64), on(1.7, 64, velocity=40), off(1.72, 64), off(2.0, 64)]) == [64]


def test_a_soft_hammer_on_may_begin_50_ms_before_the_first_note_is_told_to_end():
    assert pitches([on(1.0, 64), on(1.2, 66, velocity=28), off(1.25, 64), off(1.5, 66)]) == [64, 66]


def test_a_string_that_fades_and_is_heard_an_octave_off_for_a_moment_was_not_played():
    ends = [off(1.63, 76)], [on(1.61, 67), off(1.63, 76)]
    for end in ends:
        begins = [on(1.0, 64), off(1.5, 64), on(1.54, 76, velocity=70)]
        assert pitches([*begins, *end, off(2.0, 67)]) == [64, 67][: len(end)]


def test_an_octave_leapt_to_after_a_note_and_held_was_played():
    assert pitches([on(1.0, 64), off(1.13, 64), on(1.15, 76, velocity=70), off(1.28, 76)]) == [64, 76]


def test_a_repeat_that_is_first_guessed_an_octave_off_is_not_what_fades():
    repeat = [on(1.0, 64), off(1.5, 64), on(1.54, 76), off(1.63, 76), on(1.63, 64), off(2.0, 64)]
    assert [(note.sounding, note.started_s) for note in heard(repeat).notes] == [(64, 1.0), (64, 1.54)]


def test_with_wide_limits_an_end_that_comes_later_than_any_is_late_ends_a_short_note():
    """A repeat of 200 ms, of which the limits say that it is too short."""
    messages = [on(1.0, 64), on(1.3, 64), off(1.5, 64), on(2.0, 65), off(2.9, 65)]
    assert pitches(messages, StringsSetup(limits=Limits(shortest_s=0.3))) == [64, 65]
