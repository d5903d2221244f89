"""Siblings of a passage: the same notes in another order or key, or a line of its kind; never the passage itself."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from random import Random

import pytest

from game.errors import TuneError
from game.lines.fingerprint import fingerprints
from game.lines.levels import LEVELS
from game.lines.likeness import level_like, rhythm_like
from game.lines.siblings import SiblingWay, of_another_key, of_another_order, of_its_kind, sibling
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.passage import Passage, passages_of, whole_tune
from game.music.pitch import pitch
from game.music.score import Bar, Note, NoteValue, Reading, Score
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.tunes.library.library import open_entry, shipped_entries
from tests.lines.making import MAP, line, notes_of
from tests.refusing import refusal


def bar_of(names, fifths=-1, chords=(), **more):
    """A bar of 4/4 in equal notes; "~C4" comes from a tie, "C4~" goes into one."""
    length = Fraction(4, len(names.split()))
    events = tuple(
        Note(
            onset=index * length,
            length=length,
            value=NoteValue(base=length),
            pitch=pitch(name.strip("~")),
            tied_from_previous=name.startswith("~"),
            tied_to_next=name.endswith("~"),
        )
        for index, name in enumerate(names.split())
    )
    return Bar(number="7", meter=Meter(), key=Key(fifths), length=Fraction(4), events=events, chords=chords, **more)


def passage_of(*bars, **more):
    return whole_tune(Score(title="Evening", reading=Reading.GUITAR, bars=bars, **more))


TUNE = passage_of(
    bar_of("F4 G4 A4 F4"), bar_of("Bb4 A4 G4 F4"), bar_of("C5 Bb4 A4 G4"), bar_of("A4 Bb4 C5 A4"), bar_of("G4 F4")
)  # fmt: skip


@cache
def passages():
    """A passage or two of every other shipped tune and of a line of each level."""
    scores = [written_out(open_entry(entry)) for entry in shipped_entries()[::2]]
    scores += [line(level, seed=level.number) for level in LEVELS]
    return tuple(passage for score in scores for passage in passages_of(score)[:2])


def names_of(score):
    return [note.pitch.name for note in notes_of(score)]


def test_another_order_has_the_same_notes_and_the_same_last_bar():
    made = of_another_order(TUNE, MAP, Random(3))
    assert Counter(bar.notes for bar in made.bars) == Counter(bar.notes for bar in TUNE.bars)
    assert made.bars[-1].notes == TUNE.bars[-1].notes
    assert [bar.notes for bar in made.bars] != [bar.notes for bar in TUNE.bars]
    assert [bar.number for bar in made.bars] == ["1", "2", "3", "4", "5"]
    assert (made.title, made.composer) == ("Sibling of Evening: bars in another order", "Reordered")


def test_another_order_of_a_shipped_tune_has_the_same_notes_and_joins_of_a_sixth_at_most():
    found = 0
    for passage in passages():
        made = of_another_order(passage, MAP, Random(1))
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
    assert of_another_order(wide, MAP, Random(1)) is None


def test_bars_tied_together_stay_together_and_a_tie_from_before_is_cut():
    bars = (bar_of("~F4 G4"), bar_of("A4 Bb4~"), bar_of("~Bb4 A4"), bar_of("G4 A4"), bar_of("F4~"))
    passage = passage_of(*bars)
    for seed in range(8):
        made = of_another_order(passage, MAP, Random(seed))
        assert len(notes_of(made)) == len(passage.notes)
        for bar, after in pairwise(made.bars):
            assert bar.notes[-1].tied_to_next == after.notes[0].tied_from_previous
        assert not made.bars[-1].notes[-1].tied_to_next


def test_a_pickup_bar_stays_first():
    pickup = replace(bar_of("C4 C4 C4 C4"), length=Fraction(1), pickup=True, number="0")
    pickup = replace(pickup, events=pickup.events[:1])
    made = of_another_order(passage_of(pickup, *TUNE.bars), MAP, Random(2))
    assert made.bars[0].pickup
    assert [bar.number for bar in made.bars[:3]] == ["0", "1", "2"]


def test_a_bar_takes_the_chord_along_that_still_held():
    chord = ChordSymbol(onset=Fraction(2), root="Bb", kind="major", text="Bb")
    bars = (replace(TUNE.bars[0], chords=(chord,)), *TUNE.bars[1:])
    made = of_another_order(passage_of(*bars), MAP, Random(3))
    assert all([symbol.text for symbol in bar.chords] == ["Bb"] for bar in made.bars)
    assert sum(bar.chords[0].onset == 0 for bar in made.bars) == 4


def test_bars_of_different_keys_or_metres_keep_their_order():
    assert (
        of_another_order(passage_of(*TUNE.bars[:3], bar_of("G4 A4", fifths=1), TUNE.bars[-1]), MAP, Random(1)) is None
    )


def test_a_transposition_is_music21s_own():
    """music21 (PyPI) moves every note by the interval between the first ones and comes to the same spelling."""
    from music21.interval import Interval
    from music21.pitch import Pitch

    checked = 0
    for passage in passages():
        made = of_another_key(passage, MAP, Random(4))
        if made:
            checked += 1
            before = [Pitch(note.pitch.name.replace("b", "-")) for note in passage.notes]
            after = names_of(made)
            move = Interval(before[0], Pitch(after[0].replace("b", "-")))
            assert [note.transpose(move).nameWithOctave.replace("-", "b") for note in before] == after
    assert checked > len(passages()) / 2


def test_a_transposition_has_its_signature_its_chords_and_a_home_for_every_note():
    for seed, passage in enumerate(passages()):
        made = of_another_key(passage, MAP, Random(seed))
        if made:
            assert made.bars[0].key.fifths != passage.bars[0].key.fifths
            assert all(MAP.home_of(note.sounding) for note in notes_of(made))
            # What left the signature before leaves it now, by as much.
            assert [note.pitch.alter - note.signature for note in notes_of(made)] == [
                note.pitch.alter - note.signature for note in passage.notes
            ]
            assert [note.onset for note in notes_of(made)] == [note.onset for note in passage.notes]


def test_chords_are_transposed_with_their_bass():
    chord = ChordSymbol(onset=Fraction(0), root="Bb", kind="dominant", text="Bb7/D", bass="D")
    made = of_another_key(passage_of(replace(TUNE.bars[0], chords=(chord,)), *TUNE.bars[1:]), MAP, Random(1))
    key, moved = made.bars[0].key.name, made.bars[0].chords[0]
    expected = {
        "C": "F7/A",
        "G": "C7/E",
        "D": "G7/B",
        "Bb": "Eb7/G",
        "Eb": "Ab7/C",
        "Ab": "Db7/F",
        "A": "D7/F#",
        "E": "A7/C#",
    }
    assert moved.text == expected[key]
    assert (moved.root, moved.bass) == tuple(expected[key].replace("7", "").split("/"))
    assert made.title == f"Sibling of Evening: transposed to {key}"


def test_a_passage_as_wide_as_the_map_is_not_transposed():
    assert of_another_key(passage_of(bar_of("Ab3 C#6", fifths=0), bar_of("C#6 Ab3", fifths=0)), MAP, Random(1)) is None


def test_a_transposition_uses_no_outlying_home_that_was_not_used_before():
    wider = MAP.with_choice(Place(1, 12)).with_choice(Place(6, 1))
    assert [home.sounding for home in wider.homes if home.outlying] == [41, 76]
    for seed, passage in enumerate(passages()[:40]):
        made = of_another_key(passage, wider, Random(seed))
        assert made is None or not {41, 76} & {note.sounding for note in notes_of(made)}


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_line_is_found_to_be_of_its_own_level_or_one_beside_it(level):
    lines = [whole_tune(line(level, seed=seed)) for seed in range(20)]
    assert sum(abs(level_like(passage).number - level.number) <= 1 for passage in lines) >= 18
    rhythms = [rhythm_like(passage, Meter()) for passage in lines]
    assert all(rhythm <= level.rhythm for rhythm in rhythms)
    assert sum(rhythm >= level.rhythm - 2 for rhythm in rhythms) >= 16


def test_a_line_of_its_kind_keeps_key_metre_and_length():
    waltz = whole_tune(line(LEVELS[3], "Dm", 4, meter=Meter(3, 4), bars=6))
    made = of_its_kind(waltz, MAP, Random(1))
    assert (len(made.bars), made.bars[0].meter, made.bars[0].key) == (6, Meter(3, 4), Key(-1, minor=True))
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
