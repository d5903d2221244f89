"""Siblings of a passage: the same notes in another order or key, or a line of its kind; never the passage itself."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from random import Random

from game.errors import TuneError
from game.lines.fingerprint import fingerprints
from game.lines.levels import LEVELS
from game.lines.siblings import SiblingWay, fresh_sibling, reordered_sibling, sibling
from game.music.keys import Key
from game.music.meter import Meter
from game.music.passage import Passage, whole_tune
from game.music.score import Reading
from game.neck.neck_map import standard_map
from tests.lines.made_passages import TUNE, bar_of, passage_of, passages
from tests.lines.making import MAP, line, notes_of
from tests.refusing import refusal


def test_another_order_has_the_same_notes_and_the_same_last_bar():
    made = reordered_sibling(TUNE, MAP, Random(3))
    assert Counter(bar.notes for bar in made.bars) == Counter(bar.notes for bar in TUNE.bars)
    assert made.bars[-1].notes == TUNE.bars[-1].notes
    assert [bar.notes for bar in made.bars] != [bar.notes for bar in TUNE.bars]
    assert [bar.number for bar in made.bars] == ["1", "2", "3", "4", "5"]
    assert (made.title, made.composer) == ("Sibling of Evening: bars in another order", "Reordered")


def test_a_line_of_its_kind_keeps_key_metre_and_length():
    waltz = whole_tune(line(LEVELS[3], "Dm", 4, meter=Meter(3, 4), bars=6))
    made = fresh_sibling(waltz, MAP, Random(1))
    full = [bar for bar in made.bars if not bar.pickup]
    assert (len(full), full[0].meter, full[0].key) == (6, Meter(3, 4), Key(-1, minor=True))
    assert made.title.endswith(": a fresh line of its kind")


def test_ways_take_turns_from_seed_to_seed():
    assert [SiblingWay(sibling(TUNE, MAP, seed=seed).composer) for seed in range(6)] == [*SiblingWay, *SiblingWay]
    assert sibling(TUNE, MAP, seed=2) == sibling(TUNE, MAP, seed=2)


def test_where_one_way_is_closed_the_next_is_taken():
    two = passage_of(bar_of("F4 G4 A4 F4"), bar_of("G4 F4"))
    assert SiblingWay(sibling(two, MAP, seed=0).composer) is SiblingWay.TRANSPOSED


def test_no_sibling_is_the_passage_itself_nor_one_that_was_seen():
    seen = set()
    for passage in passages()[::3]:
        for seed in range(3):
            made = sibling(passage, MAP, seed=seed, seen=seen)
            assert [bar.events for bar in made.bars] != [bar.events for bar in passage.bars]
            assert not seen & fingerprints(made)
            seen |= fingerprints(made)


def test_a_passage_without_a_sibling_says_so():
    odd = replace(bar_of("Ab3 C#6", fifths=0), meter=Meter(5, 4), length=Fraction(5))
    with refusal(TuneError, "Evening has no sibling on this map: choose another passage or map"):
        sibling(passage_of(odd), MAP, seed=0)


def test_a_sibling_is_read_at_the_octave_of_its_passage():
    concert = standard_map(reading=Reading.CONCERT)
    made = sibling(TUNE, concert, seed=2)
    assert made.reading is Reading.GUITAR
    assert all(MAP.home_of(note.sounding) for note in notes_of(made))


def test_part_of_a_tune_has_siblings_of_its_own():
    part = Passage(score=TUNE.score, start=1, stop=4)
    assert len(sibling(part, MAP, seed=0).bars) == 3
