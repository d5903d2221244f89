"""Lines over changes: chord tones by level, approaches that arrive, phrases that begin and end anywhere."""

from itertools import pairwise
from statistics import mean

import pytest

from game.lines.levels import LEVELS
from game.music.meter import Meter
from game.music.score import Note, Rest
from tests.lines.making import line, many, notes_of, sample, tones_of

NUMBERS = (6, 7, 8)


def beat_tones(number, beats):
    """Whether each note struck on one of the beats is a chord tone, over the lines of a level."""
    for made in many(number):
        for bar in made.bars:
            for event in bar.events:
                if isinstance(event, Note) and event.onset in beats and not event.tied_from_previous and not bar.pickup:
                    chord = [symbol for symbol in bar.chords if symbol.onset <= event.onset][-1]
                    yield (event.pitch.step, event.pitch.alter) in set(tones_of(chord))


@pytest.mark.parametrize(("number", "least", "most"), [(6, 0.78, 0.92), (7, 0.66, 0.82), (8, 0.56, 0.72)])
def test_strong_beats_have_chord_tones_fewer_from_level_to_level(number, least, most):
    assert least < mean(beat_tones(number, (0, 2))) < most


def test_chromatic_notes_become_more_from_level_to_level():
    outside = [
        mean(n.pitch.alter != n.signature for made in many(number) for n in notes_of(made)) for number in NUMBERS
    ]
    assert outside[0] < outside[1] < outside[2]
    assert 0.13 < outside[2] < 0.3


@pytest.mark.parametrize("number", NUMBERS)
def test_few_notes_come_twice_running_and_no_move_is_wider_than_an_octave(number):
    moves = [
        abs(after.sounding - before.sounding)
        for made in (*many(number), *(made for _, _, made in sample(number)))
        for before, after in pairwise(notes_of(made))
    ]
    assert mean(move == 0 for move in moves) < 0.12
    assert max(moves) <= 12


def test_hardly_a_line_strikes_a_note_six_times_running():
    rows = [[note.sounding for note in notes_of(made)] for number in NUMBERS for made in many(number)]
    drones = [any(len(set(row[at : at + 6])) == 1 for at in range(len(row) - 5)) for row in rows]
    assert mean(drones) < 0.03


@pytest.mark.parametrize("number", NUMBERS)
def test_no_phrase_goes_on_for_more_than_six_bars_without_a_breath(number):
    for made in many(number):
        onsets = [note.onset for note in notes_of(made)]
        begun = 0
        for before, onset in pairwise(onsets):
            begun = onset if onset - before >= 2 else begun
            assert onset - begun <= 6.5 * 4


def test_phrases_begin_and_end_anywhere_in_the_bar():
    """Of those after two beats and more; in solos .05 to .13 begin on the downbeat and half end off the beat."""
    starts, ends = [], []
    for made in many(8):
        lead = made.bars[0].length if made.bars[0].pickup else 0
        onsets = [note.onset - lead for note in notes_of(made)]
        starts += [after % 4 == 0 for before, after in pairwise(onsets) if after - before >= 2]
        ends += [before % 1 != 0 for before, after in pairwise(onsets) if after - before >= 2]
    assert mean(starts) < 0.25
    assert 0.3 < mean(ends) < 0.7


@pytest.mark.parametrize("number", NUMBERS)
def test_the_last_note_belongs_to_the_last_chord_or_is_its_ninth(number):
    for _, _, made in sample(number):
        last = notes_of(made)[-1].pitch
        chord = made.bars[-1].chords[-1]
        ninth = "CDEFGAB"["CDEFGAB".index(chord.root[0]) - 6]
        assert (last.step, last.alter) in list(tones_of(chord)) or last.step == ninth


def test_a_waltz_has_its_chords_on_one_and_three():
    for seed in range(20):
        made = line(LEVELS[6], "Bb", seed, meter=Meter(3, 4))
        assert {chord.onset for bar in made.bars for chord in bar.chords} <= {0, 2}


def test_lines_over_changes_move_in_eighths_and_breathe():
    for number in (6, 7):
        lengths = [note.length for made in many(number) for note in notes_of(made)]
        assert mean(length == 0.5 for length in lengths) > 0.5
        assert all(any(isinstance(e, Rest) for bar in made.bars for e in bar.events) for made in many(number)[:20])
    assert mean(len(notes_of(made)) for made in many(8)) > mean(len(notes_of(made)) for made in many(7))


@pytest.mark.parametrize("number", NUMBERS)
def test_figures_come_back(number):
    """Of three intervals in a row .17 to .25 come again within eight bars, as in solos."""
    shares = []
    for made in many(number):
        moves = [b.sounding - a.sounding for a, b in pairwise(notes_of(made))]
        threes = list(zip(moves, moves[1:], moves[2:], strict=False))
        shares.append(mean(threes.count(three) > 1 for three in threes))
    assert 0.13 < mean(shares) < 0.3
