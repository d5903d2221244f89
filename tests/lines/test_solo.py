"""Lines over changes: chord tones on strong beats, approach notes and enclosures, phrases that stop."""

from itertools import pairwise
from statistics import mean

import pytest

from game.lines.levels import LEVELS
from game.music.meter import Meter
from game.music.score import Note, Rest
from tests.lines.making import line, many, notes_of, sample, tones_of

NUMBERS = (6, 7, 8)


def strong_notes(made):
    """Each note struck on beat 1 or 3 with its place in the line and the chord it stands over."""
    notes = {(note.heads[0].bar, note.heads[0].event): place for place, note in enumerate(notes_of(made))}
    for index, bar in enumerate(made.bars):
        for event_index, event in enumerate(bar.events):
            if isinstance(event, Note) and event.onset in (0, 2) and not event.tied_from_previous:
                chord = [symbol for symbol in bar.chords if symbol.onset <= event.onset][-1]
                yield notes[index, event_index], event.pitch, set(tones_of(chord))


def is_tone(pitch, tones):
    return (pitch.step, pitch.alter) in tones


@pytest.mark.parametrize("key", ["F", "Gm"])
def test_at_the_first_level_over_changes_every_strong_beat_is_a_chord_tone(key):
    for made in many(6, key):
        assert all(is_tone(pitch, tones) for _, pitch, tones in strong_notes(made))


@pytest.mark.parametrize("number", [7, 8])
def test_a_strong_beat_without_a_chord_tone_has_an_approach_note_that_goes_on_to_one_by_step(number):
    late = 0
    for made in many(number):
        notes = notes_of(made)
        for place, pitch, tones in strong_notes(made):
            if not is_tone(pitch, tones):
                late += 1
                goal = notes[place + 1].pitch
                assert abs(goal.midi - pitch.midi) <= 2
                assert is_tone(goal, tones)
    assert late > 20


def enclosed(made):
    """For each strong chord tone whether the two notes before lie on both sides of it, a whole tone away at most."""
    notes = notes_of(made)
    for place, pitch, tones in strong_notes(made):
        if place >= 2 and is_tone(pitch, tones):
            moves = [before.sounding - notes[place].sounding for before in notes[place - 2 : place]]
            yield moves[0] * moves[1] < 0 and max(abs(move) for move in moves) <= 2


def test_enclosures_and_chromatic_notes_become_more_from_level_to_level():
    share = [mean(found for made in many(number) for found in enclosed(made)) for number in NUMBERS]
    assert 1.2 * share[0] < min(share[1:])
    outside = [
        mean(n.pitch.alter != n.signature for made in many(number) for n in notes_of(made)) for number in NUMBERS
    ]
    assert outside[0] < outside[1] < outside[2]
    assert 0.15 < outside[2] < 0.3


@pytest.mark.parametrize("number", NUMBERS)
def test_no_note_comes_twice_running_and_no_leap_is_wider_than_an_octave(number):
    for _, _, made in sample(number):
        for before, after in pairwise(notes_of(made)):
            gap = after.onset - before.onset - before.length
            assert gap > 0 or before.sounding != after.sounding
            assert abs(after.sounding - before.sounding) <= 14


@pytest.mark.parametrize("number", NUMBERS)
def test_phrases_of_four_bars_come_to_a_stop(number):
    """The bar that ends the first phrase holds a rest or a long note, the last one a note of two beats or a rest."""
    for made in many(number):
        for bar in (made.bars[3], made.bars[-1]):
            assert any(isinstance(event, Rest) or event.length >= 2 for event in bar.events)


@pytest.mark.parametrize("number", NUMBERS)
def test_the_last_note_is_root_third_or_fifth(number):
    for _, _, made in sample(number):
        last = notes_of(made)[-1].pitch
        assert (last.step, last.alter) in list(tones_of(made.bars[-1].chords[-1]))[:3]


def test_a_waltz_has_its_chords_on_one_and_three():
    for seed in range(20):
        made = line(LEVELS[6], "Bb", seed, meter=Meter(3, 4))
        assert {chord.onset for bar in made.bars for chord in bar.chords} <= {0, 2}


def test_lines_over_changes_move_in_eighths():
    for number in (6, 7):
        lengths = [note.length for made in many(number) for note in notes_of(made)]
        assert mean(length == 0.5 for length in lengths) > 0.75
    assert mean(len(notes_of(made)) for made in many(8)) > mean(len(notes_of(made)) for made in many(7))
