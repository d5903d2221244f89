"""Where the bars of a played line begin."""

from fractions import Fraction

from game.music.barring import BarFrame
from game.music.keys import Key
from game.music.meter import Meter
from game.music.written import written_notes
from game.tunes.midi.pickup_bar import with_bar_lines_moved, without_leading_silence
from tests.tunes.made_midi import midi_score, row, steps
from tests.tunes.told import warnings_told


def test_a_first_bar_that_is_silent_for_half_or_more_is_a_pickup():
    """As notation programs write a pickup: rests before it."""
    score = midi_score(steps(1, *[1] * 8, start=3, first=48))
    assert [(bar.number, bar.length, bar.pickup) for bar in score.bars] == [
        ("0", 1, True), ("1", 4, False), ("2", 4, False),
    ]  # fmt: skip
    assert written_notes(score.bars, score.reading)[0].onset == 0


def test_bar_lines_that_every_long_note_crosses_are_moved_to_give_a_pickup():
    """A pickup at the very beginning, with no sign of it: whole notes would be tied over every bar line."""
    score = midi_score(steps(1, 4, 3, 1, 4, 3, 1, 4, 3, first=48))
    assert (score.bars[0].length, score.bars[0].pickup) == (1, True)
    assert not any(note.tied_to_next for bar in score.bars for note in bar.notes)
    assert "The bar lines were moved so that the tune begins with a pickup bar." in warnings_told(score)


def test_empty_bars_at_the_beginning_are_left_out_and_said():
    """A count-in."""
    score = midi_score(steps(1, 1, 1, 1, start=8, first=48))
    assert row(score) == "C4:1 D4:1 E4:1 F4:1"
    assert "2 empty bars at the beginning were left out." in warnings_told(score)


def four_four(count: int) -> list[BarFrame]:
    return [BarFrame(start=Fraction(4 * bar), length=Fraction(4), meter=Meter(), key=Key()) for bar in range(count)]


def test_a_bar_that_is_silent_for_less_than_half_stays_whole():
    frames, shift, said = without_leading_silence(four_four(2), Fraction(3, 2))
    assert (frames, shift, said) == (four_four(2), 0, [])


def test_the_last_bar_is_never_left_out():
    frames, shift, _ = without_leading_silence(four_four(2), Fraction(20))
    assert ([frame.start for frame in frames], shift) == ([0], 4)


def test_bar_lines_stay_where_metres_change_or_few_notes_cross_them():
    onsets = [Fraction(1 + 4 * bar) for bar in range(6)]
    ends = [onset + 4 for onset in onsets]
    assert with_bar_lines_moved(four_four(7), onsets, ends)[0].pickup
    changing = [*four_four(6), BarFrame(start=Fraction(24), length=Fraction(3), meter=Meter(3, 4), key=Key())]
    assert with_bar_lines_moved(changing, onsets, ends) == changing
    assert with_bar_lines_moved(four_four(3), onsets[:2], ends[:2]) == four_four(3)
