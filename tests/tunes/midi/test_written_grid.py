"""Lines that were written, not played: exported by a notation program, every onset on its tick."""

import random
from fractions import Fraction

import pytest

from game.tunes.midi.written_grid import written_ends, written_onsets
from tests.tunes.made_midi import jittered, midi_score, row, steps
from tests.tunes.told import warnings_told

THIRD, SIXTH, EIGHTH = Fraction(1, 3), Fraction(1, 6), Fraction(1, 8)


def starts(*lengths) -> list[float]:
    return [float(onset) for onset, _, _ in steps(*lengths, start=Fraction(0))]


@pytest.mark.parametrize("ticks", [96, 192, 480, 960, 1024])
@pytest.mark.parametrize(
    "lengths", [[EIGHTH] * 16, [THIRD] * 12, [SIXTH] * 18, [THIRD] * 6 + [EIGHTH] * 16, [Fraction(1, 4)] * 20]
)
def test_onsets_on_a_grid_are_exact_also_where_the_ticks_only_come_near(lengths, ticks):
    onsets = [round(start * ticks) / ticks for start in starts(*lengths)]
    assert written_onsets(onsets, ticks) == tuple(onset for onset, _, _ in steps(*lengths, start=Fraction(0)))


def test_a_tick_beside_the_grid_is_on_it_and_one_played_onset_makes_all_of_them_played():
    onsets = [start + 1 / 480 for start in starts(*[EIGHTH] * 16)]
    assert written_onsets(onsets, 480) == tuple(EIGHTH * index for index in range(16))
    assert written_onsets([*onsets, 2.43], 480) is None


def test_what_may_lie_there_by_chance_is_none():
    """Three notes of a player; a file of twelve ticks a quarter, where everything lies on the grid."""
    assert written_onsets([0.0, 1.0, 2.0], 480) is None
    assert written_onsets(starts(*[THIRD] * 30), 12) is None


@pytest.mark.parametrize("seed", range(20))
def test_what_a_person_plays_is_never_taken_as_written(seed):
    """Straight quarters and eighths at 100, within 20 ms and within 5 ms."""
    rng = random.Random(seed)
    for most_ms in (20, 5):
        notes = jittered(steps(*[rng.choice([1, 0.5]) for _ in range(24)]), rng, most_ms=most_ms)
        played = [round(start * 480) / 480 for start, _, _ in notes]
        assert written_onsets(played, 480) is None


def test_ends_are_exact_where_few_notes_end_short_of_the_next():
    onsets = [Fraction(index) for index in range(8)]
    held = [index + 1.0 for index in range(8)]
    assert written_ends(onsets, [0.75, *held[1:]], 480) == [Fraction(3, 4), *range(2, 9)]
    assert written_ends(onsets, [index + 0.75 for index in range(8)], 480) is None
    assert written_ends(onsets, [0.77, *held[1:]], 480) is None
    assert written_ends(onsets, [4.0, *held[1:]], 480) == list(range(1, 9))


def test_thirty_seconds_stay_what_they_are():
    """As a bar of them is exported; read as played they came near sixths."""
    score = midi_score(steps(1, *[EIGHTH] * 16, 1, first=48))
    assert row(score).split()[1:4] == ["D4:1/8", "E4:1/8", "F4:1/8"]
    assert all(note.length in {1, EIGHTH} for note in score.bars[0].notes)


def test_triplets_over_two_beats_are_quarters_and_not_cut_at_the_beat():
    score = midi_score(steps(1, 1, *[2 * THIRD] * 3, 0.5, THIRD, THIRD, THIRD, 0.5, 0.5, 1.5, first=48))
    assert row(score) == "C4:1 D4:1 E4:2/3 F4:2/3 G4:2/3 | A4:1/2 B4:1/3 C4:1/3 D4:1/3 E4:1/2 F4:1/2 G4:3/2"
    first, second = score.bars
    assert [(note.value.tuplet.starts, note.value.tuplet.stops) for note in first.notes[2:]] == [
        (True, False), (False, False), (False, True),
    ]  # fmt: skip
    assert {note.value.base for note in first.notes[2:]} == {1}
    assert not any(note.tied_to_next for note in (*first.notes, *second.notes))


def test_short_rests_that_are_written_stay_rests():
    notes = [(index, 1, 48) for index in range(7)] + [(7, 0.75, 50), (8, 1, 52)]
    assert row(midi_score(notes)).endswith("C4:1 C4:1 D4:3/4 z1/4 | E4:1 z3")


def test_swing_that_a_program_exports_is_still_written_straight():
    score = midi_score(steps(*[2 * THIRD, THIRD] * 12, first=48))
    assert (score.swung, {note.length for bar in score.bars for note in bar.notes}) == (True, {Fraction(1, 2)})
    assert "The eighths are swung, about 2.0 to 1: they are written straight." in warnings_told(score)


def test_a_run_faster_than_any_chord_is_spread_stays_a_run():
    """Sixty-fourths, a sixteenth of a quarter apart: nearer to one another than a player's fingers on a chord."""
    score = midi_score(steps(1, 1, 1, *[Fraction(1, 16)] * 16, first=48))
    assert len(score.bars[0].notes) == 19
