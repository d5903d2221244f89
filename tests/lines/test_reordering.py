"""The bars of a passage in another order, where a voice can sing from one to the next."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from random import Random

from game.lines.reordering import detached_bars, renumbered, reordered
from game.lines.siblings import reordered_sibling
from game.music.chords import ChordSymbol
from game.music.passage import Passage
from tests.lines.made_passages import TUNE, bar_of, passage_of, passages
from tests.lines.making import MAP, notes_of


def test_another_order_of_a_shipped_tune_has_the_same_notes_and_joins_of_a_sixth_at_most():
    found = 0
    for passage in passages():
        made = reordered_sibling(passage, MAP, Random(1))
        if made:
            found += 1
            before = Counter((note.pitch, note.length) for note in passage.notes)
            assert Counter((note.pitch, note.length) for note in notes_of(made)) == before
            for bar, after in pairwise(made.bars):
                if bar.notes and after.notes:
                    join = abs(after.notes[0].pitch.midi - bar.notes[-1].pitch.midi)
                    usual = bar.notes[-1].tied_to_next or (bar.pickup and after is made.bars[1])
                    assert usual or (join <= 9 and join != 6)
    assert found > len(passages()) / 2


def test_bars_that_could_only_be_joined_by_a_wide_leap_keep_their_order():
    wide = passage_of(bar_of("F4 C6"), bar_of("C6 Ab3"), bar_of("Bb3"))
    assert reordered_sibling(wide, MAP, Random(1)) is None


def test_bars_tied_together_stay_together_and_a_tie_from_before_is_cut():
    bars = (bar_of("~F4 G4"), bar_of("A4 Bb4~"), bar_of("~Bb4 A4"), bar_of("G4 A4"), bar_of("F4~"))
    passage = passage_of(*bars)
    for seed in range(8):
        made = reordered_sibling(passage, MAP, Random(seed))
        assert len(notes_of(made)) == len(passage.notes)
        for bar, after in pairwise(made.bars):
            assert bar.notes[-1].tied_to_next == after.notes[0].tied_from_previous
        assert not made.bars[-1].notes[-1].tied_to_next


def test_a_pickup_bar_stays_first():
    pickup = replace(bar_of("C4 C4 C4 C4"), length=Fraction(1), pickup=True, number="0")
    pickup = replace(pickup, events=pickup.events[:1])
    made = reordered_sibling(passage_of(pickup, *TUNE.bars), MAP, Random(2))
    assert made.bars[0].pickup
    assert [bar.number for bar in made.bars[:3]] == ["0", "1", "2"]


def test_a_bar_takes_the_chord_along_that_still_held():
    chord = ChordSymbol(onset=Fraction(2), root="Bb", kind="major", text="Bb")
    bars = (replace(TUNE.bars[0], chords=(chord,)), *TUNE.bars[1:])
    made = reordered_sibling(passage_of(*bars), MAP, Random(3))
    assert all([symbol.text for symbol in bar.chords] == ["Bb"] for bar in made.bars)
    assert sum(bar.chords[0].onset == 0 for bar in made.bars) == 4


def test_bars_of_different_keys_or_metres_keep_their_order():
    assert (
        reordered_sibling(passage_of(*TUNE.bars[:3], bar_of("G4 A4", fifths=1), TUNE.bars[-1]), MAP, Random(1)) is None
    )


def test_the_order_is_drawn_by_the_chance_passed_in():
    assert reordered(TUNE, Random(5)) == reordered(TUNE, Random(5))
    assert len({reordered(TUNE, Random(seed)) for seed in range(20)}) > 1


def test_bars_are_numbered_from_one_and_a_pickup_bar_is_0():
    assert [bar.number for bar in renumbered(TUNE.bars)] == ["1", "2", "3", "4", "5"]
    assert [bar.number for bar in renumbered((replace(TUNE.bars[0], pickup=True), *TUNE.bars[1:]))][:2] == ["0", "1"]


def test_a_passage_taken_out_of_its_tune_has_no_ties_to_it_and_the_chord_that_holds():
    chord = ChordSymbol(onset=Fraction(2), root="F", kind="major", text="F")
    tune = passage_of(replace(bar_of("F4 G4~"), chords=(chord,)), bar_of("~G4 A4"), bar_of("Bb4 C5~"), bar_of("~C5 F4"))
    first, last = detached_bars(Passage(score=tune.score, start=1, stop=3))
    assert not first.notes[0].tied_from_previous
    assert not last.notes[-1].tied_to_next
    assert [(symbol.text, symbol.onset) for symbol in (*first.chords, *last.chords)] == [("F", 0), ("F", 0)]
