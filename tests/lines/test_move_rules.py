"""Which move may follow which."""

from dataclasses import replace

from game.lines.degree_chords import DOMINANT, MAJOR_SIXTH, Degree, chord_on_degree, scale_over
from game.lines.footing import Footing, colours_of, tones_in
from game.lines.move_rules import Owed
from tests.lines.test_walk import EVEN, MIDIS, F, rules

SOLO = replace(rules(), widest=None)


def over(degree, quality, ticks=6):
    chord = chord_on_degree(F.key, Degree(degree, quality))
    return Footing(
        dict.fromkeys(range(60, 85), 1.0),
        "off",
        over=scale_over(F, chord),
        ticks=ticks,
        colours=colours_of(F, chord),
        tones=tones_in(chord),
    )


TONIC = [over(1, MAJOR_SIXTH)] * 4
FIFTH = [over(5, DOMINANT)] * 4
A4, B4, C5, DB5, D5, E5 = 69, 71, 72, 73, 74, 76


def test_a_note_outside_the_scale_owes_a_way_on_and_pays_it_by_step():
    allowed, owed = SOLO.allows(TONIC, 0, B4, A4, None)
    assert (allowed, owed) == (True, Owed(B4))
    assert SOLO.allows(TONIC, 1, C5, B4, owed) == (True, None)
    assert not SOLO.allows(TONIC, 1, E5, B4, owed)[0]


def test_or_after_the_note_on_the_other_side_of_its_goal():
    _, owed = SOLO.allows(TONIC, 0, B4, A4, None)
    allowed, owed = SOLO.allows(TONIC, 1, D5, B4, owed)
    assert (allowed, owed) == (True, Owed(B4, C5))
    assert SOLO.allows(TONIC, 2, C5, D5, owed) == (True, None)
    assert not SOLO.allows(TONIC, 2, E5, D5, owed)[0]


def test_what_colours_a_dominant_may_go_to_any_chord_tone_close_by():
    _, owed = SOLO.allows(FIFTH, 0, DB5, C5, None)
    assert owed == Owed(DB5, colour=True)
    assert SOLO.allows(FIFTH, 1, E5, DB5, owed) == (True, None)


def test_no_note_outside_the_scale_is_held_or_stands_before_silence_or_at_the_end():
    held = [over(1, MAJOR_SIXTH, ticks=24), *TONIC[1:]]
    assert not SOLO.allows(held, 0, B4, A4, None)[0]
    silent = [TONIC[0], replace(TONIC[1], after_gap=True)]
    assert not SOLO.allows(silent, 0, B4, A4, None)[0]
    assert not SOLO.allows(TONIC, 3, B4, A4, None)[0]


def test_songs_move_within_their_widest_and_never_by_a_seventh_or_a_tritone():
    wide = rules(7)
    assert wide.reaches(65, 77), "an octave"
    assert not wide.reaches(65, 76), "a seventh"
    assert not wide.reaches(70, 76), "a tritone"
    assert not rules(2).reaches(65, 70)


def test_the_same_finger_on_another_string_within_an_eighth_is_rarer():
    fingers = {midi: (0, midi % 3 + 1) for midi in MIDIS}
    hand = replace(rules(4), fingers=fingers)
    quick, slow = (Footing(EVEN, "beat", quick=quick) for quick in (True, False))
    assert hand.hand(slow, 65, 67) == 1.0
    assert hand.hand(quick, 65, 67) < 0.6
    assert hand.hand(quick, 65, 65) == 1.0


def test_the_same_note_three_times_running_seldom_comes_a_fourth_time():
    footing = Footing(EVEN, "beat")
    odds = [rules().onward(footing, [67, *[69] * times]) for times in (2, 3)]
    again = [row[69] / sum(row.values()) for row in odds]
    assert again[1] < 0.4 * again[0]
