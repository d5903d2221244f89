"""Fresh lines: on the map, of the right length, spelled by the rules, harder from level to level."""

from itertools import pairwise
from random import Random
from statistics import mean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import TuneError
from game.lines.levels import LEVELS, Making, level_of
from game.lines.line import fresh_line
from game.lines.scale import key_named, scale_of
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Note
from game.music.written import written_notes
from game.neck.map import standard_map

MAP = standard_map()
KEYS = ("F", "Bb", "C", "G", "D", "Eb", "Dm", "Am", "Gm")
levels = st.sampled_from(LEVELS)
keys = st.sampled_from(KEYS)
seeds = st.integers(0, 2**31)


def line(level, key="F", seed=1, bars=8, **more):
    return fresh_line(level, MAP, key=key_named(key), bars=bars, rng=Random(seed), **more)


def notes_of(score):
    return written_notes(score.bars, score.reading)


@given(levels, keys, seeds, st.integers(2, 16))
def test_every_note_has_a_home_and_every_bar_its_length(level, key, seed, bars):
    made = line(level, key, seed, bars)
    assert len(made.bars) == bars
    assert all(MAP.home_of(note.sounding) for note in notes_of(made))
    for bar in made.bars:
        assert bar.length == bar.meter.bar_length
        onsets = [event.onset for event in bar.events]
        assert onsets == sorted(onsets)
        assert all(event.value.length == event.length for event in bar.events)


@given(levels, keys, seeds)
def test_no_e_sharp_or_c_flat_unless_the_key_asks_and_no_double_accidental(level, key, seed):
    """Spelling by key and direction (trade)."""
    for note in notes_of(line(level, key, seed)):
        strange = (note.pitch.step, note.pitch.alter) in {("E", 1), ("B", 1), ("C", -1), ("F", -1)}
        assert abs(note.pitch.alter) <= 1
        assert not strange or note.pitch.alter == note.signature


@given(st.sampled_from([level for level in LEVELS if level.making is Making.SCALE]), keys, seeds)
def test_lines_along_the_scale_end_on_the_key_note_and_keep_to_their_leaps(level, key, seed):
    made = line(level, key, seed)
    notes = notes_of(made)
    assert notes[-1].pitch.step == key[0]
    steps = [b.pitch.staff_step - a.pitch.staff_step for a, b in pairwise(notes)]
    assert all(abs(step) <= level.leap + 1 for step in steps)


@given(keys, seeds)
def test_five_notes_are_five_neighbouring_notes_of_the_key(key, seed):
    steps = {note.pitch.staff_step for note in notes_of(line(LEVELS[0], key, seed))}
    assert max(steps) - min(steps) <= 4
    assert all(note.pitch.alter == note.signature for note in notes_of(line(LEVELS[0], key, seed)))


@given(st.sampled_from([level for level in LEVELS if level.chromatic]), keys, seeds)
def test_an_accidental_resolves_by_step(level, key, seed):
    """To the line or space beside it, or within the two notes of an enclosure (trade)."""
    notes = notes_of(line(level, key, seed))
    for index, note in enumerate(notes[:-1]):
        leading = key.endswith("m") and note.pitch.alter - note.signature == 1
        if note.pitch.alter != note.signature and not leading:
            ahead = notes[index + 1 : index + 3]
            assert any(abs(after.sounding - note.sounding) <= 2 for after in ahead)


@given(keys, seeds)
def test_over_changes_every_strong_beat_is_a_chord_tone(key, seed):
    made = line(level_of(7), key, seed)
    for bar in made.bars:
        root = "CDEFGAB".index(bar.chords[0].root[0])
        letters = {"CDEFGAB"[(root + step) % 7] for step in (0, 2, 4, 6)}
        strong = [e for e in bar.events if isinstance(e, Note) and e.onset in (0, 2)]
        assert strong
        assert all(event.pitch.step in letters for event in strong)


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_seed_gives_the_same_line_and_hundred_seeds_a_hundred_lines(level):
    assert line(level, seed=5) == line(level, seed=5)
    lines = {tuple((n.onset, n.pitch) for n in notes_of(line(level, seed=seed))) for seed in range(100)}
    assert len(lines) == 100


def hardness(score):
    """A plain measure: interval sizes, accidentals and density together; ours."""
    notes = notes_of(score)
    leaps = mean(abs(b.sounding - a.sounding) for a, b in pairwise(notes))
    chromatic = mean(note.pitch.alter != note.signature for note in notes)
    return leaps + 12 * chromatic + 3 * len(notes) / (4 * len(score.bars))


def test_lines_get_harder_from_level_to_level():
    means = [mean(hardness(line(level, key, seed)) for seed in range(40) for key in ("F", "Bb")) for level in LEVELS]
    assert means == sorted(means)


def test_notes_that_weigh_more_come_up_more_often():
    heavy = pitch("A4").midi - 12
    plain = mean(sum(n.sounding == heavy for n in notes_of(line(LEVELS[2], seed=s))) for s in range(60))
    weighted = mean(
        sum(n.sounding == heavy for n in notes_of(line(LEVELS[2], seed=s, weights={heavy: 5.0}))) for s in range(60)
    )
    assert weighted > 1.5 * plain


def test_lines_may_be_in_three_four():
    assert all(bar.length == 3 for bar in line(LEVELS[3], meter=Meter(3, 4)).bars)


def test_a_chromatic_neighbour_is_spelled_by_where_it_goes():
    scale = scale_of(Key(0), MAP)
    assert scale.neighbour(pitch("G4"), above=False).name == "F#4"
    assert scale.neighbour(pitch("G4"), above=True).name == "Ab4"
    assert scale.neighbour(pitch("F4"), above=False).name == "E4"
    assert scale.neighbour(pitch("E4"), above=True).name == "F4"


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (lambda: level_of(9), "there is no level 9: choose 1"),
        (lambda: key_named("H"), "no key is called 'H'"),
        (lambda: line(LEVELS[0], bars=1), "a line of 1 bars cannot be made"),
        (lambda: line(LEVELS[0], bars=500), "choose 2 to 64"),
    ],
)
def test_what_cannot_be_is_refused_with_what_to_do(wrong, message):
    with pytest.raises(TuneError, match=message):
        wrong()
