"""A passage in another key, every interval kept."""

from dataclasses import replace
from fractions import Fraction
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from game.lines.siblings import transposed_sibling
from game.lines.transposing import Transposition, in_other_keys
from game.music.chords import ChordSymbol
from game.music.pitch import STEPS, Pitch, pitch
from game.neck.tuning import Place
from tests.lines.made_passages import TUNE, bar_of, names_of, passage_of, passages
from tests.lines.making import MAP, notes_of


def test_a_transposition_is_music21s_own():
    """music21 (PyPI) moves every note by the interval between the first ones and comes to the same spelling."""
    from music21.interval import Interval
    from music21.pitch import Pitch

    checked = 0
    for passage in passages():
        made = transposed_sibling(passage, MAP, Random(4))
        if made:
            checked += 1
            before = [Pitch(note.pitch.name.replace("b", "-")) for note in passage.notes]
            after = names_of(made)
            move = Interval(before[0], Pitch(after[0].replace("b", "-")))
            assert [note.transpose(move).nameWithOctave.replace("-", "b") for note in before] == after
    assert checked > len(passages()) / 2


def test_a_transposition_has_its_signature_its_chords_and_a_home_for_every_note():
    for seed, passage in enumerate(passages()):
        made = transposed_sibling(passage, MAP, Random(seed))
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
    made = transposed_sibling(passage_of(replace(TUNE.bars[0], chords=(chord,)), *TUNE.bars[1:]), MAP, Random(1))
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
    assert (
        transposed_sibling(passage_of(bar_of("Ab3 C#6", fifths=0), bar_of("C#6 Ab3", fifths=0)), MAP, Random(1)) is None
    )


def test_a_transposition_uses_no_outlying_home_that_was_not_used_before():
    wider = MAP.with_choice(Place(1, 12)).with_choice(Place(6, 1))
    assert [home.sounding for home in wider.homes if home.outlying] == [41, 76]
    for seed, passage in enumerate(passages()[:40]):
        made = transposed_sibling(passage, wider, Random(seed))
        assert made is None or not {41, 76} & {note.sounding for note in notes_of(made)}


pitches = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-1, 1), st.integers(2, 6))


@given(pitches, st.sampled_from([("P5", 4, 7, 1), ("M2", 1, 2, 2), ("m3", 2, 3, -3), ("-P4", -3, -5, 1)]))
def test_a_pitch_is_moved_as_music21_moves_it(written, interval):
    """music21 `Interval` as the reference; None where a triple accidental would be needed."""
    from music21.interval import Interval
    from music21.pitch import Pitch as Reference

    name, steps, semitones, fifths = interval
    reference = Reference(written.name.replace("b", "-")).transpose(Interval(name))
    moved = Transposition(steps, semitones, fifths).pitch(written)
    if moved is None:
        assert abs(reference.alter) > 2
    else:
        assert moved.name == reference.nameWithOctave.replace("-", "b")


def test_a_chord_that_would_need_a_double_accidental_has_no_name():
    fifth_up = Transposition(4, 7, 1)
    assert fifth_up.name("Bb") == "F"
    assert fifth_up.name("B") == "F#"
    assert fifth_up.name("B#") is None


def test_bars_are_offered_in_keys_of_at_most_four_signs_but_their_own():
    keys = [bars[0].key.fifths for bars in in_other_keys(TUNE.bars)]
    assert set(keys) == {-4, -3, -2, 0, 1, 2, 3, 4}
    assert all(
        abs(a.notes[0].pitch.midi - pitch("F4").midi) <= 9 for bars in in_other_keys(TUNE.bars) for a in bars[:1]
    )
