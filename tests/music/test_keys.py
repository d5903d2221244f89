"""Key signatures and plain spellings."""

import pytest

from game.music.keys import ORDER_OF_SHARPS, Key, both_spellings, spelled
from game.music.pitch import STEPS


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_signatures_alter_the_same_steps_as_music21(fifths):
    """music21 `KeySignature` as the reference library."""
    from music21.key import KeySignature

    reference = {p.step: int(p.alter) for p in KeySignature(fifths).alteredPitches}
    assert {step: Key(fifths).alter_of(step) for step in STEPS if Key(fifths).alter_of(step)} == reference


def test_sharps_come_in_their_order_and_flats_in_the_reverse():
    """F C G D A E B (trade)."""
    for count in range(8):
        assert {s for s in STEPS if Key(count).alter_of(s) == 1} == set(ORDER_OF_SHARPS[:count])
        assert {s for s in STEPS if Key(-count).alter_of(s) == -1} == set(ORDER_OF_SHARPS[::-1][:count])


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_major_and_minor_keys_have_the_names_of_music21(fifths):
    from music21.key import KeySignature

    reference = KeySignature(fifths)
    assert Key(fifths).name == reference.asKey("major").tonic.name.replace("-", "b")
    assert Key(fifths, minor=True).name == reference.asKey("minor").tonic.name.replace("-", "b") + "m"


@pytest.mark.parametrize("fifths", range(-5, 6))
def test_scale_notes_are_spelled_as_the_scale_of_music21_spells_them(fifths):
    """Within five sharps or flats no scale asks for E sharp or C flat."""
    from music21.key import KeySignature

    for reference in KeySignature(fifths).getScale("major").getPitches("C4", "C6"):
        assert spelled(reference.midi, Key(fifths)).name == reference.nameWithOctave.replace("-", "b")


def test_in_c_major_the_common_accidentals_are_two_sharps_and_three_flats():
    """C sharp, E flat, F sharp, A flat, B flat (trade)."""
    names = [spelled(midi, Key(0)).name for midi in range(60, 72)]
    assert names == "C4 C#4 D4 Eb4 E4 F4 F#4 G4 Ab4 A4 Bb4 B4".split()


def test_a_signature_of_eight_sharps_is_refused():
    with pytest.raises(ValueError, match="at most seven"):
        Key(8)


def test_a_pitch_between_two_letters_has_two_plain_spellings():
    """The black keys of a keyboard, and no others (trade)."""
    both = [[spelling.name for spelling in both_spellings(midi)] for midi in range(60, 65)]
    assert both == [["C4"], ["C#4", "Db4"], ["D4"], ["D#4", "Eb4"], ["E4"]]
