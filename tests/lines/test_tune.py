"""Songs: they end at home, leap as their level allows, bring back what they began with, and start where songs start."""

from itertools import pairwise
from statistics import mean

import pytest

from game.lines.levels import LEVELS, LineMethod
from game.lines.tune import is_stuck
from game.music.meter import Meter
from game.music.score import Note
from tests.lines.making import line, many, notes_of, sample
from tests.made import score

SCALE_NUMBERS = [level.number for level in LEVELS if level.method is LineMethod.SCALE]


@pytest.mark.parametrize("number", SCALE_NUMBERS)
def test_songs_end_on_the_key_note(number):
    for key, _, made in sample(number):
        last = notes_of(made)[-1]
        assert last.pitch.step == key.name[0]
        assert last.pitch.alter == last.signature


@pytest.mark.parametrize("number", SCALE_NUMBERS)
def test_songs_keep_to_the_leaps_of_their_level_and_have_no_seventh_and_no_tritone(number):
    for _, _, made in sample(number):
        for before, after in pairwise(notes_of(made)):
            steps = abs(after.pitch.staff_step - before.pitch.staff_step)
            assert steps <= LEVELS[number - 1].leap
            assert steps != 6
            assert number == 5 or abs(after.sounding - before.sounding) != 6


def test_leaps_are_what_the_level_of_leaps_is_about_and_a_third_of_them_are_answered_by_a_step():
    """As in songs: .28 to .33 of them (measured in folk songs and lead sheets, see `content/lines`)."""
    leaps, answered = [], []
    for made in many(4):
        steps = [b.pitch.staff_step - a.pitch.staff_step for a, b in pairwise(notes_of(made))]
        leaps += [abs(step) > 2 for step in steps]
        answered += [abs(b) == 1 and a * b < 0 for a, b in pairwise(steps) if abs(a) > 2]
    assert 0.08 < mean(leaps) < 0.25
    assert 0.2 < mean(answered) < 0.5


def test_five_notes_are_five_neighbouring_notes_of_the_key():
    for _, _, made in sample(1):
        steps = {note.pitch.staff_step for note in notes_of(made)}
        assert max(steps) - min(steps) <= 4
        assert all(note.pitch.alter == note.signature for note in notes_of(made))


def test_lines_over_the_whole_map_come_to_its_ends():
    """Written A♭3 to C♯6 in position V (check values); in F the outermost notes are A3 and C6."""
    lines = (*many(3), *(line(LEVELS[2], seed=seed) for seed in range(1025, 1040)))
    names = {note.pitch.name for made in lines for note in notes_of(made)}
    assert {"A3", "C6"} <= names


def full_bars(made):
    return [bar.events for bar in made.bars if not bar.pickup]


@pytest.mark.parametrize("number", SCALE_NUMBERS)
def test_most_songs_bring_a_bar_back_note_for_note_and_more_its_rhythm(number):
    same = [len(set(full_bars(made))) < 8 for made in many(number)]
    rhythms = [
        len({tuple((event.onset, event.length) for event in bar) for bar in full_bars(made)}) < 8
        for made in many(number)
    ]
    assert mean(same) > 0.3
    assert mean(rhythms) > 0.9


@pytest.mark.parametrize("number", SCALE_NUMBERS)
def test_no_bar_of_a_song_is_silent_and_none_comes_three_times_running(number):
    for _, _, made in sample(number):
        bars = full_bars(made)
        assert all(any(isinstance(event, Note) for event in bar) for bar in bars)
        assert len(bars) < 8 or not any(a == b == c for a, b, c in zip(bars, bars[1:], bars[2:], strict=False))


def test_a_song_is_begun_again_where_a_bar_comes_three_times_or_a_note_six_times_running():
    again, drone = score("C5 q, D5 q, E5 h", "C5 q, D5 q, E5 h", "C5 q, D5 q, E5 h"), score("C5 h, C5 h", "C5 w")
    assert is_stuck(again.bars)
    assert is_stuck((*drone.bars, *drone.bars))
    assert not is_stuck(score("C5 q, D5 q, E5 h", "C5 q, D5 q, E5 h", "C5 h, D5 h").bars)


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_songs_without_ties_in_their_rhythm_have_none_over_a_bar_line(number):
    for _, _, made in sample(number):
        assert not any(bar.notes[0].tied_from_previous for bar in made.bars)


def test_a_song_of_a_level_holds_what_the_level_is_about():
    for made in many(4):
        pitches = [note.pitch for note in notes_of(made)]
        assert any(abs(after.staff_step - before.staff_step) > 2 for before, after in pairwise(pitches))
    assert all(any(note.pitch.alter != note.signature for note in notes_of(made)) for made in many(5))


def test_many_songs_begin_with_a_pickup_and_many_without():
    """As in the corpora: .51 of lead sheets, .82 of folk songs (see `content/lines`)."""
    assert 0.6 < mean(made.bars[0].pickup for number in SCALE_NUMBERS for made in many(number)) < 0.9


def test_songs_in_six_eight_have_pickups_of_an_eighth_and_two_beats_a_bar():
    songs = [line(LEVELS[2], "G", seed, meter=Meter(6, 8)) for seed in range(30)]
    assert any(made.bars[0].pickup and made.bars[0].length == 0.5 for made in songs)
    assert all(len(chords) == 1 for made in songs for bar in made.bars if (chords := bar.chords))
