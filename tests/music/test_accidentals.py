"""Which accidentals the page shows. The rules are common practice (trade)."""

from hypothesis import given
from hypothesis import strategies as st

from game.music.accidentals import AlteredBy, shown_accidentals
from game.music.pitch import STEPS
from tests.made import bar, score


def signs(*rows, key=0):
    """The sign shown at each event, bar by bar."""
    return [[event.sign for event in row] for row in shown_accidentals(score(*rows, key=key).bars)]


def test_an_accidental_holds_until_the_bar_line():
    assert signs("F#4 q, F#4 q, F#4 h") == [[1, None, None]]


def test_an_accidental_is_taken_back_by_a_natural():
    assert signs("F#4 q, F4 q, F4 h") == [[1, 0, None]]


def test_an_accidental_holds_in_its_own_octave_only():
    assert signs("F#4 q, F#5 q, F5 h") == [[1, 1, 0]]


def test_after_the_bar_line_a_courtesy_sign_tells_that_the_signature_is_back():
    first, second = shown_accidentals(score("F#4 h, G4 h", "F4 h, F4 h").bars)
    assert (second[0].sign, second[0].courtesy) == (0, True)
    assert second[1].sign is None
    assert first[0].courtesy is False


def test_a_signature_needs_no_sign_and_a_natural_against_it_does():
    assert signs("Bb4 q, B4 q, Bb4 h", key=-1) == [[None, 0, -1]]


def test_a_tie_carries_an_accidental_over_the_bar_line_for_its_note_alone():
    assert signs("r h, F#4 h ~", "~F#4 h, F#4 h") == [[None, 1], [None, 1]]


def test_what_alters_a_note_is_told():
    row = shown_accidentals([bar("Bb4 q, F#4 q, F#4 q, C4 q", key=-1)])[0]
    assert [event.altered_by for event in row] == [
        AlteredBy.SIGNATURE, AlteredBy.ACCIDENTAL, AlteredBy.EARLIER, AlteredBy.NOTHING,
    ]  # fmt: skip


notes = st.lists(
    st.tuples(st.sampled_from(STEPS), st.sampled_from(["bb", "b", "", "#", "##"]), st.integers(4, 5)),
    min_size=1,
    max_size=12,
)


@given(st.lists(notes, min_size=1, max_size=3), st.integers(-7, 7))
def test_a_reader_who_follows_the_signs_reads_every_note_as_written(rows, fifths):
    """The opposite of the writer: a reader that knows only the signs, by music21's rules of the bar."""
    made = score(*[", ".join(f"{step}{alter}{octave} q" for step, alter, octave in row) for row in rows], key=fifths)
    for page_bar, row in zip(made.bars, shown_accidentals(made.bars), strict=True):
        in_force = {}
        for note, shown in zip(page_bar.notes, row, strict=True):
            line = note.pitch.staff_step
            if shown.sign is not None:
                in_force[line] = shown.sign
            assert in_force.get(line, page_bar.key.alter_of(note.pitch.step)) == note.pitch.alter


@given(notes, st.integers(-7, 7))
def test_signs_agree_with_music21(row, fifths):
    """music21 `makeAccidentals` as the reference library, on one bar within an octave: across octaves and bar lines it
    adds courtesy signs by habits of its own.
    """
    from music21 import key, note, stream

    page_bar = bar(", ".join(f"{step}{alter}4 q" for step, alter, _ in row), key=fifths)
    reference = stream.Measure([note.Note(n.pitch.name.replace("b", "-")) for n in page_bar.notes])
    reference.makeAccidentals(
        inPlace=True,
        useKeySignature=key.KeySignature(fifths),
        cautionaryPitchClass=False,
        cautionaryNotImmediateRepeat=False,
    )
    shown = [event.sign is not None for event in shown_accidentals([page_bar])[0]]
    assert shown == [bool(n.pitch.accidental and n.pitch.accidental.displayStatus) for n in reference.notes]
