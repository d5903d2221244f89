"""Bars by their printed numbers."""

from game.music.passage import passages_of
from game.screens.reading.bars_in_words import bar_of, bars_in_words
from tests.made import bar, score


def test_bars_are_called_by_their_printed_numbers_and_a_pickup_by_its_name():
    made = score(*["G4 w"] * 8)
    assert [bars_in_words(p) for p in passages_of(made)] == ["bars 1–4", "bars 5–8"]
    with_pickup = type(made)(title="t", reading=made.reading, bars=(bar("D4 q", number="0", pickup=True), *made.bars))
    assert bars_in_words(passages_of(with_pickup)[0]) == "bars 1–4 with the pickup"


def test_a_note_stands_in_a_bar_by_its_printed_number_or_in_the_pickup():
    made = score("G4 w", "A4 w")
    with_pickup = type(made)(title="t", reading=made.reading, bars=(bar("D4 q", number="0", pickup=True), *made.bars))
    (tune,) = passages_of(with_pickup)
    assert [bar_of(tune, note) for note in tune.notes] == ["the pickup bar", "bar 1", "bar 2"]
