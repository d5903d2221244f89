"""Which accidentals the page shows. The rules are common practice (trade)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.levels import LEVELS
from game.music.accidentals import AlteredBy, shown_accidentals
from game.music.pitch import STEPS
from game.tunes.library.library import open_entry, shipped_entries
from tests.lines.making import sample as lines
from tests.made import bar, score
from tests.music import page_by_music21
from tests.music.page_by_music21 import COURTESIES, printed_otherwise, unlike
from tests.sampling import how_many


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


def test_a_courtesy_sign_stands_also_after_an_alteration_that_only_a_tie_brought():
    """In the next bar, or later in the bar of the tie, once; as music21 has it."""
    assert signs("r h, F#4 h ~", "~F#4 w", "F4 w", "F4 w") == [[None, 1], [None], [0], [None]]
    assert signs("r h, F#4 h ~", "~F#4 w ~", "~F#4 h, F4 h", "F4 w") == [[None, 1], [None], [None, 0], [None]]
    assert signs("r h, F#4 h ~", "~F#4 h, F#4 h", "F#4 w") == [[None, 1], [None, 1], [1]]


def test_behind_a_new_signature_nothing_is_said_again_that_it_says_itself():
    """A natural that only took back a sharp of its own bar is forgotten; one against the old signature is not."""
    bars = [bar("C#5 h, C5 h"), bar("C#5 w", key=4)]
    assert [event.sign for event in shown_accidentals(bars)[1]] == [None]
    bars = [bar("C#5 w"), bar("C5 w", key=-1)]
    assert [event.sign for event in shown_accidentals(bars)[1]] == [0]


def test_what_alters_a_note_is_told():
    row = shown_accidentals([bar("Bb4 q, F#4 q, F#4 q, C4 q", key=-1)])[0]
    assert [event.altered_by for event in row] == [
        AlteredBy.SIGNATURE, AlteredBy.ACCIDENTAL, AlteredBy.EARLIER, AlteredBy.NOTHING,
    ]  # fmt: skip


def named(pages):
    """Of each notehead where we and music21 differ, the courtesy that explains it, "" for none."""
    return [found.courtesy for bars in pages for found in unlike(bars)]


def test_over_the_tunes_we_ship_signs_differ_from_music21_in_named_courtesies_alone():
    """`python -m tests.bench.accidentals` looks at more pages."""
    pages = [open_entry(entry).bars for entry in shipped_entries()]
    assert set(named(pages)) == set(COURTESIES)


@pytest.mark.parametrize("level", range(1, len(LEVELS) + 1))
def test_over_fresh_lines_signs_differ_from_music21_in_named_courtesies_alone(level):
    pages = [line.bars for _, _, line in lines(level)[:: how_many(1, by_default=7)]]
    assert set(named(pages)) <= set(COURTESIES)


def test_a_sign_that_is_missing_has_no_courtesy_for_a_name(monkeypatch):
    """The comparison sees what it is there to see."""
    monkeypatch.setattr(page_by_music21, "shown_accidentals", lambda _: shown_accidentals(score("F4 w").bars))
    assert named([score("F#4 w").bars]) == [""]


def test_in_the_tunes_we_ship_every_event_is_printed_as_long_as_it_lasts():
    bars = [bar for entry in shipped_entries() for bar in open_entry(entry).bars]
    assert [event for bar in bars for event in printed_otherwise(bar)] == []


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
