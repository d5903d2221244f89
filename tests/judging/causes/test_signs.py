"""The signature as the letters of a take show it, and the accidentals that hold in a bar."""

from game.judging.causes.signs import ANY_FIFTHS, fifths_showing, signature_of, signature_shares, signs_before
from game.judging.expected import ExpectedNote, expected_notes
from game.music.keys import MAX_FIFTHS, Key
from game.music.passage import whole_tune
from game.music.pitch import STEPS
from game.neck.neck_map import standard_map
from tests.made import bar, passage, score


def notes_of(*rows: str, key: int = 0) -> tuple[ExpectedNote, ...]:
    return expected_notes(passage(*rows, key=key).notes, standard_map())


def shown_by(expected: tuple[ExpectedNote, ...]) -> set[tuple[str, int]]:
    return {(asked.note.pitch.step, asked.note.signature) for asked in expected}


def test_a_letter_shows_exactly_the_signatures_that_treat_it_so():
    for step in STEPS:
        for alter in (-1, 0, 1):
            fewest, most = fifths_showing(step, alter)
            for fifths in range(-MAX_FIFTHS, MAX_FIFTHS + 1):
                assert (Key(fifths).alter_of(step) == alter) is (fewest <= fifths <= most)


def test_f_sharp_and_c_natural_are_one_sharp():
    expected = notes_of("F#4 q, C5 q, G4 h", key=1)
    assert signature_of(expected, shown_by(expected)).at(0) == (1, 1)


def test_without_a_note_any_signature_is_possible():
    assert signature_of((), ()).at(0) == ANY_FIFTHS


def test_a_change_of_signature_is_found_at_the_note_that_shows_it():
    bars = (
        bar("F#4 h, C5 h", number="1", key=1),
        bar("F4 h, B4 h", number="2", key=0),
        bar("Bb4 w", number="3", key=-2),
    )
    made = score("G4 w")
    changed = whole_tune(type(made)(title=made.title, reading=made.reading, bars=bars))
    expected = expected_notes(changed.notes, standard_map())
    signature = signature_of(expected, shown_by(expected))
    assert signature.at(0) == signature.at(1) == (1, 1)
    assert signature.at(2) == signature.at(3) == (0, 0)
    assert signature.at(4)[1] <= -1


def test_a_letter_no_note_shows_is_shared_among_the_signatures_that_fit():
    natural, sharp, flat = signature_shares((0, 1))[STEPS.index("F")]
    assert natural > sharp > 0
    assert flat == 0
    assert natural + sharp == 1


def test_an_accidental_holds_on_its_line_until_the_bar_line_and_is_remembered_one_bar():
    expected = notes_of("F#4 q, G4 q, F4 q, A4 q", "G4 h, A4 h", "G4 w")
    assert signs_before(expected, 1).in_force == {expected[0].note.pitch.staff_step: 1}
    assert signs_before(expected, 3).in_force == {expected[0].note.pitch.staff_step: 0}
    assert not signs_before(expected, 4).in_force
    assert signs_before(expected, 4).lapsed == {expected[0].note.pitch.staff_step: 0}
    assert not signs_before(expected, 6).lapsed
