"""With hindsight a pitch that changes at once was the pluck's own."""

from game.instrument.listening.heard import HeardNote
from game.instrument.listening.hindsight import with_hindsight


def note(number, started_s, pitch, *, slurred=False, sure=True):
    return HeardNote(
        number=number, started_s=started_s, pitch=pitch, level_db=-20.0, clarity=0.95, sure=sure, slurred=slurred
    )


def test_a_pitch_that_changes_as_soon_as_the_note_is_settled_was_a_mistake():
    """Told a twelfth and an octave low, then right: one note, from its pluck."""
    notes = (note(1, 1.0, 41.0, sure=False), note(2, 1.115, 60.1, slurred=True), note(3, 2.0, 62.0))
    assert with_hindsight(notes) == (note(1, 1.0, 60.1), note(3, 2.0, 62.0))


def test_a_slur_a_pluck_and_a_second_slur_stay_notes_of_their_own():
    slur = (note(1, 1.0, 60.0), note(2, 1.13, 62.0, slurred=True))
    plucks = (note(1, 1.0, 60.0), note(2, 1.08, 62.0))
    trill = (note(1, 1.0, 60.0), note(2, 1.2, 62.0, slurred=True), note(3, 1.28, 60.0, slurred=True))
    for notes in (slur, plucks, trill, ()):
        assert with_hindsight(notes) == notes
